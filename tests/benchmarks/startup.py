"""How long whole commands take, beside a typer + pydantic hello-world in the same run.

Two figures for each: wall time, and the processor time that the kernel charged to the process
(user + system). Where several people share a machine the second is the steadier one. Each round
runs every program once, and a ratio is the median over rounds of program / hello of that round,
so that a slow minute falls on both alike. Asserts nothing.

The program lies as pip lays it, beside what it was compiled to. The last row is a checkout that
keeps no bytecode (PYTHONDONTWRITEBYTECODE): it compiles its own modules at every start, while the
hello-world has only libraries, which pip has compiled.

Usage: python tests/benchmarks/startup.py [ROUNDS]
"""

import compileall
import os
import shutil
import statistics
import subprocess
import sys
import tempfile
import time
from collections.abc import Mapping
from pathlib import Path
from typing import NamedTuple

import boxlamp

HELLO = """
import typer
from pydantic import BaseModel

class Greeting(BaseModel):
    name: str

def hello(name: str) -> None:
    typer.echo(Greeting(name=name).model_dump_json())

typer.run(hello)
"""
BASE = "typer + pydantic hello"
WARMING = 3
"""Rounds that only fill the caches."""


class Cost(NamedTuple):
    """What one whole process cost, in seconds."""

    wall: float
    cpu: float


class Program(NamedTuple):
    """What is called, and in which environment."""

    words: list[str]
    env: Mapping[str, str]


def cost_of(program: Program) -> Cost:
    """Run one program to its end. It must end well: a failure is fast and means nothing."""
    silent = [(os.POSIX_SPAWN_OPEN, stream, os.devnull, os.O_RDWR, 0) for stream in (0, 1, 2)]
    begun = time.perf_counter()
    child = os.posix_spawn(program.words[0], program.words, program.env, file_actions=silent)
    _, status, usage = os.wait4(child, 0)
    wall = time.perf_counter() - begun
    code = os.waitstatus_to_exitcode(status)
    if code != 0:
        raise SystemExit(f"{' '.join(program.words)} ended with {code}")
    return Cost(wall, usage.ru_utime + usage.ru_stime)


def copied(folder: Path, *, compiled: bool) -> dict[str, str]:
    """An environment in which a copy of the program comes first."""
    shutil.copytree(
        Path(boxlamp.__file__).parent, folder / "boxlamp", ignore=shutil.ignore_patterns("*.pyc")
    )
    if compiled:
        compileall.compile_dir(folder, quiet=1)
    journal = str(folder.parent / "journal.db")
    own = {"PYTHONPATH": str(folder), "PYTHONDONTWRITEBYTECODE": "1", "BOXLAMP_JOURNAL": journal}
    return {**os.environ, **own}


def programs(folder: Path) -> dict[str, Program]:
    """The programs to time, with a litter opened for them."""
    hello = folder / "hello" / "hello.py"
    hello.parent.mkdir()
    hello.write_text(HELLO, encoding="utf-8")
    own, python = str(Path(sys.executable).with_name("boxlamp")), sys.executable
    env = copied(folder / "installed", compiled=True)
    bare = copied(folder / "source", compiled=False)
    for words in (["new", "--dam", "Ash", "--no-input"], ["log", "push weak"]):
        subprocess.run([own, *words], env=env, check=True, stdout=subprocess.DEVNULL)
    return {
        "bare interpreter": Program([python, "-c", "pass"], env),
        BASE: Program([python, str(hello), "Ash"], env),
        "boxlamp --version": Program([own, "--version"], env),
        "boxlamp log": Program([own, "log", "push", "weak"], env),
        "boxlamp check": Program([own, "check"], env),
        "boxlamp board": Program([own, "board"], env),
        "boxlamp log, no bytecode": Program([own, "log", "push", "weak"], bare),
    }


def measure(rounds: int = 20) -> dict[str, dict[str, float]]:
    """By program: ``wall_ms`` and ``cpu_ms`` (medians), and both as ratios to the hello-world."""
    seen: dict[str, list[Cost]] = {}
    with tempfile.TemporaryDirectory() as folder:
        known = programs(Path(folder))
        for turn in range(rounds + WARMING):
            for name, program in known.items():
                cost = cost_of(program)
                if turn >= WARMING:
                    seen.setdefault(name, []).append(cost)
    return {name: _figures(costs, seen[BASE]) for name, costs in seen.items()}


def _figures(costs: list[Cost], base: list[Cost]) -> dict[str, float]:
    pairs = list(zip(costs, base, strict=True))
    return {
        "wall_ms": round(statistics.median(cost.wall for cost in costs) * 1000, 1),
        "wall_ratio": round(statistics.median(own.wall / hello.wall for own, hello in pairs), 3),
        "cpu_ms": round(statistics.median(cost.cpu for cost in costs) * 1000, 1),
        "cpu_ratio": round(statistics.median(own.cpu / hello.cpu for own, hello in pairs), 3),
    }


def main(rounds: int) -> None:
    """Print the table."""
    sys.stdout.write(f"{'':<24}{'wall':>11}{'cpu':>11}{'wall':>9}{'cpu':>7} x hello\n")
    for program, found in measure(rounds).items():
        sys.stdout.write(
            f"{program:<24}{found['wall_ms']:8.1f} ms{found['cpu_ms']:8.1f} ms"
            f"{found['wall_ratio']:9.2f}{found['cpu_ratio']:7.2f}\n"
        )


if __name__ == "__main__":
    main(int(sys.argv[1]) if len(sys.argv) > 1 else 20)

"""How long whole commands take, beside a typer + pydantic hello-world in the same run.

Two figures for each: wall time, and the processor time that the kernel charged to the process
(user + system). Where several people share a machine the second is the steadier one. Each round
runs every program once, and a ratio is the median over rounds of program / hello of that round,
so that a slow minute falls on both alike. Asserts nothing.

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


def cost_of(words: list[str], env: Mapping[str, str]) -> Cost:
    """Run one program to its end. It must end well: a failure is fast and means nothing."""
    silent = [(os.POSIX_SPAWN_OPEN, stream, os.devnull, os.O_RDWR, 0) for stream in (0, 1, 2)]
    begun = time.perf_counter()
    child = os.posix_spawn(words[0], words, env, file_actions=silent)
    _, status, usage = os.wait4(child, 0)
    wall = time.perf_counter() - begun
    code = os.waitstatus_to_exitcode(status)
    if code != 0:
        raise SystemExit(f"{' '.join(words)} ended with {code}")
    return Cost(wall, usage.ru_utime + usage.ru_stime)


def installed(folder: Path) -> dict[str, str]:
    """An environment in which the program lies as pip lays it: beside what it was compiled to.

    A checkout whose owner keeps no bytecode would compile its own modules at every start, and
    the libraries', which pip has compiled, never.
    """
    copy = folder / "installed"
    shutil.copytree(Path(boxlamp.__file__).parent, copy / "boxlamp")
    compileall.compile_dir(copy, quiet=1)
    journal = str(folder / "journal.db")
    return {**os.environ, "PYTHONPATH": str(copy), "BOXLAMP_JOURNAL": journal}


def programs(folder: Path, env: Mapping[str, str]) -> dict[str, list[str]]:
    """The programs to time, with a litter opened for them."""
    hello = folder / "hello.py"
    hello.write_text(HELLO, encoding="utf-8")
    program = str(Path(sys.executable).with_name("boxlamp"))
    for words in (["new", "--dam", "Ash", "--no-input"], ["log", "push weak"]):
        subprocess.run([program, *words], env=env, check=True, stdout=subprocess.DEVNULL)
    return {
        "bare interpreter": [sys.executable, "-c", "pass"],
        BASE: [sys.executable, str(hello), "Ash"],
        "boxlamp --version": [program, "--version"],
        "boxlamp log": [program, "log", "push", "weak"],
        "boxlamp check": [program, "check"],
        "boxlamp board": [program, "board"],
    }


def measure(rounds: int = 20) -> dict[str, dict[str, float]]:
    """By program: ``wall_ms`` and ``cpu_ms`` (medians), and both as ratios to the hello-world."""
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        env = installed(folder)
        known, seen = programs(folder, env), dict[str, list[Cost]]()
        for turn in range(rounds + WARMING):
            for program, words in known.items():
                cost = cost_of(words, env)
                if turn >= WARMING:
                    seen.setdefault(program, []).append(cost)
    return {program: _figures(costs, seen[BASE]) for program, costs in seen.items()}


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

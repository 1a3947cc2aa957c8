"""How long a whole `boxlamp log` takes, beside a typer + pydantic hello-world in the same run.

Prints medians and their ratio; asserts nothing. Usage: python tests/benchmarks/startup.py [RUNS]
"""

import os
import statistics
import subprocess
import sys
import tempfile
import time
from pathlib import Path

HELLO = """
import typer
from pydantic import BaseModel

class Greeting(BaseModel):
    name: str

def hello(name: str) -> None:
    typer.echo(Greeting(name=name).model_dump_json())

typer.run(hello)
"""


def timed(words: list[str], env: dict[str, str]) -> float:
    """Seconds of wall time of one whole process."""
    begun = time.perf_counter()
    subprocess.run(words, env=env, check=True, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL)
    return time.perf_counter() - begun


def main(runs: int) -> None:
    """Interleave the programs, so that what else the machine does falls on all alike."""
    with tempfile.TemporaryDirectory() as folder:
        env = {**os.environ, "BOXLAMP_JOURNAL": str(Path(folder, "journal.db"))}
        hello = Path(folder, "hello.py")
        hello.write_text(HELLO, encoding="utf-8")
        boxlamp = str(Path(sys.executable).with_name("boxlamp"))
        subprocess.run([boxlamp, "new", "--dam", "Ash", "--no-input"], env=env, check=True,
                       stdout=subprocess.DEVNULL)  # fmt: skip
        programs = {
            "bare interpreter": [sys.executable, "-c", "pass"],
            "typer + pydantic hello": [sys.executable, str(hello), "Ash"],
            "boxlamp --version": [boxlamp, "--version"],
            "boxlamp log": [boxlamp, "log", "push", "weak"],
            "boxlamp check": [boxlamp, "check", "--at", "-1s"],
            "boxlamp board": [boxlamp, "board"],
        }
        times: dict[str, list[float]] = {name: [] for name in programs}
        for turn in range(runs + 3):
            for name, words in programs.items():
                seconds = timed(words, env)
                if turn >= 3:
                    times[name].append(seconds)
    base = statistics.median(times["typer + pydantic hello"])
    for name, seen in times.items():
        median = statistics.median(seen)
        sys.stdout.write(f"{name:<24}{median * 1000:8.1f} ms  {median / base:5.2f} x hello\n")


if __name__ == "__main__":
    main(int(sys.argv[1]) if len(sys.argv) > 1 else 20)

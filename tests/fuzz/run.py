"""Run the fuzzers for a time and say what they did: executions, coverage, crashes.

``tests/fuzz/run.py --minutes 60`` runs both at once, one process each, at low priority. What
breaks a promise is kept in the corpus folder and ends that fuzzer; the exit code is 1 then.
"""

import argparse
import os
import re
import signal
import subprocess
import sys
import time
from pathlib import Path
from tempfile import gettempdir
from typing import NamedTuple

HERE = Path(__file__).parent
sys.path.insert(0, str(HERE.parent))

from support import seeds  # noqa: E402 - a script sets its path before it imports

TARGETS = ("line", "import")
_STATE = re.compile(r"^#(\d+)\s+(?:\w+)\s+cov: (\d+) ft: (\d+)", re.MULTILINE)
_DONE = re.compile(r"Done (\d+) (?:runs )?in (\d+) second")
_EXECUTED = re.compile(r"stat::number_of_executed_units:\s+(\d+)")
_SLOWEST_SECONDS, _MOST_MEMORY_MB, _LONGEST_BYTES = 30, 2048, 4096


class Outcome(NamedTuple):
    """What one fuzzer did in its time."""

    target: str
    executions: int
    edges: int
    features: int
    minutes: float
    broken: tuple[Path, ...]

    def __str__(self) -> str:
        return (
            f"{self.target}: {self.executions:,} executions in {self.minutes:.1f} min, "
            f"{self.edges:,} edges and {self.features:,} features covered, "
            f"{len(self.broken)} promises broken"
        )


def start(target: str, place: Path, minutes: float) -> subprocess.Popen[bytes]:
    """One fuzzer, from the seeds and from whatever it found before."""
    given = place / f"seeds-{target}"
    if target == "line":
        lines = enumerate(seeds.typed_lines())
        seeds.lay_out(given, (bytes([n % 4]) + line.encode() for n, line in lines))
    else:
        seeds.lay_out(given, seeds.files())
    seeds.dictionary_file(place / "words.dict")
    found = place / f"corpus-{target}"
    found.mkdir(exist_ok=True)
    command = [
        sys.executable, str(HERE / f"fuzz_{target}.py"), str(found), str(given),
        f"-dict={place / 'words.dict'}", f"-max_total_time={round(minutes * 60)}",
        f"-timeout={_SLOWEST_SECONDS}", f"-rss_limit_mb={_MOST_MEMORY_MB}",
        f"-max_len={_LONGEST_BYTES}", f"-artifact_prefix={place / f'broken-{target}-'}",
        "-print_final_stats=1", "-reload=0",
    ]  # fmt: skip
    with (place / f"{target}.log").open("wb") as log:
        return subprocess.Popen(command, stdout=log, stderr=subprocess.STDOUT)


def outcome(target: str, place: Path, minutes: float, before: set[Path]) -> Outcome:
    """What a fuzzer's own log says, and what it left behind."""
    log = (place / f"{target}.log").read_text("utf-8", "replace")
    states = _STATE.findall(log)
    executed = _EXECUTED.findall(log) or _DONE.findall(log)[:1] or states[-1:]
    last = executed[-1] if executed else "0"
    broken = tuple(sorted(set(place.glob(f"broken-{target}-*")) - before))
    return Outcome(
        target,
        int(last if isinstance(last, str) else last[0]),
        max((int(edges) for _, edges, _ in states), default=0),
        max((int(features) for _, _, features in states), default=0),
        minutes,
        broken,
    )


def main(words: list[str]) -> int:
    """Run the targets at once; 0 when every promise held for the whole time."""
    options = argparse.ArgumentParser(description=__doc__)
    options.add_argument("--minutes", type=float, default=60)
    options.add_argument("--target", choices=TARGETS, action="append")
    options.add_argument("--corpus", type=Path, default=Path(gettempdir()) / "boxlamp-fuzz")
    wanted = options.parse_args(words)
    wanted.corpus.mkdir(parents=True, exist_ok=True)
    os.nice(15)
    before = set(wanted.corpus.glob("broken-*"))
    began = time.monotonic()
    running = {
        target: start(target, wanted.corpus, wanted.minutes) for target in wanted.target or TARGETS
    }
    signal.signal(signal.SIGTERM, lambda *_: sys.exit(143))
    try:
        failed, waiting = False, dict(running)
        while waiting:
            time.sleep(0.2)
            for target in [name for name, process in waiting.items() if process.poll() is not None]:
                process = waiting.pop(target)
                failed |= _told(target, process.returncode, began, before, wanted.corpus)
        return int(failed)
    finally:
        for process in running.values():
            process.kill()


def _told(target: str, code: int, began: float, before: set[Path], place: Path) -> bool:
    """Say what a fuzzer did that has ended; whether anything was wrong."""
    result = outcome(target, place, (time.monotonic() - began) / 60, before)
    sys.stdout.write(f"{result}\n")
    for path in result.broken:
        sys.stdout.write(f"  {path}: {path.read_bytes()[:200]!r}\n")
    if code and not result.broken:
        sys.stdout.write(f"  it ended with {code}; see {place / f'{target}.log'}\n")
    sys.stdout.flush()
    return bool(code or result.broken)


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))

"""Which lines and branches of the rooms that must not err no test of theirs has walked.

``tests/branches.py`` runs the tests of the rooms with branch coverage and prints, room by room,
how much of it they walk and every line or branch they miss. It fails below 100 %.
"""

import json
import os
import subprocess
import sys
import tempfile
from collections.abc import Iterator
from pathlib import Path
from typing import Any

from support.long_tests import LONG

TOP = Path(__file__).parents[1]
ROOMS = ("rules", "engine", "language", "protocol", "journal")
KILLS = ("tests/journal/test_journal_kill.py",)
"""Proofs with children of their own, whose steps nobody counts."""
TESTS = tuple(f"tests/{room}" for room in (*ROOMS, "model"))


def measured(data: Path) -> int:
    """Run the tests under coverage; the exit code is that of the tests."""
    rooms = ",".join(f"src/boxlamp/{room}" for room in ROOMS)
    command = [sys.executable, "-m", "coverage", "run", "--branch", f"--source={rooms}"]
    left_out = (f"--deselect={test}" for test in (*LONG, *KILLS))
    # The same examples each time: a branch that only luck walks is not promised to anybody.
    tests = ["-m", "pytest", "-q", "-n", "0", "--hypothesis-seed=1", *TESTS, *left_out]
    # The long form of a test walks no other branch than the short one.
    where = os.environ | {"COVERAGE_FILE": str(data), "BOXLAMP_TESTS": "short"}
    return subprocess.run([*command, *tests], cwd=TOP, env=where, check=False).returncode


def missed(name: str, file: dict[str, Any]) -> Iterator[str]:
    """Each line and branch of a file that no test has walked."""
    for line in file["missing_lines"]:
        yield f"  {name}:{line} was never run"
    for line, target in file["missing_branches"]:
        if line not in file["missing_lines"]:
            way = f"to line {target}" if target > 0 else "out of the function"
            yield f"  {name}:{line} never went {way}"


def told(room: str, files: dict[str, dict[str, Any]]) -> bool:
    """Print one room; says whether all of it was walked."""
    of_room = {name: file for name, file in files.items() if Path(name).parent.name == room}
    there, walked = (
        [sum(file["summary"][key] for file in of_room.values()) for key in keys]
        for keys in (("num_statements", "num_branches"), ("covered_lines", "covered_branches"))
    )
    sys.stdout.write(
        f"{room}: {100 * sum(walked) / sum(there):.2f} % of {there[0]} lines and "
        f"{there[1]} branches in {len(of_room)} files\n"
    )
    lines = [line for name, file in sorted(of_room.items()) for line in missed(name, file)]
    sys.stdout.writelines(f"{line}\n" for line in lines)
    return bool(of_room) and not lines


def main() -> int:
    """Measure, print, and say by the exit code whether every room is walked to the last branch."""
    with tempfile.TemporaryDirectory() as folder:
        data, report = Path(folder) / "data", Path(folder) / "report.json"
        if measured(data):
            return 1
        command = [sys.executable, "-m", "coverage", "json", f"--data-file={data}", "-q"]
        subprocess.run([*command, "-o", str(report)], cwd=TOP, check=True)
        files = json.loads(report.read_text(encoding="utf-8"))["files"]
    walked = [told(room, files) for room in ROOMS]
    return 0 if all(walked) else 1


if __name__ == "__main__":
    sys.exit(main())

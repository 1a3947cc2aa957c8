"""Run what is too long for every change: one line per proof, each with its figures.

``tests/nightly.py`` runs all of them; ``tests/nightly.py kills judge`` only those named.
"""

import os
import subprocess
import sys
from pathlib import Path

TOP = Path(__file__).parents[1]

_TESTS = ("-m", "pytest", "-q", "-n", "0", "-s")

PROOFS: dict[str, tuple[str, ...]] = {
    "judge": (*_TESTS, "tests/judge", "--ignore", "tests/judge/counts"),
    "counts": (*_TESTS, "tests/judge/counts"),
    "machines": (
        *_TESTS,
        "tests/journal/test_journal_machine.py", "tests/language/test_language_machine.py",
        "tests/engine/test_corrections_machine.py", "tests/attend/test_hearing_machine.py",
        "tests/attend/test_console_machine.py", "tests/attend/test_sitting_machine.py",
    ),
    "kills": (*_TESTS, "tests/journal/test_journal_kill.py"),
    "faults": (*_TESTS, "tests/faults"),
    "fuzz": ("tests/fuzz/run.py", "--minutes", "60"),
    "coverage": ("tests/branches.py",),
    "mutation": ("tests/mutation.py",),
    "benchmarks": ("tests/benchmarks/ratios.py",),
    "docs": (*_TESTS, "tests/docs"),
}  # fmt: skip
"""What each proof runs, in order."""


def main(names: list[str]) -> int:
    """Run the proofs named, or all; the exit code tells whether all of them hold."""
    unknown = [name for name in names if name not in PROOFS]
    if unknown:
        sys.stderr.write(f"No proof is called {unknown[0]}. There are: {', '.join(PROOFS)}\n")
        return 2
    failed = []
    environment = os.environ | {"BOXLAMP_TESTS": "nightly"}
    for name in names or PROOFS:
        sys.stdout.write(f"== {name}: {' '.join(PROOFS[name])}\n")
        sys.stdout.flush()
        command = [sys.executable, *PROOFS[name]]
        if subprocess.run(command, cwd=TOP, env=environment, check=False).returncode:
            failed.append(name)
    sys.stdout.write(f"Failed: {', '.join(failed)}\n" if failed else "Every proof holds.\n")
    return 1 if failed else 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))

"""Run what is too long for every change: one line per proof, each with its figures.

``tests/nightly.py`` runs all of them; ``tests/nightly.py kills judge`` only those named.
"""

import os
import subprocess
import sys
from pathlib import Path

TOP = Path(__file__).parents[1]

PROOFS: dict[str, tuple[str, ...]] = {
    "kills": ("-m", "pytest", "-q", "-n", "0", "-s", "tests/journal/test_journal_kill.py"),
    "docs": ("-m", "pytest", "-q", "-n", "0", "-s", "tests/docs"),
    "machines": (
        "-m", "pytest", "-q", "-n", "0", "-s",
        "tests/journal/test_journal_machine.py", "tests/language/test_language_machine.py",
        "tests/engine/test_corrections_machine.py", "tests/attend/test_hearing_machine.py",
        "tests/attend/test_console_machine.py", "tests/attend/test_sitting_machine.py",
    ),
    "faults": ("-m", "pytest", "-q", "-n", "0", "-s", "tests/faults"),
    "fuzz": ("tests/fuzz/run.py", "--minutes", "60"),
    "coverage": ("tests/branches.py",),
    "mutation": ("tests/mutation.py",),
    "judge": ("-m", "pytest", "-q", "-n", "0", "-s", "tests/judge"),
    "counts": ("-m", "pytest", "-q", "-n", "0", "-s", "tests/judge/counts"),
    "benchmarks": ("tests/benchmarks/ratios.py",),
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

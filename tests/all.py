"""Run every check in order: format, lint, types, tests. What CI runs and the README promises."""

import subprocess
import sys
from pathlib import Path

TOP = Path(__file__).parents[1]

CHECKS = (
    ("format", ("-m", "ruff", "format", "--check", ".")),
    ("lint", ("-m", "ruff", "check", ".")),
    ("types", ("-m", "mypy")),
    ("tests", ("-m", "pytest", "-q", "-n", "auto")),
)


def main() -> int:
    """Run all checks, even after one has failed; the exit code tells whether all passed."""
    failed = []
    for name, words in CHECKS:
        sys.stdout.write(f"== {name}: {' '.join(words)}\n")
        sys.stdout.flush()
        if subprocess.run([sys.executable, *words], cwd=TOP, check=False).returncode:
            failed.append(name)
    sys.stdout.write(f"Failed: {', '.join(failed)}\n" if failed else "All checks passed.\n")
    return 1 if failed else 0


if __name__ == "__main__":
    sys.exit(main())

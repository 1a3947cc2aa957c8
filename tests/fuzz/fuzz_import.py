"""Fuzz every reader of files: night logs, exported litters, mirrors, limits, protocols.

``python tests/fuzz/fuzz_import.py CORPUS [options]``; ``run.py`` does it for a given time.
"""

import sys
from pathlib import Path

import atheris

sys.path.insert(0, str(Path(__file__).parents[1]))

with atheris.instrument_imports(include=["boxlamp", "tomllib"]):
    from support.fuzzing import any_file

if __name__ == "__main__":
    atheris.Setup(sys.argv, any_file)
    atheris.Fuzz()

"""Fuzz the language: any text typed as one line, in one of several litters.

``python tests/fuzz/fuzz_line.py CORPUS [libFuzzer options]``; ``run.py`` does it for a given time.
"""

import sys
from pathlib import Path

import atheris

sys.path.insert(0, str(Path(__file__).parents[1]))

with atheris.instrument_imports(include=["boxlamp"]):
    from support.fuzzing import any_line

if __name__ == "__main__":
    atheris.Setup(sys.argv, any_line)
    atheris.Fuzz()

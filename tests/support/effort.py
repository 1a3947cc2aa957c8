"""How hard a test tries: a little on every change, much in the nightly run.

``BOXLAMP_TESTS=nightly`` asks for the long form; ``tests/nightly.py`` sets it.
"""

import os

NIGHTLY = os.environ.get("BOXLAMP_TESTS") == "nightly"


def effort(short: int, nightly: int) -> int:
    """How many examples, kills, writers or lines: ``short`` in CI, ``nightly`` in the long run."""
    return nightly if NIGHTLY else short

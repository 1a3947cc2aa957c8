"""The monitor: past-time formulas over signals, evaluated by the library ``rtamt``.

Dense time, offline. Formulas are written with ``not``, ``and``, ``or``, ``since``, ``once[a:b]``
and ``historically[a:b]``, bounds in seconds; what the library makes of them is pinned down in
``test_monitor.py``.
"""

import re
from collections.abc import Mapping
from functools import lru_cache
from typing import Any

from judge.signals import Signal, truth

_WORD = re.compile(r"[a-z_][a-z_0-9]*")
_OWN = frozenset({"not", "and", "or", "since", "once", "historically"})


@lru_cache(maxsize=4096)
def names_in(formula: str) -> tuple[str, ...]:
    """The signals a formula speaks of."""
    return tuple(sorted(set(_WORD.findall(formula)) - _OWN))


@lru_cache(maxsize=4096)
def _specification(formula: str) -> Any:  # noqa: ANN401 - the library has no types
    import rtamt

    specification = rtamt.StlDenseTimeOfflineSpecification()
    for name in (*names_in(formula), "it"):
        specification.declare_var(name, "float")
    specification.spec = f"it = {formula}"
    specification.parse()
    return specification


def evaluated(formula: str, signals: Mapping[str, Signal]) -> Signal:
    """Where a formula is true over these signals."""
    data = [[name, [list(point) for point in signals[name]]] for name in names_in(formula)]
    return truth(_specification(formula).evaluate(*data))

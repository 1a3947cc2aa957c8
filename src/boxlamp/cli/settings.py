"""Settings from the environment: one that cannot be used is named and left out, and no more."""

import os
from collections.abc import Iterator, MutableMapping

CLOCK, WEIGHT_UNIT = "BOXLAMP_CLOCK", "BOXLAMP_WEIGHT_UNIT"
TEMPERATURE_UNIT, PAGE = "BOXLAMP_TEMPERATURE_UNIT", "BOXLAMP_PAGE"

_CHOICES = {
    CLOCK: ("24h", "12h"),
    WEIGHT_UNIT: ("g", "oz"),
    TEMPERATURE_UNIT: ("C", "F"),
    PAGE: ("a4", "letter"),
}


def unusable(environment: MutableMapping[str, str] | None = None) -> Iterator[str]:
    """A sentence for each setting that is none of its choices; it is taken out on the way.

    A mistyped unit must not keep anybody from the console at night. On the command line it is
    still an error: whoever types it there sees the answer at once.
    """
    found = os.environ if environment is None else environment
    for name, choices in _CHOICES.items():
        value = found.get(name)
        if value and value.lower() not in {choice.lower() for choice in choices}:
            del found[name]
            yield f"{name}={value} is not used: it is {' or '.join(choices)}."

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

VARIABLES = {
    "BOXLAMP_JOURNAL": "The journal file to use instead of your own.",
    "BOXLAMP_BY": "Who is typing; kept with every line.",
    CLOCK: "24h or 12h: how times of day are told.",
    WEIGHT_UNIT: "g or oz: how weights are told; with oz the dam's in lb.",
    TEMPERATURE_UNIT: "C or F: how temperatures are told.",
    PAGE: "a4 or letter: the size of the paper.",
    "BOXLAMP_SOUND": "A command that attend runs beside the bell when an alert sounds.",
    "BOXLAMP_LEVEL": "Set for that command: watch, call or go.",
    "BOXLAMP_TRAINEE": "Whose drill results these are, where several people practise.",
    "BOXLAMP_TRAINING": "The file in which drill results are kept.",
    "COLUMNS": "How wide an answer may be, where it is not the terminal's own width.",
    "NO_COLOR": "Set to anything: no colour.",
    "TERM": "dumb: no colour and no moving cursor.",
    "TZ": "The time zone of a new litter, where no --zone is given.",
    "XDG_DATA_HOME": "The data folder, where it is not ~/.local/share.",
}
"""Every variable that the program heeds or sets. An option beats the variable of the same thing."""


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

"""Every word of the closed lists in words that need no explaining, and who is told them."""

from collections.abc import Mapping
from decimal import Decimal
from typing import NamedTuple

from boxlamp.model.levels import pup_subject
from boxlamp.model.seen import (
    BirthState,
    DamSign,
    MilestoneName,
    Presentation,
    PupSign,
    SignName,
    StepName,
)
from boxlamp.paper.reader import Reader

_KILO = 1000
_LENGTHS = ((86400, "d"), (3600, "h"), (60, "min"), (1, "s"))


class Listener(NamedTuple):
    """Who is told: in whose units, and what each pup is called."""

    reader: Reader
    names: Mapping[int, str]

    def pup(self, number: int) -> str:
        """``pup 3``, or the name it was given."""
        return self.names.get(number, pup_subject(number))

    def dam_weight(self, grams: Decimal) -> str:
        """Kilograms or pounds; under a kilogram the small unit, which drops nothing."""
        return self.reader.weight(grams) if grams < _KILO else self.reader.heavy(grams)


def length_words(seconds: int) -> str:
    """A length of time to the second: ``15 min``, ``1 h 30 min 5 s``; empty for none at all."""
    parts = list[str]()
    for size, unit in _LENGTHS:
        count, seconds = divmod(seconds, size)
        if count:
            parts.append(f"{count} {unit}")
    return " ".join(parts)


def listed(*parts: str) -> str:
    """The parts that say something, with commas between them."""
    return ", ".join(filter(None, parts))


SIGN_WORDS: dict[SignName, str] = {
    "restless": "restless",
    "nesting": "nesting",
    "panting": "panting",
    "shivering": "shivering",
    "digging": "digging",
    "off-food": "off her food",
    "vomited": "vomited",
}

DAM_WORDS: dict[DamSign, str] = {
    "ate": "ate",
    "drank": "drank",
    "refused-food": "refused food",
    "dull": "dull",
    "bright": "bright",
    "vomited": "vomited",
    "collapsed": "collapsed",
    "fits": "having fits",
    "rigid": "rigid",
    "cannot-stand": "cannot stand",
    "pale": "pale gums",
    "blue": "blue gums or tongue",
    "unresponsive": "does not respond",
    "trembling": "trembling",
    "stiff": "stiff",
    "staring": "staring",
    "unsteady": "unsteady on her feet",
    "face-rubbing": "rubbing her face",
    "bleeding": "bleeding",
    "udder-hot": "udder hot",
    "udder-hard": "udder hard",
    "udder-painful": "udder painful",
    "udder-purple": "udder purple",
    "udder-black": "udder black",
    "udder-well": "udder soft and well",
    "recovered": "recovered",
}

PUP_WORDS: dict[PupSign, str] = {
    "crying": "crying",
    "limp": "limp",
    "gasping": "gasping",
    "not-breathing": "not breathing",
    "blue": "blue",
    "pale": "pale",
    "cold": "cold",
    "bloated": "bloated",
    "diarrhoea": "diarrhoea",
    "not-suckling": "not suckling",
    "cleft-palate": "cleft palate",
    "navel": "navel red or swollen",
    "fits": "having fits",
    "weak": "weak",
    "laboured-breathing": "laboured breathing",
    "milk-at-nose": "milk at the nose",
    "dark-tips": "dark toes or tip of the tail",
    "no-anus": "no anus to be seen",
    "no-stool": "passes no stool",
    "sore-anus": "sore anus",
    "open-fontanelle": "open fontanelle",
    "sleeps-still": "does not twitch in its sleep",
    "swollen-eye": "swollen eye",
    "splayed-legs": "splayed legs",
    "well": "well",
}

STEP_WORDS: dict[StepName, str] = {
    "sac-open": "sac opened",
    "airway": "mouth and nose cleared",
    "breathing": "breathing",
    "cord": "cord seen to",
    "dried": "rubbed dry",
    "milk": "drank milk",
    "marked": "marked",
    "palate": "palate looked at",
    "teat": "put to the teat",
}

FINDING_WORDS: dict[tuple[StepName, str], str] = {
    ("cord", "tied"): "cord tied",
    ("cord", "bleeding"): "cord bleeding",
    ("cord", "stopped"): "cord has stopped bleeding",
    ("palate", "ok"): "palate whole",
    ("palate", "cleft"): "palate cleft",
}
"""A step with its finding, where the two make one phrase."""

MILESTONE_WORDS: dict[MilestoneName, str] = {
    "cord-off": "cord stump off",
    "eyes-open": "eyes open",
    "ears-open": "ears open",
    "walking": "walking",
    "toilet": "passes urine and stool without help",
    "weaned": "weaned",
    "wormed": "wormed",
    "vaccinated": "vaccinated",
    "chipped": "chipped",
    "left-home": "left home",
}

STATE_WORDS: dict[BirthState, str] = {"alive": "alive", "limp": "limp", "dead": "dead"}

PRESENTATION_WORDS: dict[Presentation, str] = {
    "head": "head first",
    "feet": "feet first",
    "rump": "rump first",
}

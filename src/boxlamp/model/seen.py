"""The closed lists of what can be seen in the dam and in a pup, in the trade's words."""

from typing import Literal

SignName = Literal["restless", "nesting", "panting", "shivering", "digging", "off-food", "vomited"]

Colour = Literal["clear", "green", "black", "red", "brown", "yellow", "pus", "unknown"]

Sex = Literal["dog", "bitch"]

BirthState = Literal["alive", "limp", "dead"]

Presentation = Literal["head", "feet", "rump"]

StepName = Literal[
    "sac-open", "airway", "breathing", "cord", "dried", "milk", "marked", "palate", "teat"
]

PupSign = Literal[
    "crying", "limp", "gasping", "not-breathing", "blue", "pale", "cold", "bloated", "diarrhoea",
    "not-suckling", "cleft-palate", "navel", "fits", "weak", "laboured-breathing",
    "milk-at-nose", "dark-tips", "no-anus", "no-stool", "sore-anus", "open-fontanelle",
    "sleeps-still", "swollen-eye", "splayed-legs", "well",
]  # fmt: skip

DamSign = Literal[
    "ate", "drank", "refused-food", "dull", "bright", "vomited", "collapsed", "fits", "rigid",
    "cannot-stand", "pale", "blue", "unresponsive", "trembling", "stiff", "staring", "unsteady",
    "face-rubbing", "bleeding", "udder-hot", "udder-hard", "udder-painful", "udder-purple",
    "udder-black", "udder-well", "recovered",
]  # fmt: skip

MilestoneName = Literal[
    "cord-off", "eyes-open", "ears-open", "walking", "toilet", "weaned", "wormed", "vaccinated",
    "chipped", "left-home",
]  # fmt: skip

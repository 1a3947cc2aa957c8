"""What people do first by mistake, for each rule with a first step of its own.

Every one is something that is done at a box, and none of it can be defended as the first step
here. The sentences are ours; that each is a mistake follows from the rule's own page.
"""

_FINGER = "Feel inside with a finger for the next pup."
_PRESS = "Press on her belly to bring the next pup down."
_TO_BED = "Let her sleep, and look in again in an hour."
_SWING = "Swing it head down to shake the water out."
_LAMP = "Lay it under the lamp and let it come round."
_TEAT = "Hold it to a teat, so that it gets strength."
_CORD = "Pull gently at the cord that hangs out."
_REACH = "Reach inside with a finger to find it."
_EATEN = "Write down that she has eaten it: she nearly always does."
_AFTERBIRTH = (_CORD, _REACH, _EATEN)
_LABOUR = (_FINGER, _PRESS, _TO_BED)

MISTAKES: dict[str, tuple[str, str, str]] = {
    "waters-no-pup": (_PRESS, "Walk her until she begins to push.", _TO_BED),
    "sac-no-pup": (
        "Pull gently at the sac each time she pushes.",
        "Push the sac back in and let her rest.",
        "Cover her and look again in an hour.",
    ),
    "contraction-no-pup": _LABOUR,
    "rest-no-pup": _LABOUR,
    "weak-contraction-no-pup": (
        "Wait until the pushes are strong before you count them.",
        _FINGER,
        _TO_BED,
    ),
    "weak-rest-no-pup": _LABOUR,
    "gap-more-expected": _LABOUR,
    "gap-count-unknown": _LABOUR,
    "second-stage-long": (_PRESS, "Give her a full meal, for strength.", _TO_BED),
    "bleeding": (
        "Wash her with warm water until it stops.",
        "Wipe her clean and look again in an hour.",
        "Press a towel into the vulva and hold it there.",
    ),
    "afterbirth-owed": _AFTERBIRTH,
    "afterbirths-behind": _AFTERBIRTH,
    "afterbirth-missing-at-end": _AFTERBIRTH,
    "dam-hot": (
        "Take it again in the morning.",
        "Write it down as the work of labour, and think no more of it.",
        "Close the windows and turn the lamp up, for the pups' sake.",
    ),
    "sac-on-pup": (
        "Give her a minute: she will lick it off.",
        "Tie and cut the cord, then open the sac.",
        "Rub the pup dry through the sac.",
    ),
    "not-breathing": (_SWING, _TEAT, _LAMP),
    "viability": (_SWING, _TEAT, _LAMP),
    "cord-bleeding": (
        "Wipe it and look again in ten minutes.",
        "Cut the cord shorter and let it dry.",
        "Lay the pup under the lamp: warmth stops it.",
    ),
    "first-milk": (
        "Give it sugar and water first.",
        "Let it sleep: a hungry pup finds a teat.",
        "Weigh it again in two hours, then decide.",
    ),
    "pup-cold": (
        "Feed it first: warmth comes with the milk.",
        "Lay it on a hot pad, to get it warm quickly.",
        "Bathe it in hot water, then rub it dry.",
    ),
    "pup-hot": (
        "Lay a cold wet cloth round it.",
        "Hold it to a teat: milk cools it.",
        "Leave it where it is and measure again in an hour.",
    ),
    "nursing-gap": (
        "Feed it at once, cold or warm.",
        "Wait: a pup that sleeps is not hungry.",
        "Give it water from a spoon.",
    ),
    "pup-sign": (
        "Feed it with a bottle first.",
        "Turn the lamp up, and look again in the morning.",
        "Rock it in your arms until it is quiet.",
    ),
    "box-cold": (
        "Warm the whole box alike, from end to end.",
        "Cover the box tightly with a blanket.",
        "Put a second lamp close over the pups.",
    ),
    "box-hot": (
        "Switch everything off and open the window.",
        "Take all the pups out of the box.",
        "Set a bowl of cold water in the box.",
    ),
}

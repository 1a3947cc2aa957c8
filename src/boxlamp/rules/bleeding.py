"""Fresh red blood.

What it watches: red discharge. Streaks are ordinary and start nothing. "Some" is watched at
once, and is a call when it is still there ten minutes later. Heavy, or with clots, or the dam
written down as bleeding, is a go at once. It ends with the next discharge that is none, a
streak, brown or clear, or when she is written down as bright or recovered. Green, black, yellow,
pus or no colour is another worry: it does not say that the blood has gone. It is armed at all
times, also after a caesarean.

Why it matters: a little blood belongs to a birth. Blood that drips, runs or clots may come from
a tear or from a womb that does not close, and she can lose too much of it quietly.

What to do: put a clean white cloth under her and look again in a few minutes. Look at her gums:
pale is an emergency of its own.

Example:
    04:00 discharge red some
    #= 04:00 watch bleeding
    #= 04:10 call bleeding
    04:15 discharge red heavy
    #= 04:15 go bleeding
    04:30 discharge red streak
    #= 04:30 cleared bleeding
"""

from collections.abc import Iterator
from typing import Literal

from boxlamp.model.entry import Entry
from boxlamp.model.happenings import DamState, Discharge
from boxlamp.model.levels import Level
from boxlamp.model.story import Story
from boxlamp.rules.rule import Rule
from boxlamp.rules.spell import Spell, Stopwatch, Yardstick

ID = "bleeding"
_Flow = Literal["some", "heavy", "over"]


def watch(story: Story, _yardstick: Yardstick) -> Iterator[Spell]:
    """One clock for some blood and one for much; both end together."""
    some, heavy = Stopwatch(ID, clock="some"), Stopwatch(ID, clock="heavy")
    for entry in story.of(Discharge, DamState):
        match _flow(entry):
            case "some":
                some.open(entry)
            case "heavy":
                heavy.open(entry)
            case "over":
                some.close(entry)
                heavy.close(entry)
            case None:  # pragma: no branch - there is no fifth answer
                pass
    yield from some.finish()
    yield from heavy.finish()


def _flow(entry: Entry) -> _Flow | None:
    """What an entry says of fresh blood; None when it says nothing of it."""
    match entry.what:
        case DamState(signs=signs) if "bleeding" in signs:
            return "heavy"
        case DamState(signs=signs) if {"bright", "recovered"} & set(signs):
            return "over"
        case Discharge() as seen:
            return _flow_of(seen)
        case _:
            return None


def _flow_of(seen: Discharge) -> _Flow | None:
    match seen:
        case Discharge(amount="none" | "streak"):
            return "over"
        case Discharge(colour="red", amount="some"):
            return "some"
        case Discharge(colour="red") | Discharge(colour="unknown", amount="clots"):
            return "heavy"
        case Discharge(colour="unknown" | "green" | "black" | "yellow" | "pus"):
            return None  # another worry; nobody has said that the blood has gone
        case _:
            return "over"


RULE = Rule(
    id=ID,
    group="labour",
    title="Fresh blood",
    watch=watch,
    says={
        "some": "She has been losing fresh blood {lasting}.",
        "heavy": "She is bleeding heavily, first written down {ago}.",
    },
    do={
        Level.WATCH: (
            "Put a clean white cloth under her and look again in five minutes.",
            "Look at her gums: pale gums mean leave for the vet now.",
        ),
        Level.CALL: (
            "Ring the vet now. Say how much blood, since when, and the colour of her gums.",
        ),
        Level.GO: (
            "Leave for the vet now and ring on the way.",
            "Keep her lying still and warm in the car.",
        ),
    },
    page=__doc__,
    minutes=frozenset({"heavy"}),
)

"""A pup is limp or does not breathe as it should.

What it watches: the time since a pup was born limp, or was written down as limp, not breathing,
gasping or blue in its first hour, until `breathing`, `crying` or `well` is written down for it,
or its death. The newest line says how it is; one that was blue is blue until then. In an older
pup `not breathing` alone begins it: a limp, gasping or blue one is ill, and `pup-sign` asks for
the vet at once. A pup that breathes after it was written down as dead was limp or not breathing
until then. One clock per pup: the next birth stops nothing.

Why it matters: a newborn pup has little oxygen in reserve. Rubbing and a clear airway start most
of them; one that does not breathe within the first minute needs more help than that.

What to do: in this order, clear the mouth, then the nose, head low. Rub hard with a dry towel.
Keep it warm all the while: a chilled pup does not answer. Do not swing it; that can damage its
brain. If you have been taught to breathe for a pup, small breaths only, just enough to lift the
chest: big breaths harm the lungs. Ring the vet while your hands go on; if you are alone, help
the pup first. When to stop is the vet's decision.

Example:
    02:00 pup limp
    #= 02:00 watch not-breathing pup 1
    #= 02:01 call not-breathing pup 1
    02:04 breathing 1
    #= 02:04 cleared not-breathing pup 1
"""

from collections.abc import Iterator
from datetime import datetime

from boxlamp.model.entry import Entry
from boxlamp.model.happenings import Birth, Death, PupState, Step
from boxlamp.model.levels import Level
from boxlamp.model.story import Story
from boxlamp.rules.per_pup import PerPup
from boxlamp.rules.rule import Rule
from boxlamp.rules.spell import Spell, Yardstick, span

ID = "not-breathing"

_BLUE = "blue"
_TROUBLE = {
    "not-breathing": "not breathing",
    "gasping": "gasping",
    "blue": _BLUE,
    "limp": "limp",
}


def watch(story: Story, yardstick: Yardstick) -> Iterator[Spell]:
    """For each pup in trouble, until it breathes."""
    clocks, born = PerPup(ID), dict[int, datetime]()
    for entry in story.of(Birth, Step, PupState, Death):
        match entry.what:
            case Birth(pup=pup, state=state):
                born[pup] = entry.at
                if state == "limp":
                    clocks.of(pup).open(entry, detail=limp_words(entry))
            case PupState(pup=pup, signs=signs):
                trouble = [words for sign, words in _TROUBLE.items() if sign in signs]
                if trouble and _BLUE in clocks.of(pup).detail.split() and _BLUE not in trouble:
                    trouble.append(_BLUE)  # its colour does not change before it breathes
                newborn = is_newborn(entry.at, born.get(pup), yardstick)
                if trouble and (newborn or "not-breathing" in signs or clocks.of(pup).running):
                    clocks.of(pup).retell(entry, " and ".join(trouble))
                elif {"well", "crying"} & set(signs):
                    clocks.of(pup).close(entry)
            case Step(pup=pup, step="breathing") | Death(pup=pup):
                clocks.of(pup).close(entry)
            case _:
                pass
    return clocks.finish()


def limp_words(birth: Entry) -> str:
    """What a pup born limp is called. `pup not breathing` is kept as one too, and is told so."""
    return "limp or not breathing" if "breath" in birth.text.casefold() else "limp"


def is_newborn(at: datetime, born: datetime | None, yardstick: Yardstick) -> bool:
    """Whether a pup is so young that it may not have begun to breathe."""
    return born is None or at - born < span(yardstick, ID, "newborn-for")


_BY_HAND = (
    "Head low: clear the mouth, then the nose. Rub hard with a dry towel. Keep it warm.",
    "Do not swing it. No big breaths.",
)

RULE = Rule(
    id=ID,
    group="each pup",
    title="Pup not breathing",
    watch=watch,
    says={"": "Help {subject} breathe now: {detail}, {lasting}."},
    do={
        Level.WATCH: _BY_HAND,
        Level.CALL: (
            _BY_HAND[0],
            "Ring the vet now, on loudspeaker, while your hands go on.",
            _BY_HAND[1],
        ),
        Level.GO: (
            "Keep rubbing, airway clear, warm: somebody else must drive or ring.",
            "Leave for the vet now and ring on the way. If you are alone, ring and do as told.",
            _BY_HAND[1],
        ),
    },
    page=__doc__,
    urgency="seconds",
    never_relaxed=True,
)

"""A pup is still in its sac.

What it watches: the time since a pup was born in the sac, until `sac-open` is written down for
it. A cleared airway, a breath, `crying` or `well` shows as much that the sac is off. One clock
per pup.

Why it matters: a pup cannot breathe in the sac. The dam usually tears it at once; when she does
not, a person must.

What to do: tear the sac at the face with your fingers and peel it back. Wipe the mouth, then the
nose. Rub the pup dry and keep it warm. Do not swing it.

Example:
    02:00:00 pup in sac
    #= 02:00:30 watch sac-on-pup pup 1
    #= 02:01:00 call sac-on-pup pup 1
    02:01:10 sac-open 1
    #= 02:01:10 cleared sac-on-pup pup 1
"""

from collections.abc import Iterator

from boxlamp.model.happenings import Birth, Death, PupState, Step
from boxlamp.model.levels import Level
from boxlamp.model.story import Story
from boxlamp.rules.per_pup import PerPup
from boxlamp.rules.rule import Rule
from boxlamp.rules.spell import Spell, Yardstick

ID = "sac-on-pup"


def watch(story: Story, _yardstick: Yardstick) -> Iterator[Spell]:
    """For each pup born in the sac, until it is open."""
    clocks = PerPup(ID)
    for entry in story.of(Birth, Step, PupState, Death):
        match entry.what:
            case Birth(pup=pup, in_sac=True, state=state) if state != "dead":
                clocks.of(pup).open(entry)
            case Step(pup=pup, step="sac-open" | "airway" | "breathing") | Death(pup=pup):
                clocks.of(pup).close(entry)
            case PupState(pup=pup, signs=signs) if {"well", "crying"} & set(signs):
                clocks.of(pup).close(entry)
            case _:
                pass
    return clocks.finish()


_BY_HAND = (
    "Tear the sac at the face and peel it back. Wipe the mouth, then the nose.",
    "Rub the pup dry and keep it warm. Do not swing it.",
)

RULE = Rule(
    id=ID,
    group="each pup",
    title="Pup still in its sac",
    watch=watch,
    says={"": "Open the sac now: {subject} has been in it {lasting}."},
    do={
        Level.WATCH: _BY_HAND,
        Level.CALL: (
            _BY_HAND[0],
            "Ring the vet now, on loudspeaker, and go on rubbing while you talk.",
            _BY_HAND[1],
        ),
    },
    page=__doc__,
    urgency="seconds",
    running="Pup in its sac",
)

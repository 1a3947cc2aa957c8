"""The dam's temperature is low after whelping.

What it watches: each rectal temperature of the dam once the whelping is finished, or some hours
after the last birth or the caesarean with no push, waters, sac or part of a pup since; after a
caesarean these count no more. A low reading opens the alert and the next one that is not low ends
it. It is a go at once while a low reading stands and she is also dull, cannot stand or has
collapsed. Before and during labour a low reading is ordinary and belongs to other rules.

Why it matters: her temperature falls before labour, but after it it should not. A dam that grows
cold may be losing blood where nobody sees it, or be very ill, and look merely tired.

What to do: take it again, deeper, to be sure of the reading. Look at her gums. Warm her gently.

Example:
    02:00 pup
    02:30 finished
    05:00 temp 36.9
    #= 05:00 call dam-cold
    05:20 dam dull
    #= 05:20 go dam-cold
    06:30 dam bright
    #= 06:30 call dam-cold
    06:40 temp 37.9
    #= 06:40 cleared dam-cold
"""

from collections.abc import Iterator

from boxlamp.model.happenings import DamState, Temperature
from boxlamp.model.levels import Level
from boxlamp.model.quantities import plain
from boxlamp.model.story import Story
from boxlamp.rules import after
from boxlamp.rules.after import After
from boxlamp.rules.rule import Rule
from boxlamp.rules.signs import Signs, follow
from boxlamp.rules.spell import Band, Spell, Stopwatch, Yardstick, span

ID = "dam-cold"
_WEAK = {
    "collapsed": "she has collapsed",
    "cannot-stand": "she cannot stand",
    "dull": "she is dull",
}


def watch(story: Story, yardstick: Yardstick) -> Iterator[Spell]:
    """Low temperatures of the dam after the whelping, and weakness while one stands."""
    whelping = After(span(yardstick, ID, "calm"))
    band, weak, signs = Band(ID, yardstick), Stopwatch(ID, clock="weak"), Signs(_WEAK)
    low: tuple[int, ...] = ()
    for entry in story.of(*after.KINDS, Temperature, DamState):
        whelping.take(entry)
        if isinstance(entry.what, after.KINDS):
            continue
        signs.take(entry)
        match entry.what:
            case Temperature(where="dam", celsius=value) if (
                band.running or whelping.age(entry.at) is not None
            ):
                band.read(entry, "main", value, f"{plain(value)} °C")
                low = (entry.id,)
            case _:
                pass
        follow(weak, entry, signs.said if band.running else "", (*low, *signs.entries))
    yield from band.finish()
    yield from weak.finish()


RULE = Rule(
    id=ID,
    group="the dam",
    title="Dam's temperature low",
    watch=watch,
    says={"": "Her temperature is {detail}.", "weak": "Her temperature is low and {detail}."},
    do={
        Level.WATCH: (
            "Take it again in 15 minutes. Cover her and keep her out of draughts.",
            "Look at her gums: pale gums mean leave for the vet now.",
        ),
        Level.CALL: (
            "Ring the vet now. Give the reading, the time and the colour of her gums.",
            "Cover her and keep her warm while you wait.",
        ),
        Level.GO: (
            "Leave for the vet now and ring on the way.",
            "Wrap her warm. Bring the pups, warm, in their own box.",
        ),
    },
    page=__doc__,
)

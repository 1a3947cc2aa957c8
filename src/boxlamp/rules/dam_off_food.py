"""The dam refuses food after whelping.

What it watches: the time since `dam off food` was first written down after the whelping, until
`dam ate` or she has `recovered`, or another birth or a caesarean. The whelping is over once
`finished` is typed, or some hours after the last birth or the caesarean with no push, waters, sac
or part of a pup since; after a caesarean these count no more. To refuse food in labour is ordinary
and starts nothing.

Why it matters: a dam with pups at her needs more food every day. When she will not eat, milk and
strength go, and a womb, an udder or low calcium may be behind it before a fever shows.

What to do: offer fresh water and a small warm meal at the box. Take her temperature, look at her
discharge and feel every gland of her udder.

Example:
    02:00 pup
    02:30 finished
    08:00 dam off food
    #= 2026-03-03 08:00 watch dam-off-food
    2026-03-03 09:30 dam ate
    #= 2026-03-03 09:30 cleared dam-off-food
"""

from collections.abc import Iterator

from boxlamp.model.happenings import Birth, Caesarean, DamState
from boxlamp.model.levels import Level
from boxlamp.model.story import Story
from boxlamp.rules import after
from boxlamp.rules.after import After
from boxlamp.rules.rule import Rule
from boxlamp.rules.spell import Spell, Stopwatch, Yardstick, span

ID = "dam-off-food"
_OVER = frozenset({"ate", "recovered"})
"""What ends it. A dam can be bright and still not eat."""


def watch(story: Story, yardstick: Yardstick) -> Iterator[Spell]:
    """From food refused after the whelping until she eats."""
    clock = Stopwatch(ID)
    whelping = After(span(yardstick, ID, "calm"))
    for entry in story.of(*after.KINDS, DamState):
        whelping.take(entry)
        match entry.what:
            case Birth() | Caesarean():
                clock.close(entry)
            case DamState(signs=signs) if _OVER & set(signs):
                clock.close(entry)
            case DamState(signs=signs) if "refused-food" in signs:
                if whelping.age(entry.at) is not None:
                    clock.open(entry)
            case _:
                pass
    return clock.finish()


RULE = Rule(
    id=ID,
    group="the dam",
    title="Dam refuses food",
    watch=watch,
    says={"": "She has refused food {lasting}."},
    do={
        Level.WATCH: (
            "Offer fresh water and a small warm meal. If she has eaten, write `dam ate`.",
            "Take her temperature, look at her discharge, and feel every gland of her udder.",
        ),
        Level.CALL: (
            "Ring the vet now. Say since when, whether she drinks, and her temperature.",
            "Look at her udder and her discharge first, if it takes no time.",
        ),
    },
    page=__doc__,
    running="Off her food",
)

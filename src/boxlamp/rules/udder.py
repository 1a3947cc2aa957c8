"""A gland of the udder is hot, hard, painful or dark.

What it watches: what is written down of the udder. Hot, hard or painful is a call at once after
the whelping: once `finished` is typed, or some hours after the last birth or the caesarean with no
push, waters, sac or part of a pup since. After a caesarean these count no more. Before that a
gland full of first milk may be hard. Purple or black is a go at once, at any time. It ends with
`dam udder soft` or when she has `recovered`; to be bright is not enough.

Why it matters: a gland that is inflamed hurts, spoils its milk and can make her very ill within a
day. When it turns dark, its flesh is dying. Hungry or crying pups are often the first to tell.

What to do: ring the vet and say which gland. Take her temperature. Press a drop of milk from
every gland and look at it: bloody, thick or yellow milk belongs to what you tell.

Example:
    02:00 pup
    02:30 finished
    2026-03-08 07:00 dam gland hot
    #= 2026-03-08 07:00 call udder
    2026-03-08 15:00 dam purple gland
    #= 2026-03-08 15:00 go udder
    2026-03-11 09:00 dam udder soft
    #= 2026-03-11 09:00 cleared udder
"""

from collections.abc import Iterator

from boxlamp.model.happenings import DamState
from boxlamp.model.levels import Level
from boxlamp.model.story import Story
from boxlamp.rules import after
from boxlamp.rules.after import After
from boxlamp.rules.rule import Rule
from boxlamp.rules.signs import Signs, follow
from boxlamp.rules.spell import Spell, Stopwatch, Yardstick, span

ID = "udder"
_SORE = {"udder-hot": "hot", "udder-hard": "hard", "udder-painful": "painful"}
_DARK = {"udder-purple": "purple", "udder-black": "black"}
_SOFT = frozenset({"udder-well", "recovered"})


def watch(story: Story, yardstick: Yardstick) -> Iterator[Spell]:
    """One clock for what hurts and one for what is dark, until the udder is soft."""
    whelping = After(span(yardstick, ID, "calm"))
    sore, dark = Stopwatch(ID), Stopwatch(ID, clock="dark")
    clocks = (sore, Signs(_SORE, over=_SOFT)), (dark, Signs(_DARK, over=_SOFT))
    for entry in story.of(*after.KINDS, DamState):
        whelping.take(entry)
        if not isinstance(entry.what, DamState):
            continue
        ordinary = frozenset(() if whelping.age(entry.at) is not None else _SORE)
        for clock, signs in clocks:
            signs.take(entry, but=ordinary)
            follow(clock, entry, signs.said, signs.entries)
    yield from sore.finish()
    yield from dark.finish()


RULE = Rule(
    id=ID,
    group="the dam",
    title="Udder hot, hard or dark",
    watch=watch,
    says={"": "A gland of her udder is {detail}."},
    do={
        Level.CALL: (
            "Ring the vet now. Say which gland, how its milk looks, and her temperature.",
            "Ask whether the pups may go on drinking. See that every pup is fed.",
            "When it is soft and cool again, write `dam udder soft`.",
        ),
        Level.GO: (
            "Leave for the vet now and ring on the way.",
            "Bring the pups, warm, in their own box, and say how long they have not drunk.",
        ),
    },
    page=__doc__,
)

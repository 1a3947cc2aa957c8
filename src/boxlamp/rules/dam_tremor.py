"""The dam trembles, is stiff, stares or is unsteady after whelping.

What it watches: what is written down of the dam from the first birth, a caesarean or `finished`
until some weeks after the last pup. Stiff, staring or unsteady is a go at once. So is trembling
together with one of these or with rubbing her face, in one line or with the first still
standing. Trembling alone is ordinary while pups are coming and starts nothing; it counts once
the whelping is called finished, or half a day after the last birth or the caesarean with no push,
waters, sac or part of a pup since. After a caesarean these count no more. It ends when she is
`bright` or `recovered`, and with nothing else.

Why it matters: milk takes calcium from her blood. When too little is left the muscles cramp, and
from the first stiffness to fits can be an hour or two. She cannot be helped out of it at home.
Most such cases come in the weeks of most milk, some on the first day. This rule is never relaxed.

What to do: take the pups off her, drive, and ring on the way. Only the vet can tell what it is.
Keep her quiet and cool in the car.

Example:
    03:00 pup
    03:10 dam trembling
    03:30 finished
    2026-03-09 21:00 note restless, pants in her sleep
    2026-03-09 22:15 dam trembling stiff
    #= 2026-03-09 22:15 go dam-tremor
    2026-03-10 01:40 dam recovered
    #= 2026-03-10 01:40 cleared dam-tremor
"""

from collections.abc import Iterator
from collections.abc import Set as AbstractSet

from boxlamp.model.entry import Entry
from boxlamp.model.happenings import DamState
from boxlamp.model.levels import Level
from boxlamp.model.story import Story
from boxlamp.rules import after
from boxlamp.rules.after import After
from boxlamp.rules.rule import Rule
from boxlamp.rules.signs import WELL, Signs
from boxlamp.rules.spell import Spell, Stopwatch, Yardstick, span

ID = "dam-tremor"
_ALONE = frozenset({"stiff", "staring", "unsteady"})
_WORDS = {
    "stiff": "is stiff",
    "unsteady": "is unsteady",
    "staring": "stares",
    "trembling": "trembles",
    "face-rubbing": "rubs her face",
}


def watch(story: Story, yardstick: Yardstick) -> Iterator[Spell]:
    """From such a sign after the first birth until she is well again."""
    clock, signs = Stopwatch(ID), Signs(_WORDS)
    whelping = After(span(yardstick, ID, "calm"))
    until = span(yardstick, ID, "until")
    for entry in story.of(*after.KINDS, DamState):
        whelping.take(entry)
        if not isinstance(entry.what, DamState):
            continue
        shown = _WORDS.keys() & set(entry.what.signs)
        _show(signs, entry, shown)
        begun = whelping.zero is not None and entry.at - whelping.zero <= until
        if shown and (clock.running or (begun and _counts(entry, signs, whelping))):
            clock.retell(entry, signs.said)
        elif not shown and WELL & set(entry.what.signs):
            clock.close(entry)
    return clock.finish()


def _show(signs: Signs, entry: Entry, shown: AbstractSet[str]) -> None:
    """Let a line show signs or end them: a good word in one line with a sign ends nothing."""
    for sign in shown:
        signs.set(sign, entry, shown=True)
    if not shown:
        signs.take(entry)


def _counts(entry: Entry, signs: Signs, whelping: After) -> bool:
    """Whether what stands after this line is more than labour explains."""
    standing = signs.standing.keys()
    if "trembling" in standing and len(standing) > 1:
        return True
    if "trembling" in standing:
        return whelping.age(entry.at) is not None
    return bool(_ALONE & standing)


RULE = Rule(
    id=ID,
    group="the dam",
    title="Dam stiff or shaking",
    watch=watch,
    says={"": "She {detail}, first written down {ago}."},
    do={
        Level.GO: (
            "Leave for the vet now and ring on the way. Take the pups off her.",
            "Bring the pups, warm, in their own box.",
            "Keep her quiet and cool. Keep your fingers out of her mouth if she has a fit.",
        ),
    },
    page=__doc__,
    urgency="minutes",
    never_relaxed=True,
)

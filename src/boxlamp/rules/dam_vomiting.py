"""The dam vomits again and again, or vomits and is dull.

What it watches: each time she is written down as having vomited. The third time within some
hours is a call at once; so is vomiting while she is dull, or dullness within those hours of it.
It ends when she is `bright` or `recovered`; the first kind also when she has eaten.

Why it matters: once or twice belongs to labour, and afterbirths that she ate may come up again.
More than that dries her out, and together with dullness it can be a sign of infection.

What to do: take food away, leave her water in small amounts, and ring.

Example:
    02:00 dam vomited
    03:30 dam vomited
    05:00 dam vomited
    #= 05:00 call dam-vomiting
    09:00 dam ate
    #= 09:00 cleared dam-vomiting
"""

from collections.abc import Iterator

from boxlamp.model.entry import Entry
from boxlamp.model.happenings import DamState, Sign
from boxlamp.model.levels import Level
from boxlamp.model.story import Story
from boxlamp.rules.rule import Rule
from boxlamp.rules.signs import WELL, Signs
from boxlamp.rules.spell import Spell, Stopwatch, Yardstick, span

ID = "dam-vomiting"


def watch(story: Story, yardstick: Yardstick) -> Iterator[Spell]:
    """One clock for vomiting too often, and one for vomiting while dull."""
    often, both = Stopwatch(ID), Stopwatch(ID, clock="dull")
    within = span(yardstick, ID, "within")
    many = int(yardstick.number(ID, "how-many"))
    dull, times = Signs({"dull": "dull"}), list[Entry]()
    for entry in story.of(DamState, Sign):
        signs = set(entry.what.signs) if isinstance(entry.what, DamState | Sign) else set[str]()
        dull.take(entry)
        if "vomited" in signs:
            times.append(entry)
        elif (WELL | {"ate"}) & signs:
            often.close(entry)
            times.clear()
        if WELL & signs and not dull.standing:
            both.close(entry)
        times = recent = [one for one in times if entry.at - one.at <= within]
        if "vomited" in signs and len(recent) >= many:
            often.open(entry, also=tuple(one.id for one in recent[:-1]))
        if dull.standing and {"vomited", "dull"} & signs and recent:
            others = {recent[-1].id, *dull.entries} - {entry.id}
            both.open(entry, also=tuple(sorted(others)))
    yield from often.finish()
    yield from both.finish()


RULE = Rule(
    id=ID,
    group="the dam",
    title="Dam vomiting",
    watch=watch,
    says={
        "": "She has vomited again and again; it became too often {ago}.",
        "dull": "She has vomited and is dull, first written down {ago}.",
    },
    do={
        Level.CALL: (
            "Ring the vet now. Say how often she vomited, since when, and what came up.",
            "Take food away. Leave her water, a little at a time.",
        ),
    },
    page=__doc__,
)

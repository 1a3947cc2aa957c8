"""A pup has not doubled its birth weight.

What it watches: each pup's age, from its first weight until a weight is twice as much. Its birth
weight is counted, or a first weight of the first day; after a later one the rule is silent. A
newest weight of the first week cannot have told yet: then only a look on the scale is asked for,
and never the telephone. An older weight leaves the verdict to the next weighing, unless that does
not come; only a weight of these days makes it a call. A weight that is two weeks old says nothing
any more, and ends it too.

Why it matters: by what is published pups have doubled their birth weight at 7 to 10 days, some at
12, and hardly one later than 14.

What to do: weigh it today, and look through its weights for the day on which it fell behind.

Example:
    02:00 pup 400g
    2026-03-12 02:00 weigh 1 790g
    #= 2026-03-12 02:00 watch not-doubled pup 1
    2026-03-16 02:00 weigh 1 799g
    #= 2026-03-16 02:00 call not-doubled pup 1
    2026-03-17 08:00 weigh 1 801g
    #= 2026-03-17 08:00 cleared not-doubled pup 1
"""

from collections.abc import Iterator
from datetime import timedelta

from boxlamp.model.entry import Entry
from boxlamp.model.levels import Level, pup_subject
from boxlamp.model.quantities import plain
from boxlamp.model.spans import in_words
from boxlamp.model.story import Story
from boxlamp.rules.foreseen import Foreseen
from boxlamp.rules.rule import Rule
from boxlamp.rules.scale import KINDS, Scale, Scales, Weighing
from boxlamp.rules.spell import Spell, Yardstick, span

ID = "not-doubled"


def watch(story: Story, yardstick: Yardstick) -> Iterator[Spell]:
    """For each pup, from its first weight until it weighs twice as much."""
    scales, clocks = Scales(), Foreseen(ID)
    for entry in story.of(*KINDS):
        scale = scales.take(entry)
        if scale is not None:
            _weigh(entry, scale, clocks, yardstick)
        for left in scales.left(entry):
            clocks.cut(entry, subject=pup_subject(left.pup))
    return clocks.finish()


def _weigh(entry: Entry, scale: Scale, clocks: Foreseen, yardstick: Yardstick) -> None:
    """Let the clock go on from one weighing, or end with it."""
    first, last = scale.first, scale.last
    clocks.cut(entry, subject=pup_subject(scale.pup))
    if first is None or last is None or scale.late(span(yardstick, ID, "first-within")):
        return
    twice = first.grams * yardstick.number(ID, "times")
    if scale.heaviest >= twice:
        return
    age, at = scale.age(last.at), last.at
    # An older weight does not ring at night: the next one may have doubled.
    due = entry.at if age >= span(yardstick, ID, "judged-from") else at + _grace(yardstick, "watch")
    late = entry.at if age >= span(yardstick, ID, "late-from") else at + _grace(yardstick, "call")
    told = age >= span(yardstick, ID, "told-from")
    starts = {"main" if told else "not-weighed": due}
    if age >= span(yardstick, ID, "late-told-from"):
        starts["late"] = late
    for clock, start in starts.items():
        clocks.plan(
            entry,
            clock,
            since=scale.birth.at,
            start=start,
            end=at + span(yardstick, ID, "weight-holds"),
            subject=pup_subject(scale.pup),
            also=(first.entry.id,),
            detail=_detail(scale, first, last),
        )


def _grace(yardstick: Yardstick, level: str) -> timedelta:
    """How long a weight that is too old to tell leaves the verdict to the next one."""
    return span(yardstick, ID, f"next-weight {level}")


def _detail(scale: Scale, first: Weighing, last: Weighing) -> str:
    birth = f"{plain(first.grams)} g at birth"
    if last is first:
        return f"{birth}, and none since"
    return f"{plain(last.grams)} g at the age of {in_words(scale.age(last.at))}, {birth}"


RULE = Rule(
    id=ID,
    group="each pup",
    title="Birth weight not doubled",
    watch=watch,
    says={
        "": "Birth weight not doubled in {elapsed} by {subject}: {detail}.",
        "not-weighed": "Weigh {subject}: is its birth weight doubled? It is {elapsed} old, and its "
        "last weight is {detail}.",
    },
    do={
        Level.WATCH: (
            "Weigh it today, and see that it gets its share of milk.",
            "Look through its weights: did it stand still some days ago, or was it always slow?",
        ),
        Level.CALL: (
            "Ring the vet now. Say its age, its birth weight, and its newest weights.",
            "If its newest weight is not of today, weigh it first.",
        ),
    },
    page=__doc__,
    running="Birth weight to be doubled",
    on_board=False,
)

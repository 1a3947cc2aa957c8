"""Nothing has been written down for a while, and she is whelping.

What it watches: the time since the last entry of any kind while the pushing stage runs. Taking
notice of an alert, facts about the dam, changed limits and counts of pups do not count: they
say nothing of what she is doing.

Why it matters: every other clock knows only what was typed. A push that nobody wrote down
starts nothing, and a quiet log looks the same as a quiet dam.

What to do: look at her, and type what you see, even if it is only `rest` or a note. When she is
done, type `finished`.

Example:
    01:00 contraction weak
    01:05 pup
    #= 01:25 watch log-quiet
    01:30 rest
    #= 01:30 cleared log-quiet
"""

from bisect import bisect_left, bisect_right
from collections.abc import Iterator, Sequence
from itertools import zip_longest
from operator import attrgetter

from boxlamp.model.entry import Entry
from boxlamp.model.happenings import Ack, Details, Expect, Limit, Scan
from boxlamp.model.levels import DAM, Level
from boxlamp.model.story import Story
from boxlamp.rules.rule import Rule, spells_of
from boxlamp.rules.second_stage import second_stage
from boxlamp.rules.spell import Spell, Yardstick

ID = "log-quiet"
_SILENT = frozenset({Ack, Details, Limit, Expect, Scan})
_at, _typed = attrgetter("at"), attrgetter("recorded")


def watch(story: Story, yardstick: Yardstick) -> Iterator[Spell]:
    """From each entry to the next, as far as the second stage runs."""
    told = [entry for entry in story.entries if type(entry.what) not in _SILENT]
    late = sorted((entry for entry in told if entry.recorded > entry.at), key=_typed)
    for stage in spells_of(second_stage, story, yardstick):
        # Only what was told in the stage, and the last line before it.
        first = max(0, bisect_right(told, stage.start, key=_at) - 1)
        end = len(told) if stage.end is None else bisect_left(told, stage.end, key=_at)
        for entry, after in zip_longest(told[first:end], told[first + 1 : end + 1]):
            yield from _quiet(stage, entry, after, late)


def _quiet(
    stage: Spell, entry: Entry, after: Entry | None, late: Sequence[Entry]
) -> Iterator[Spell]:
    """The quiet between two entries, as far as it lies in the stage.

    ``late`` are the entries typed later than they happened, by when they were typed.
    """
    start, end, closed = max(entry.at, stage.start), stage.end, stage.closed
    if after is not None and (end is None or after.at < end):
        end, closed = after.at, (after.id,)
    if end is not None and end <= start:
        return
    # Somebody who has just typed what happened an hour ago is not silent.
    since = max(entry.at, entry.recorded)
    for place in range(bisect_right(late, since, key=_typed), len(late)):
        typed = late[place]
        if end is not None and typed.recorded >= end:
            break
        yield Spell(ID, DAM, "main", since, start, typed.recorded, (entry.id,), (typed.id,))
        entry, since, start = typed, typed.recorded, typed.recorded
    yield Spell(ID, DAM, "main", since, start, end, (entry.id,), closed)


RULE = Rule(
    id=ID,
    group="labour",
    title="Nothing written down lately",
    watch=watch,
    says={"": "Nothing has been written down {lasting}: what is she doing now?"},
    do={
        Level.WATCH: (
            "Look at her and type what you see: contraction, rest, pup, or a note.",
            "If she has finished, write down: finished.",
        ),
    },
    page=__doc__,
    urgency="records",
    on_board=False,
)

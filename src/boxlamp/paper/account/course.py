"""The course of one labour: what began its second stage, what ended it, and whether it goes on."""

from datetime import datetime, timedelta
from typing import NamedTuple

from boxlamp.model.entry import Entry
from boxlamp.model.happenings import (
    Birth,
    Caesarean,
    Contraction,
    Finished,
    Part,
    Rest,
    Sac,
    Waters,
)
from boxlamp.model.story import Story
from boxlamp.paper.account.matter import Matter
from boxlamp.protocol.book import Book
from boxlamp.rules import afterbirth_missing_at_end as missing
from boxlamp.rules import ending
from boxlamp.rules.ending import Ending
from boxlamp.rules.spell import span

FURTHER = (Waters, Sac, Part, Contraction, Birth)
"""What shows that labour has gone beyond its first signs."""

# So long after the last thing written down of it a stage is still said to go on (our choice).
# Later its end is one that nobody wrote down: it would be wrong to call it over, and as wrong
# to tell a vet in week eight that she is still whelping.
GOES_ON = timedelta(hours=24)


class Course(NamedTuple):
    """The second stage of one labour.

    ``began`` is its first entry and ``ended`` the one it ended with, each ``None`` when there is
    none. ``running`` says whether it goes on; with neither an end nor that, nobody wrote down
    how it ended.
    """

    began: Entry | None
    ended: Entry | None
    running: bool
    caesarean: Entry | None


def course_of(matter: Matter) -> Course:
    """The second stage as the record has it at the moment of the account.

    It begins with the first waters, sac, part, push or birth, unless a caesarean came first. A
    caesarean ends it. Otherwise it ended with the last birth once the whelping looks over: it
    was called finished, or the number counted on an x-ray or scan is born and she rests. A push,
    sac, part or gush of waters with no rest, birth or word of the end after it shows that it
    goes on, whatever was said or counted before.
    """
    verdict = matter.verdict
    story, at = verdict.story, verdict.at
    first = next(iter(story.of(*FURTHER, Caesarean)), None)
    caesarean = next(iter(story.of(Caesarean)), None)
    if first is None or isinstance(first.what, Caesarean):
        return Course(None, None, running=False, caesarean=caesarean)
    ended = caesarean or _ended(story, verdict.book, at)
    last = story.last(*FURTHER, Rest)
    running = ended is None and last is not None and at - last.at <= GOES_ON
    return Course(first, ended, running, caesarean)


def _ended(story: Story, book: Book, at: datetime) -> Entry | None:
    """The entry with which a labour without a caesarean ended, if it looks over."""
    newest = story.last(*FURTHER, Rest, Finished)
    if newest is None or not isinstance(newest.what, Birth | Rest | Finished):
        return None
    births = story.of(Birth)
    if not births:
        return story.last(Finished)
    return births[-1] if _looks_over(story, book, at) else None


def _looks_over(story: Story, book: Book, at: datetime) -> bool:
    """Whether the whelping looks over, in the sense of the rules about missing afterbirths."""
    state = Ending(span(book, missing.ID, "calm"))
    for entry in story.of(*ending.KINDS):
        state.pass_to(entry.at)
        state.take(entry)
    over = state.over or state.due
    return over is not None and over <= at

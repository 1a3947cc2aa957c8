"""The stages of labour, how long she pushed, and the longest wait between two births."""

from collections.abc import Iterator, Sequence
from datetime import datetime, timedelta
from itertools import pairwise
from typing import NamedTuple

from boxlamp.model.entry import Entry
from boxlamp.model.happenings import (
    Afterbirth,
    Birth,
    Caesarean,
    Contraction,
    Finished,
    Part,
    Rest,
    Sac,
    Settled,
    Sign,
    Waters,
)
from boxlamp.model.litter import Litter
from boxlamp.model.order import canonical
from boxlamp.model.story import Story
from boxlamp.paper.account.course import FURTHER, GOES_ON, Course, course_of
from boxlamp.paper.account.matter import Matter
from boxlamp.paper.account.models import Interval, Pushing, Stage
from boxlamp.paper.telling_words import SIGN_WORDS

_NONE = timedelta(0)


def stages_of(matter: Matter) -> tuple[Stage, ...]:
    """The stages as far as they were written down, in order.

    Signs that settled again are a first stage of their own that ended there, so there may be
    several; the last of them is the one that labour came of. When no sign was written down
    before labour, its first stage has an end and no start. After a caesarean before any labour
    there is no second stage. When she has whelped and no afterbirth was written down, the third
    stage has neither start nor end.
    """
    course = course_of(matter)
    story, at = matter.verdict.story, matter.verdict.at
    return (
        *_first(story, at),
        *_second(course, at),
        *_third(story, course, matter.verdict.litter, at),
    )


def _first(story: Story, at: datetime) -> Iterator[Stage]:
    """Every first stage; each ``settled`` ends one, and later signs begin another."""
    began: Entry | None = None
    for entry in story.of(Sign, Settled, *FURTHER, Caesarean, Finished):
        if isinstance(entry.what, Sign):
            began = began or entry
        elif isinstance(entry.what, Settled):
            if began is not None:
                yield _stage(1, at, began, entry)
            began = None
        else:
            if began is not None or isinstance(entry.what, FURTHER):
                yield _stage(1, at, began, entry)
            return
    if began is not None:
        yield _stage(1, at, began, None, running=True)


def _second(course: Course, at: datetime) -> Iterator[Stage]:
    if course.began is not None:
        yield _stage(2, at, course.began, course.ended, running=course.running)


def _third(story: Story, course: Course, litter: Litter, at: datetime) -> Iterator[Stage]:
    """From the first afterbirth that passed to the last, or to the caesarean.

    While pups may come, or one is owed that may still come, it goes on.
    """
    passed = list(_passed(story, course.caesarean))
    owed = litter.ledger.owed
    if not passed:
        if litter.born and not course.running and course.caesarean is None:
            yield Stage(number=3, start=None, end=None)
        return
    last = max(one.at for one in (*passed, *story.of(Birth)))
    waiting = course.running or bool(owed)
    running = waiting and course.caesarean is None and (course.running or at - last <= GOES_ON)
    end = course.caesarean or (None if waiting else passed[-1])
    stage = _stage(3, at, passed[0], end, running=running)
    told = {"starts_with": _whose(passed[0], litter)}
    if end is passed[-1]:
        told["ends_with"] = _whose(passed[-1], litter)
    yield stage.model_copy(update=told)


def _passed(story: Story, caesarean: Entry | None) -> Iterator[Entry]:
    """The afterbirths she passed herself, in order of time."""
    for entry in story.of(Afterbirth):
        before = caesarean is None or canonical(entry) < canonical(caesarean)
        if before and isinstance(entry.what, Afterbirth) and entry.what.fate != "not-seen":
            yield entry


def _stage(
    number: int, at: datetime, start: Entry | None, end: Entry | None, *, running: bool = False
) -> Stage:
    """A stage between two entries; so far, when it goes on; of no known length otherwise."""
    until = end.at if end is not None else at if running else None
    return Stage.model_validate(
        {
            "number": number,
            "start": None if start is None else start.at,
            "end": None if end is None else end.at,
            "length": None if start is None or until is None else until - start.at,
            "running": running,
            "start_estimated": start is not None and start.certainty != "seen",
            "end_estimated": end is not None and end.certainty != "seen",
            "starts_with": "" if start is None else _words(start),
            "ends_with": "" if end is None else _words(end),
        }
    )


_PARTS = {"unknown": "part of a pup showing", "feet": "feet showing"}


def _words(entry: Entry) -> str:
    """What an entry marks, in a few words that need no knowledge of the entry language."""
    match entry.what:
        case Sign(signs=signs):
            words = ", ".join(SIGN_WORDS[sign] for sign in signs)
        case Settled():
            words = "settled again"
        case Waters():
            words = "waters broke"
        case Sac():
            words = "sac at the vulva"
        case Part(part=part):
            words = _PARTS.get(part, f"{part} showing")
        case Contraction(strength=strength):
            words = "contraction" if strength == "unspecified" else f"{strength} contraction"
        case Birth(pup=pup):
            words = f"birth of pup {pup}"
        case Afterbirth():
            words = "afterbirth"
        case Caesarean():
            words = "caesarean"
        case _:
            words = "written down as finished"
    return words


def _whose(entry: Entry, litter: Litter) -> str:
    """``afterbirth of pup 3`` where it is known whose it was or counts as."""
    pups = [
        str(debt.pup)
        for debt in litter.ledger.debts.values()
        if debt.settled is not None and debt.settled.id == entry.id
    ]
    if not pups:
        return _words(entry)
    *most, last = pups
    many = f"afterbirths of pups {', '.join(most)} and {last}"
    return many if most else f"afterbirth of pup {last}"


class _Bout(NamedTuple):
    """One bout of pushing."""

    start: datetime
    end: datetime

    @property
    def length(self) -> timedelta:
        return self.end - self.start


def pushing_of(matter: Matter) -> Pushing | None:
    """How long she pushed, strongly and weakly; ``None`` when no push was written down.

    A strong bout runs from its first strong push to the rest, the birth or the caesarean that
    was written down next; weak pushes in between do not end it. When none of these came (the
    whelping was called finished, or the record ends there), it runs to its last strong push and
    no further, so that a lone push with nothing after it counts as no time at all. A push of
    no stated strength counts as strong, as it does for the alerts.

    A weak bout runs likewise, and a strong push ends it too: no minute counts twice, and the
    sum of both is the time she pushed. Rests are never counted, however short. There the
    clocks of the alerts differ: to them a rest under the protocol's ``short-rest`` is a pause
    in one spell, and they run on from the last push to the present moment. Pushes after a
    caesarean are no labour and are left out.

    Whether she pushed all the while between two lines is not known: this is the time in which,
    by what was written down, she was pushing.
    """
    strong: list[_Bout] = []
    weak: list[_Bout] = []
    pushes = [0, 0]
    for hard, soft, end in _turns(matter.verdict.story):
        pushes[0] += len(hard)
        pushes[1] += len(soft)
        if hard:
            strong.append(_Bout(hard[0], end or hard[-1]))
        weak += _weak_bouts(hard, soft, end)
    if not any(pushes):
        return None
    longest = max(strong, key=lambda bout: bout.length, default=None)
    return Pushing(
        strong=sum((bout.length for bout in strong), _NONE),
        weak=sum((bout.length for bout in weak), _NONE),
        strong_pushes=pushes[0],
        weak_pushes=pushes[1],
        of_no_strength=sum(_unsaid(matter.verdict.story)),
        longest_strong=None if longest is None else longest.length,
        longest_strong_from=None if longest is None else longest.start,
    )


def _unsaid(story: Story) -> Iterator[bool]:
    """For every push before a caesarean, whether nobody said how strong it was."""
    for entry in story.of(Contraction, Caesarean):
        if isinstance(entry.what, Caesarean):
            return
        yield isinstance(entry.what, Contraction) and entry.what.strength == "unspecified"


class _Turn(NamedTuple):
    """The pushes between two ends of pushing: strong, weak, and when they are known to end."""

    hard: list[datetime]
    soft: list[datetime]
    end: datetime | None


def _turns(story: Story) -> Iterator[_Turn]:
    hard, soft = list[datetime](), list[datetime]()
    for entry in story.of(Contraction, Rest, Birth, Caesarean, Finished):
        match entry.what:
            case Contraction(strength="weak"):
                soft.append(entry.at)
            case Contraction():
                hard.append(entry.at)
            case what:
                yield _Turn(hard, soft, None if isinstance(what, Finished) else entry.at)
                hard, soft = [], []
                if isinstance(what, Caesarean):
                    return
    yield _Turn(hard, soft, None)


def _weak_bouts(
    hard: Sequence[datetime], soft: Sequence[datetime], end: datetime | None
) -> Iterator[_Bout]:
    """The weak bouts of one turn, outside its strong one."""
    if soft and not hard:
        yield _Bout(soft[0], end or soft[-1])
    elif soft:
        if soft[0] < hard[0]:
            yield _Bout(soft[0], hard[0])
        after = [at for at in soft if at > hard[-1]]
        if after and end is None:
            yield _Bout(after[0], after[-1])


def longest_interval(matter: Matter) -> Interval | None:
    """The longest time between two births that followed one another; the first of equals.

    The wait before a caesarean is one that a vet asks about and is counted in; how fast the
    surgeon then took out the pups is not.
    """
    intervals = (
        Interval(
            after=one.number,
            before=other.number,
            length=other.born - one.born,
            estimated=any(pup.birth.certainty != "seen" for pup in (one, other)),
        )
        for one, other in pairwise(matter.verdict.litter.in_order)
        if not one.by_caesarean
    )
    return max(intervals, key=lambda interval: interval.length, default=None)

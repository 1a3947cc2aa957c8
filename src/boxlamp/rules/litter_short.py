"""Fewer pups are born than were counted.

What it watches: two things. The whelping was called finished by the breeder with fewer pups born
than an x-ray counted, or, less surely, a scan; not when the vet or a scan says it is finished,
because then somebody has looked inside. And the long calm: the time since the last birth with no
contraction after it, while the x-ray count is not reached. A birth, or a new count that is met,
ends both.

Why it matters: an x-ray shows at least so many pups; a scan may be one off. One
that is left inside dies there and makes the dam ill, and she may look quite content while it does.

What to do: look in the bedding for a pup that was missed. Then ring: a scan or another x-ray
tells whether she is empty.

Example:
    expected: 3 xray

    01:00 pup
    01:40 pup
    02:00 finished
    #= 02:00 call litter-short
    02:50 finished by scan
    #= 02:50 cleared litter-short
"""

from collections.abc import Iterator

from boxlamp.model.entry import Entry
from boxlamp.model.happenings import Birth, Caesarean, Contraction, Expect, Finished, Scan
from boxlamp.model.levels import Level
from boxlamp.model.litter import CountedBy, Litter, take
from boxlamp.model.story import Story
from boxlamp.rules.rule import Rule
from boxlamp.rules.spell import Spell, Stopwatch, Yardstick

ID = "litter-short"
_COUNTS: dict[CountedBy, str] = {"xray": "x-ray", "scan": "scan", "guess": "guess"}


def watch(story: Story, _yardstick: Yardstick) -> Iterator[Spell]:
    """Two clocks for a whelping called finished too soon, one for a long calm."""
    ended, calm = Stopwatch(ID, clock="finished"), Stopwatch(ID, clock="calm")
    scanned = Stopwatch(ID, clock="finished-scan")
    litter = Litter()
    over: Entry | None = None
    last: Entry | None = None
    for entry in story.of(Birth, Contraction, Expect, Scan, Caesarean, Finished):
        take(litter, entry)
        match entry.what:
            case Birth():
                over, last = None, entry if litter.caesarean is None else None
                calm.close(entry)
            case Contraction():
                last = None
            case Caesarean():
                over = last = None
            case Finished(by=by):
                over, last = entry if by == "breeder" else None, None
            case _:
                pass  # a count: it may open or close either clock
        _follow(ended, entry, over, _short(litter, "xray"))
        _follow(scanned, entry, over, _short(litter, "scan"))
        _follow(calm, entry, last, _short(litter, "xray"))
    for clock in (ended, scanned, calm):
        yield from clock.finish()


def _follow(clock: Stopwatch, entry: Entry, reason: Entry | None, detail: str) -> None:
    """Run a clock while there is a reason for it and the count is not reached."""
    if reason is None or not detail:
        clock.close(entry)
    elif detail != clock.detail:
        clock.close(entry)
        also = () if reason is entry else (reason.id,)
        clock.open(entry, since=reason.at, also=also, detail=detail)


def _short(litter: Litter, counted_by: CountedBy) -> str:
    """How many are missing by this way of counting; nothing when none are."""
    expected = litter.expected or 0
    if litter.expected_by != counted_by or litter.born >= expected:
        return ""
    return f"{litter.born} born, {expected} on the {_COUNTS[counted_by]}"


RULE = Rule(
    id=ID,
    group="labour",
    title="Fewer pups than counted",
    watch=watch,
    says={
        "": "You wrote that she has finished, but pups are missing: {detail}.",
        "calm": "No push is written down since the last pup, {ago}. Pups are missing: {detail}.",
    },
    do={
        Level.WATCH: (
            "Look through the bedding and under her. Ask the vet whether to look inside.",
        ),
        Level.CALL: (
            "Ring the vet now. Say how many are born and how many the x-ray showed.",
            "Look through the bedding and under her for a pup that was missed.",
        ),
    },
    page=__doc__,
    on_board=False,
)

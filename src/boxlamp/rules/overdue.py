"""She has gone past her time.

What it watches: the day count on the best evidence of when she conceived, until a birth, a
caesarean or the end. First in trust is the first day of dioestrus, then the LH peak or first
rise of progesterone, then a single ovulation value, then what a scan measured in weeks 4 to 6,
then a later scan, then the first mating. When two of them disagree by more than two days, the
one that is due earlier drives the alarms. A formula that is only remembered drives none.

Why it matters: a few days past her true time the afterbirths no longer feed the pups well
enough. From ovulation the time is almost always kept; from a mating it may be a week off, and
so the limits are wider.

What to do: take her temperature several times a day, and have the vet count and listen to the
pups.

Example:
    ovulation: 2025-12-29

    23:00 temp 38.1
    #= 00:00 watch overdue
    2026-03-04 02:00 pup
    #= 02:00 cleared overdue
"""

from collections.abc import Iterator
from datetime import datetime

from boxlamp.model.happenings import Birth, Caesarean, Finished
from boxlamp.model.levels import Level
from boxlamp.model.story import Story
from boxlamp.rules.rule import Rule
from boxlamp.rules.spell import Spell, Stopwatch, Yardstick
from boxlamp.rules.term import KINDS, OWNER, WORDS, Basis, Evidence

ID = OWNER


def watch(story: Story, yardstick: Yardstick) -> Iterator[Spell]:
    """From day 0 until the first birth, on the best evidence known by then."""
    watch, evidence = Stopwatch(ID), Evidence(yardstick)
    driver: Basis | None = None
    for entry in story.of(*KINDS, Birth, Caesarean, Finished):
        if not isinstance(entry.what, KINDS):
            watch.close(entry)
            break
        evidence.take(entry)
        best = evidence.best
        if best is not None and (driver is None or _counted(best) != _counted(driver)):
            driver = best
            watch.close(entry)
            watch.clock = driver.clock
            also = tuple(number for number in driver.entries if number != entry.id)
            watch.open(entry, since=driver.midnight, also=also, detail=_doubted(evidence))
    return watch.finish()


def _counted(basis: Basis) -> tuple[str, datetime]:
    """What the clock is and where it begins: a better known weight alone need not move either."""
    return basis.clock, basis.midnight


def _doubted(evidence: Evidence) -> str:
    """What to add when a date that is trusted more says she is due later."""
    driver, trusted = evidence.best, evidence.trusted
    if driver is None or trusted is None or driver == trusted:
        return ""
    day = f"{trusted.due:%d %b}".lstrip("0")
    return f"; by {WORDS[trusted.clock]}, trusted more, she is due {day}: tell the vet both"


RULE = Rule(
    id=ID,
    group="before labour",
    title="Past her time",
    watch=watch,
    says={
        clock: f"It is {{elapsed}} since {words} and no pup has come{{detail}}."
        for clock, words in WORDS.items()
    },
    do={
        Level.WATCH: (
            "Tell the vet she is at the end of her time. Take her temperature three times a day.",
        ),
        Level.CALL: (
            "Ring the vet now. Give the day count and what it is counted from.",
            "Say whether she still eats, and any discharge. Ask for the pups to be looked at.",
        ),
    },
    page=__doc__,
    running="Days of gestation",
)

"""The judge at work: a story in, what stands when by the formulas out."""

from collections.abc import Iterable, Iterator
from datetime import datetime, timedelta

from boxlamp.model.levels import DAM, pup_subject
from boxlamp.model.story import Story
from boxlamp.protocol.records import Protocol
from judge.afterbirths import AFTERBIRTHS, OWED
from judge.before import BEFORE_LABOUR
from judge.clocks import LEVELS, Chapter, levels
from judge.dam import DAM as THE_DAM
from judge.happened import Told, laid_out, of_a_pup, of_the_dam
from judge.labour import LABOUR
from judge.limits import pages
from judge.monitor import evaluated
from judge.pups import PUPS
from judge.signals import NEVER, Signal, by_second

OF_THE_DAM: tuple[Chapter, ...] = (BEFORE_LABOUR, LABOUR, AFTERBIRTHS, THE_DAM)
OF_EACH_PUP: tuple[Chapter, ...] = (OWED, PUPS)
JUDGED = frozenset[str]().union(*(one.rules for one in (*OF_THE_DAM, *OF_EACH_PUP)))
"""The rules told in formulas."""

Subject = tuple[str, str]
"""Rule and subject."""
Change = tuple[datetime, str]
"""From this second on this level stands; ``-`` where none does."""


def judge(
    story: Story, protocol: Protocol, never_relaxed: frozenset[str]
) -> dict[Subject, tuple[Change, ...]]:
    """What stands when, of every rule told in formulas: the highest level, to the second.

    Reminders are told apart from alerts: theirs is the rule's name with ``(prompt)`` behind it.
    """
    told = laid_out(story)
    standing: dict[Subject, list[tuple[str, Signal]]] = {}
    for rule, subject, level, signal in _every_level(told, protocol, never_relaxed):
        name = f"{rule} (prompt)" if level == "prompt" else rule
        standing.setdefault((name, subject), []).append((level, signal))
    changes = {key: tuple(_changes(told.zero, found)) for key, found in standing.items()}
    return {key: found for key, found in changes.items() if found}


def _every_level(
    told: Told, protocol: Protocol, never_relaxed: frozenset[str]
) -> Iterator[tuple[str, str, str, Signal]]:
    if not told.lines:
        return
    limits = pages(told.lines, protocol, never_relaxed)
    of_her = of_the_dam(told, protocol)
    helped: dict[str, Signal] = {"nobody": NEVER}
    for pup in told.pups:
        known = of_her | of_a_pup(told, pup)
        for chapter in OF_EACH_PUP:
            for rule, level, signal in levels(chapter, known, limits, protocol):
                yield rule, pup_subject(pup), level, signal
        helped[f"pup{pup}"] = known["calls_for_a_look"]
    of_her["pup_in_need"] = evaluated(" or ".join(helped), helped)
    for chapter in OF_THE_DAM:
        for rule, level, signal in levels(chapter, dict(of_her), limits, protocol):
            yield rule, DAM, level, signal


def _changes(zero: datetime, found: Iterable[tuple[str, Signal]]) -> Iterator[Change]:
    """The highest level from second to second, where it changes."""
    switches = sorted(
        (second, level, stands) for level, signal in found for second, stands in by_second(signal)
    )
    standing: dict[str, int] = dict.fromkeys(LEVELS, 0)
    before = "-"
    for place, (second, level, stands) in enumerate(switches):
        standing[level] += 1 if stands else -1
        if place + 1 < len(switches) and switches[place + 1][0] == second:
            continue
        highest = [level for level in LEVELS if standing[level]]
        now = highest[-1] if highest else "-"
        if now != before:
            yield zero + timedelta(seconds=second), now
        before = now

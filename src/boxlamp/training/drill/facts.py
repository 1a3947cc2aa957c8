"""What decides, as facts: what the head of the board counts, and how long what has gone on."""

from collections.abc import Iterator
from datetime import datetime, timedelta

from boxlamp.engine import Verdict
from boxlamp.model.happenings import Temperature, Waters
from boxlamp.model.quantities import plain
from boxlamp.model.spans import in_words
from boxlamp.rules.term import WORDS
from boxlamp.training.drill.night import PastNight, is_notice
from boxlamp.view.board import Board, board

_PUPS = 4
_FRESH = timedelta(days=1)
_PRESSING = frozenset(("sac open", "breathing", "first milk"))
"""The steps with a newborn pup that cannot wait till morning."""
_GOES_ON = {
    "first-stage-long": "first signs {} ago",
    "temperature-drop-no-labour": "temperature dropped {} ago",
    "temperature-back-no-labour": "temperature up again {} ago",
    "sac-no-pup": "a sac has shown for {}",
    "part-showing": "a part of a pup has shown for {}",
    "contraction-no-pup": "first hard push {} ago",
    "weak-contraction-no-pup": "first weak push {} ago",
}
"""How a clock that runs is told: what was seen and how long ago, and nothing of its limits."""


def facts_lines(night: PastNight, at: datetime) -> Iterator[str]:
    """What the head of the board counts, and what is not yet written down of the pups."""
    # A line that is not shown must not be counted either: "last entry 2 min ago".
    seen = [entry for entry in night.typed(None, at) if not is_notice(entry)]
    verdict = night.verdict(at)
    shown = board(verdict, seen, night.zone)
    yield ""
    tally = ", ".join(word.partition(",")[0] for word in shown.tally).capitalize()
    yield f"{shown.dam}: {shown.phase}. {tally}."
    if shown.since:
        yield f"{', '.join(shown.since).capitalize()}."
    going = ", ".join([*_going_on(verdict), *_known_of_her(verdict)])
    if going:
        yield f"{going[:1].upper()}{going[1:]}."
    owed = shown.owed if shown.owed.startswith("afterbirth") else ""
    if owed:
        yield f"{owed.capitalize()}."
    yield from _pups(shown)


def _going_on(verdict: Verdict) -> Iterator[str]:
    """What has gone on for how long: signs, waters, a sac, a part, pushes since the last pup."""
    for rule, words in _GOES_ON.items():
        spans = [clock.elapsed for clock in verdict.clocks if clock.rule.id == rule]
        if spans:
            yield words.format(in_words(max(spans)))
    broke, born = verdict.story.last(Waters), verdict.litter.last_birth
    if broke is not None and (born is None or broke.at > born):
        yield f"waters {in_words(verdict.at - broke.at)} ago"


def _known_of_her(verdict: Verdict) -> Iterator[str]:
    """Her last temperature with its age, and the day of gestation where a date is known."""
    readings = [
        entry
        for entry in verdict.story.of(Temperature)
        if isinstance(entry.what, Temperature) and entry.what.where == "dam"
    ]
    for entry in readings[-1:]:
        age = verdict.at - entry.at
        if age <= _FRESH and isinstance(entry.what, Temperature):
            yield f"her temperature {plain(entry.what.celsius)} °C, {in_words(age)} ago"
    for clock in verdict.clocks:
        if clock.rule.id == "overdue":
            yield f"day {clock.elapsed.days} from {WORDS[clock.spell.clock]}"


def _pups(shown: Board) -> Iterator[str]:
    """The newest pups of which something is to be said."""
    if shown.grown:
        return
    told = [
        pup
        for pup in shown.pups
        if pup.state not in {"", "dead"} or not _PRESSING.isdisjoint(pup.missing)
    ]
    for pup in told[-_PUPS:]:
        name = f"Pup {pup.number}{f' ({pup.mark})' if pup.mark else ''}"
        steps = ", ".join(step for step in pup.missing if step in _PRESSING)
        missing = f"not written down yet: {steps}" if steps else ""
        yield f"{name}: {'; '.join(filter(None, (pup.state, missing)))}."

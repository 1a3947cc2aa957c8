"""The report at the end of a drill: what was caught and when, what was held, what to read."""

from collections.abc import Iterator
from datetime import datetime, timedelta
from typing import Any, NamedTuple

from boxlamp.model.entry import Entry
from boxlamp.model.happenings import Ack, Caesarean, VetContact
from boxlamp.model.levels import Level
from boxlamp.model.spans import in_words
from boxlamp.rules.registry import BY_ID
from boxlamp.training.drill.marking import FAIRLY, Caught, LevelMark, Score, caught, score
from boxlamp.training.drill.night import PastNight
from boxlamp.training.drill.record import Answered, Result
from boxlamp.training.drill.sitting import Sitting
from boxlamp.view.board import CAUTION, typed_words
from boxlamp.view.machine import stamp
from boxlamp.view.text import clean, clock_text, wrap

_WIDTH = 78
_WORTH_READING = 2
_MINUTE = 60


class Report(NamedTuple):
    """Everything a drill came to."""

    sitting: Sitting
    score: Score
    caught: tuple[Caught, ...]
    calm: int
    calm_held: int
    acts_right: int
    lines_right: int
    right: tuple[str, ...]
    wrong: tuple[str, ...]
    """The rules behind wrong answers; worth reading."""
    decided: tuple[Entry, ...]
    """What the people of the night decided, and when."""
    lesson: str

    @property
    def passed(self) -> bool:
        """Whether nothing held the score down and most of it was right."""
        held = self.score.failed or self.score.missed or self.score.nervous
        return not held and self.score.points >= FAIRLY


def report_of(sitting: Sitting, lesson: str = "") -> Report:
    """What the answers given so far come to."""
    marks = [sitting.levels[at] for at in sorted(sitting.levels)]
    rises = caught(sitting.stops, sitting.levels)
    calm = [mark for mark in marks if mark.calm]
    wrong = dict.fromkeys(rule for rule, well in _by_rule(sitting, marks) if not well)
    right = dict.fromkeys(rule for rule, well in _by_rule(sitting, marks) if well)
    return Report(
        sitting=sitting,
        score=score(marks, rises),
        caught=tuple(rises),
        calm=len(calm),
        calm_held=sum(mark.off == 0 for mark in calm),
        acts_right=sum(mark.right for mark in sitting.acts),
        lines_right=sum(mark.right for mark in sitting.lines),
        right=tuple(rule for rule in right if rule not in wrong),
        wrong=tuple(wrong),
        decided=tuple(_decided(sitting.night)),
        lesson=lesson,
    )


def _by_rule(sitting: Sitting, marks: list[LevelMark]) -> Iterator[tuple[str, bool]]:
    """Each rule that was asked about, and whether the answer did for it.

    A little too careful teaches no rule anything; two levels too careful does.
    """
    for mark in marks:
        for rule in mark.rules[:1]:
            yield rule, 0 <= mark.off < _WORTH_READING
    for act in sitting.acts:
        if act.rule is not None:
            yield act.rule, act.right


def _decided(night: PastNight) -> Iterator[Entry]:
    for entry in night.entries:
        if isinstance(entry.what, VetContact | Caesarean) and entry.recorded >= night.begins:
            yield entry


def report_lines(report: Report) -> Iterator[str]:
    """The report as a person reads it."""
    sitting = report.sitting
    yield ""
    yield f"== The night is over {'=' * (_WIDTH - 21)}"
    if not sitting.finished:
        yield f"You left after {sitting.answered} of {len(sitting.stops)} stops."
    if not sitting.levels:
        yield "No decision has been answered yet, so there is no score."
    else:
        yield from wrap(f"{report.score.points} of 100. {report.score.verdict}", _WIDTH)
    yield from _caught_lines(report)
    yield from _counted(report)
    yield from _story(report)
    if report.lesson and sitting.finished:
        yield ""
        yield from wrap(f"What this night teaches: {clean(report.lesson)}", _WIDTH)
    if report.wrong:
        yield ""
        yield "Worth reading:"
        yield from (f"  boxlamp rules {rule:<28} {BY_ID[rule].title}" for rule in report.wrong)
    yield ""
    yield CAUTION


def late_words(one: Caught) -> str:
    """``in time``, ``4 min early``, ``10 min late``, ``never``; half a drill: ``missed so far``."""
    if one.late is None:
        return "missed so far" if one.open else "never"
    if abs(one.late) < timedelta(seconds=1):
        return "in time"
    return f"{in_words(abs(one.late))} {'late' if one.late > timedelta(0) else 'early'}"


def _caught_lines(report: Report) -> Iterator[str]:
    night = report.sitting.night
    if not report.caught:
        if report.sitting.finished:
            yield "Nothing in this night asked you to ring or to leave."
        return
    yield ""
    yield "Where the vet was needed, you rang or left:"
    for one in report.caught:
        at = clock_text(one.rise.at, one.rise.at, night.zone)
        pup = f", {one.rise.subject}" if one.rise.subject.startswith("pup ") else ""
        level = one.rise.level
        lead = f"  {level.mark:>3} {level.word.upper():<4} {at}  {late_words(one):<17}"
        yield f"{lead} {one.rise.rule.title}{pup}"


def _counted(report: Report) -> Iterator[str]:
    sitting = report.sitting
    marks = list(sitting.levels.values())
    if sitting.answered:
        yield ""
    if marks:
        low, high = sum(m.off < 0 for m in marks), sum(m.off > 0 for m in marks)
        right = len(marks) - low - high
        yield f"Decisions: {right} of {len(marks)} right, {high} too early, {low} too late."
    if report.calm:
        yield f"Calm stops held: {report.calm_held} of {report.calm}."
    if sitting.acts:
        yield f"First thing to do: {report.acts_right} of {len(sitting.acts)} right."
    if sitting.lines:
        yield f"Lines typed: {report.lines_right} of {len(sitting.lines)} right."


def _story(report: Report) -> Iterator[str]:
    """What the people of the night decided, and how it ended; only once it is over."""
    sitting, night = report.sitting, report.sitting.night
    if not sitting.finished:
        return
    litter = night.verdict(night.end).litter
    yield ""
    told = [
        f"{clock_text(entry.at, entry.at, night.zone)} {typed_words(entry)}"
        for entry in report.decided
        if not isinstance(entry.what, Ack)
    ]
    if told:
        yield "What the people of this night did:"
        for line in told:
            yield from (f"  {part}" for part in wrap(line, _WIDTH - 2))
    yield f"It ended with {litter.born} born, {litter.alive} alive."


def result_of(report: Report, *, trainee: str, at: datetime, night: str, troubled: bool) -> Result:
    """What is kept of it."""
    sitting = report.sitting
    litter = sitting.night.verdict(sitting.night.begins).litter
    return Result(
        trainee=trainee,
        at=at,
        night=night,
        dam=clean(litter.details.dam or "A dam")[:100],
        troubled=troubled,
        finished=sitting.finished,
        score=report.score.points,
        passed=report.passed and sitting.finished,
        stops=sitting.answered,
        calm=report.calm,
        calm_held=report.calm_held,
        acts=len(sitting.acts),
        acts_right=report.acts_right,
        lines=len(sitting.lines),
        lines_right=report.lines_right,
        right=report.right,
        wrong=report.wrong,
        caught=tuple(_answered(one) for one in report.caught),
    )


def _answered(one: Caught) -> Answered:
    minutes = None if one.late is None else round(one.late.total_seconds() / _MINUTE, 2)
    level = "go" if one.rise.level is Level.GO else "call"
    return Answered(rule=one.rise.rule.id, level=level, minutes=minutes)


def report_json(report: Report, result: Result, *, kept: bool) -> dict[str, Any]:
    """The report for other programs.

    ``schema``
        1.
    ``kept``
        Whether the result could be stored.
    ``verdict``, ``failed``, ``missed``, ``late``, ``nervous``
        The score in words, and why: a go late or missed; a call never answered; one that came
        late; calls or goes without need at half or more of the stops.
    ``result``
        As in the results file: ``score`` 0 to 100; ``caught`` in ``minutes`` late (negative
        early, null never); ``calm`` stops, ``acts``, ``lines``, and how many of each were right;
        ``right`` and ``wrong`` rules.
    ``stops``
        Each decision: its time, what was chosen, what was right, how many levels ``off``.
    ``lesson``
        What the night teaches.
    """
    sitting = report.sitting
    return {
        "schema": 1,
        "kept": kept,
        "verdict": report.score.verdict,
        "failed": report.score.failed,
        "missed": report.score.missed,
        "late": report.score.late,
        "nervous": report.score.nervous,
        "result": result.model_dump(mode="json", by_alias=True),
        "stops": [
            {
                "at": stamp(mark.at, sitting.night.zone),
                "chosen": mark.chosen.word,
                "right": mark.right.word,
                "off": mark.off,
                "calm": mark.calm,
                "rules": list(mark.rules),
            }
            for _, mark in sorted(sitting.levels.items())
        ],
        "lesson": report.lesson,
    }

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
from boxlamp.training.drill.night import Choice, PastNight
from boxlamp.training.drill.record import Answered, Held, Result
from boxlamp.training.drill.sitting import Sitting
from boxlamp.view.machine import stamp
from boxlamp.view.text import clean, date_text
from boxlamp.view.words import CAUTION, typed_words

_WORTH_READING = 2
_MINUTE = 60
_ONE_NIGHT = timedelta(hours=20)


class Report(NamedTuple):
    """Everything a drill came to."""

    sitting: Sitting
    score: Score | None
    """None when the drill was left before its end, or no level was asked."""
    caught: tuple[Caught, ...]
    calm: int
    calm_held: int
    acts_right: int
    lines_right: int
    right: tuple[str, ...]
    wrong: tuple[str, ...]
    """The rules behind wrong answers; worth reading."""
    well: tuple[Held, ...]
    poorly: tuple[Held, ...]
    """The same with their levels, once for each answer."""
    decided: tuple[Entry, ...]
    """What the people of the night decided, and when."""
    lesson: str

    @property
    def passed(self) -> bool:
        """Whether nothing held the score down, no level was left out, and most of it was right."""
        score = self.score
        if score is None:
            return False
        unseen = any(one.late is None for one in self.caught)
        held = unseen or score.failed or score.missed or score.nervous or score.restless
        return not held and score.points >= FAIRLY


def report_of(sitting: Sitting, lesson: str = "") -> Report:
    """What the answers given so far come to."""
    marks = [sitting.levels[at] for at in sorted(sitting.levels)]
    rises = caught(sitting.stops, sitting.levels)
    calm = [mark for mark in marks if mark.calm]
    answers = list(_by_rule(sitting, marks))
    well = tuple(held for held, right in answers if right)
    poorly = tuple(held for held, right in answers if not right)
    wrong = dict.fromkeys(held.rule for held in poorly)
    right = dict.fromkeys(held.rule for held in well)
    return Report(
        sitting=sitting,
        score=score(marks, rises) if sitting.finished and marks else None,
        caught=tuple(rises),
        calm=len(calm),
        calm_held=sum(mark.off == 0 for mark in calm),
        acts_right=sum(mark.right for mark in sitting.acts),
        lines_right=sum(mark.right for mark in sitting.lines),
        right=tuple(rule for rule in right if rule not in wrong),
        wrong=tuple(wrong),
        well=well,
        poorly=poorly,
        decided=tuple(_decided(sitting.night)),
        lesson=lesson,
    )


def _by_rule(sitting: Sitting, marks: list[LevelMark]) -> Iterator[tuple[Held, bool]]:
    """Each rule that was asked about at its level, and whether the answer did for it.

    A little too careful teaches no rule anything; two levels too careful does. Carrying on while
    its clock ran is no right answer to a rule: it had not been reached.
    """
    for mark in marks:
        held = [Held(rule=rule, level=mark.level) for rule in mark.rules[:1]]
        wrong = mark.off < 0 or mark.off >= _WORTH_READING
        if wrong or (mark.off == 0 and mark.chosen >= mark.right > Choice.CARRY_ON):
            yield from ((one, not wrong) for one in held)
    for act in sitting.acts:
        if act.rule is not None and not act.right:
            yield Held(rule=act.rule, level=act.level), False


def _decided(night: PastNight) -> Iterator[Entry]:
    for entry in night.entries:
        if isinstance(entry.what, VetContact | Caesarean) and entry.recorded >= night.begins:
            yield entry


def report_lines(report: Report) -> Iterator[str]:
    """The report as a person reads it."""
    sitting, score = report.sitting, report.score
    yield ""
    yield f"== {'The night is over' if sitting.finished else 'You left'} =="
    if not sitting.finished:
        yield f"You left after {sitting.answered} of {len(sitting.stops)} stops: no score."
    elif score is None:
        yield "No level was asked in this night, so there is no score."
    else:
        yield f"{score.points} of 100. {score.verdict}"
    yield from _caught_lines(report)
    yield from _counted(report)
    yield from _wrong_lines(report)
    yield from _story(report)
    if report.lesson and sitting.finished:
        yield ""
        yield f"What this night teaches: {clean(report.lesson)}"
    if report.wrong:
        yield ""
        yield "Worth reading:"
        yield from (f"  boxlamp rules {rule:<28} {BY_ID[rule].title}" for rule in report.wrong)
    yield ""
    yield CAUTION


def _wrong_lines(report: Report) -> Iterator[str]:
    """Every decision that was not right: when, what was chosen, what was right, which rule."""
    sitting = report.sitting
    wrong = [mark for _, mark in sorted(sitting.levels.items()) if mark.off != 0]
    if not wrong:
        return
    yield ""
    yield "Where it went another way:"
    for mark in wrong:
        rule = f": {mark.rules[0]}" if mark.rules else ""
        at = _time(mark.at, sitting.night)
        yield f"  {at}  you said {mark.chosen.word}, right was {_fair_words(mark)}{rule}"


def _fair_words(mark: LevelMark) -> str:
    """What would have been right, and nearest to what was chosen."""
    return Choice(mark.chosen - mark.off).word


def _time(at: datetime, night: PastNight) -> str:
    """A time of the night, with its day where the night is longer than one."""
    local = at.astimezone(night.zone)
    day = f"{date_text(local.date())} " if night.end - night.begins > _ONE_NIGHT else ""
    return f"{day}{local:%H:%M}"


def late_words(one: Caught) -> str:
    """``in time``, ``4 min early``, ``10 min late``, ``never``; ``not seen`` at its one stop.

    Half a drill: ``missed so far``.
    """
    if one.late is None:
        if one.open:
            return "missed so far"
        return "never" if one.missed else "not seen"
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
    yield "Where the vet was needed, by its limit, and when you rang or left:"
    for one in report.caught:
        at = _time(one.rise.at, night)
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
        f"{_time(entry.at, night)}  {typed_words(entry)}"
        for entry in report.decided
        if not isinstance(entry.what, Ack)
    ]
    if told:
        yield "What the people of this night did:"
        yield from (f"  {line}" for line in told)
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
        score=None if report.score is None else report.score.points,
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
        well=report.well,
        poorly=report.poorly,
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
    ``verdict``, ``failed``, ``missed``, ``late``, ``nervous``, ``restless``
        The score in words, and why: a go missed or far too late; a call missed; a level chosen
        late; calls or goes without need at half or more of the stops; fewer than half of the
        calm stops held. Null where there is no score: the drill was left, or no level was asked.
    ``result``
        As in the results file: ``score`` 0 to 100 or null; ``caught`` in ``minutes`` late (negative
        early, null never); ``calm`` stops, ``acts``, ``lines``, and how many of each were right;
        ``right`` and ``wrong`` rules.
    ``stops``
        Each decision: its time, what was chosen, what was right, how many levels ``off``.
    ``lesson``
        What the night teaches.
    """
    sitting, score = report.sitting, report.score
    return {
        "schema": 1,
        "kept": kept,
        "verdict": score and score.verdict,
        "failed": score and score.failed,
        "missed": score and score.missed,
        "late": score and score.late,
        "nervous": score and score.nervous,
        "restless": score and score.restless,
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

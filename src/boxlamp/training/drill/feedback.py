"""What is said after each answer: right or not, and why, in a few plain lines."""

from collections.abc import Iterator
from datetime import tzinfo

from boxlamp.engine import Alert, Deadline, Verdict
from boxlamp.model.spans import in_words
from boxlamp.protocol.records import SEEN_WORDS
from boxlamp.training.drill.acts import Act
from boxlamp.training.drill.marking import LevelMark
from boxlamp.training.drill.night import Choice, PastNight, nearest
from boxlamp.view.board import message_words
from boxlamp.view.machine import sources_of
from boxlamp.view.text import clean, clock_text, wrap

_WIDTH = 78
_LEVELS = {1: "one level", 2: "two levels", 3: "three levels"}
_STEPS = 3


def level_lines(night: PastNight, mark: LevelMark) -> Iterator[str]:
    """Whether the level was right, and what it rests on."""
    verdict = night.verdict(mark.at)
    yield from wrap(_judged(mark), _WIDTH)
    if mark.off == 0 and mark.chosen != mark.right:
        yield from alert_why(verdict, night.zone, short=True)
    elif verdict.alerts:
        yield from alert_why(verdict, night.zone)
    else:
        yield from wrap(_calm(verdict), _WIDTH)


def act_lines(act: Act, chosen: int) -> Iterator[str]:
    """Which step comes first, and which come after it."""
    lead = "Right." if chosen == act.right else "Not that first."
    yield from wrap(f"{lead} First: {clean(act.steps[0])}", _WIDTH)
    then = act.steps[1 : _STEPS + 1]
    if then:
        yield from wrap(f"Then: {clean(' '.join(then))}", _WIDTH)
    if act.rule is not None:
        yield f"More: boxlamp rules {act.rule}"


def alert_why(verdict: Verdict, zone: tzinfo, *, short: bool = False) -> Iterator[str]:
    """The worst alert: its sentence; unless ``short``, its clock, its limit, whose word that is."""
    alert = verdict.alerts[0]
    sentence = message_words(alert, verdict.litter)
    yield from wrap(f"{alert.level.mark} {alert.level.word.upper()}: {sentence}", _WIDTH)
    if not short:
        for line in (_clock(alert, verdict, zone), _source(alert, verdict)):
            yield from wrap(line, _WIDTH)
    others = len({one.rule.id for one in verdict.alerts if one.level == alert.level}) - 1
    more = f" (and {others} more at this level)" if others else ""
    yield f"More: boxlamp rules {alert.rule.id}{more}"


def _judged(mark: LevelMark) -> str:
    if mark.off == 0 and mark.chosen != mark.right:
        return "Right enough: the watch below has stood for a while, and nothing is new."
    if mark.off == 0:
        return f"Right: {mark.right.word}."
    by = _LEVELS[abs(mark.off)]
    if mark.off > 0 and mark.right == Choice.CARRY_ON:
        calm = " Calm stretches are part of every whelping." if mark.off > 1 else ""
        return f"Early, by {by}: here you may still carry on.{calm}"
    if mark.off > 0:
        return f"Early, by {by}: here it is still {mark.right.word}. Early is the better mistake."
    return f"Late, by {by}: this is a moment for {mark.right.word}."


def _clock(alert: Alert, verdict: Verdict, zone: tzinfo) -> str:
    """How long it has run, and what limit that was held against."""
    if not alert.limit:
        ahead = _ahead(alert, verdict)
        return f"This level comes at once, with what is written down.{ahead}"
    since = clock_text(alert.since, verdict.at, zone)
    return (
        f"{in_words(alert.elapsed).capitalize()} since {since}; {alert.level.word} comes at "
        f"{in_words(alert.limit)}.{_ahead(alert, verdict)}"
    )


def _ahead(alert: Alert, verdict: Verdict) -> str:
    """The next level of the same clock."""
    clock = next((one for one in verdict.clocks if one.spell == alert.spell), None)
    ahead = clock.next_limit(verdict.at) if clock else None
    if clock is None or ahead is None:
        return ""
    level, due = ahead
    return f" Its next limit: {level.word} at {in_words(due - clock.spell.since)}."


def _source(alert: Alert, verdict: Verdict) -> str:
    """What the source of the limit says, and how far that was verified."""
    found = sources_of(alert, verdict.book.protocol)
    tightened = _tightened(alert.rule.id, verdict)
    said = (
        f"{source['says']} [{SEEN_WORDS[source['seen']]}]"
        + (f" {source['title']}." if source["title"] else "")
        for source in found[:1]
    )
    return f"Why: {' '.join(said) or 'a reading out of its band.'}{tightened}"


def _tightened(rule: str, verdict: Verdict) -> str:
    """That her limits are shorter, and what makes them so."""
    risks = verdict.book.now.risks
    held = risks and rule in verdict.book.protocol.risk.rules
    return f" Shorter for her: {', '.join(risks)}." if held else ""


def _calm(verdict: Verdict) -> str:
    """Where nothing stands: the clock that is nearest to a limit, and where the limit lies."""
    ahead = nearest(verdict)
    if ahead is None:
        return "Nothing asks for more, and no limit is near."
    return f"Nothing asks for more. {_named(ahead, verdict)} More: boxlamp rules {ahead.rule.id}"


def _named(due: Deadline, verdict: Verdict) -> str:
    title = due.rule.running or due.rule.title
    ran, limit = verdict.at - due.spell.since, due.due - due.spell.since
    pup = f", {due.subject}" if due.subject.startswith("pup ") else ""
    return (
        f"The nearest limit: {title[:1].lower()}{title[1:]}{pup}, {in_words(ran)} now; "
        f"{due.level.word} comes at {in_words(limit)}.{_tightened(due.rule.id, verdict)}"
    )

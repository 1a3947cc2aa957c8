"""What is said after each answer: right or not, and why, in a few plain lines."""

from collections.abc import Iterator
from datetime import tzinfo

from boxlamp.engine import Alert, Deadline, Verdict
from boxlamp.model.spans import in_words
from boxlamp.protocol.records import SEEN_WORDS
from boxlamp.rules.page import read_page
from boxlamp.training.drill.acts import Act
from boxlamp.training.drill.marking import LevelMark
from boxlamp.training.drill.night import Choice, PastNight, nearest
from boxlamp.view.machine import sources_of
from boxlamp.view.text import clean, clock_text
from boxlamp.view.words import message_words

_LEVELS = {1: "one level", 2: "two levels", 3: "three levels"}
_STEPS = 3
_OLD = "Right enough: the watch below has stood for a while, and nothing is new."
_TOLD = "Right enough: the vet has been told of what stands."


def level_lines(night: PastNight, mark: LevelMark) -> Iterator[str]:
    """Whether the level was right, and what it rests on."""
    verdict = night.verdict(mark.at)
    if mark.off == 0 and mark.chosen < mark.right:
        yield _TOLD if night.least(mark.at) < mark.right else _OLD
        yield from alert_why(verdict, night.zone, short=True)
        return
    yield _judged(mark)
    if verdict.alerts:
        yield from alert_why(verdict, night.zone)
    else:
        yield _calm(verdict)


def act_lines(act: Act, chosen: int) -> Iterator[str]:
    """Which step comes first, and which come after it."""
    lead = "Right." if chosen == act.right else "Not that first."
    yield f"{lead} First: {clean(act.steps[0])}"
    then = act.steps[1 : _STEPS + 1]
    if then:
        yield f"Then: {clean(' '.join(then))}"
    if act.rule is not None:
        yield f"More: boxlamp rules {act.rule}"


def alert_why(verdict: Verdict, zone: tzinfo, *, short: bool = False) -> Iterator[str]:
    """The worst alert: its sentence; unless ``short``, its clock, its limit, whose word that is."""
    alert = next(one for one in verdict.alerts if one.level == verdict.worst)
    sentence = message_words(alert, verdict.litter)
    yield f"{alert.level.mark} {alert.level.word.upper()}: {sentence}"
    if not short:
        yield _clock(alert, verdict, zone)
        yield f"Why: {_source(alert, verdict)}{_tightened(alert, verdict)}"
    others = len({one.rule.id for one in verdict.alerts if one.level == alert.level}) - 1
    more = f" (and {others} more at this level)" if others else ""
    yield f"More: boxlamp rules {alert.rule.id}{more}"


def _judged(mark: LevelMark) -> str:
    if mark.off == 0 and mark.chosen > mark.right:
        return f"Right, and a little ahead: here it is still {mark.right.word}."
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
    """How long it has run, and what limit that was held against.

    The next limit of the same clock is not told: the next stop may ask for it.
    """
    if not alert.limit:
        return "This level comes at once, with what is written down."
    since = clock_text(alert.since, verdict.at, zone)
    begins = "from" if alert.spell.held else "since"
    return (
        f"{in_words(alert.counted).capitalize()} {begins} {since}; {alert.level.word} comes at "
        f"{in_words(alert.limit)}."
    )


def _source(alert: Alert, verdict: Verdict) -> str:
    """Why this limit: what its source says, or what the rule's own page says.

    Where several signs share one clock the source of its limit may speak of another sign.
    """
    found = sources_of(alert, verdict.book.protocol)
    shared = not alert.limit and alert.spell.clock == "main" and bool(alert.spell.detail)
    if len(found) != 1 or (shared and alert.spell.level is None):
        return _sentence(read_page(alert.rule.page).matters)
    source = found[0]
    title = f" {source['title']}." if source["title"] else ""
    return f"{source['says']} [{SEEN_WORDS[source['seen']]}]{title}"


def _tightened(alert: Alert, verdict: Verdict) -> str:
    """That this limit is shorter for her, where it is, and what makes it so."""
    book = verdict.book
    own = book.protocol.spans.get((alert.rule.id, alert.spell.clock), {}).get(alert.level)
    shorter = own is not None and alert.limit < own and alert.rule.id in book.protocol.risk.rules
    return f" Shorter for her: {', '.join(book.now.risks)}." if shorter and book.now.risks else ""


def _calm(verdict: Verdict) -> str:
    """Where nothing stands: what runs and what it means, and not where its limits lie.

    The answer to one stop must not be the key to the next.
    """
    ahead = nearest(verdict)
    if ahead is None:
        return "Nothing asks for more."
    return f"Nothing asks for more. {_running(ahead, verdict)} More: boxlamp rules {ahead.rule.id}"


def _running(due: Deadline, verdict: Verdict) -> str:
    title = due.rule.running or due.rule.title
    pup = f", {due.subject}" if due.subject.startswith("pup ") else ""
    means, _, _ = read_page(due.rule.page).matters.partition(". ")
    ran = in_words(verdict.at - due.spell.since)
    return f"What runs: {title[:1].lower()}{title[1:]}{pup}, {ran}. {_sentence(means)}"


def _sentence(words: str) -> str:
    """Words of a page, which stand behind a heading there, as sentences of their own."""
    return f"{words[:1].upper()}{words[1:].rstrip('.')}."

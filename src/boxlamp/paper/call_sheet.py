"""The call sheet: what to say to the vet on the telephone, in the order in which it is asked.

The order is SBAR, an open standard for handing over a patient: the situation, its background,
the assessment, what is asked for. Everything is told so that it can be read aloud. It is made
of a verdict alone, quickly enough to be made anew every second.
"""

from collections.abc import Iterator, Sequence

from boxlamp.engine import Alert, Verdict
from boxlamp.model.happenings import VetContact
from boxlamp.model.levels import Level
from boxlamp.paper.call_sheet_assessment import assessment
from boxlamp.paper.call_sheet_background import background
from boxlamp.paper.call_sheet_facts import (
    MARK,
    NAME,
    NUMBER,
    CallSheet,
    Fact,
    Teller,
    capital,
    listed,
    own,
    pup_name,
    span_words,
)
from boxlamp.paper.reader import Reader
from boxlamp.view.board import CAUTION, message_words
from boxlamp.view.text import clean, counted

_ROLES = {Level.WATCH: "watch", Level.CALL: "call", Level.GO: "go"}
_ASKS = {
    Level.WATCH: "watch her closely",
    Level.CALL: "ring the vet",
    Level.GO: "leave for the vet",
}
_SAY_BACK = "Say back what the vet says, then type it: vet advised ..."
# Our choice: a sentence of a rule is far shorter; only a fault could make it longer.
_SENTENCE = 300


def call_sheet(verdict: Verdict, reader: Reader) -> CallSheet:
    """What to say of this moment on the telephone, in the reader's clock and units."""
    teller = Teller(verdict, reader)
    behind, found = background(teller), assessment(teller)
    return CallSheet(
        at=verdict.at,
        level=verdict.worst,
        facts=(
            _dial(teller), *_situation(teller), *behind.facts, *found.facts, *_request(teller)
        ),
        unknown=(*found.unknown, *behind.unknown),
        caution=CAUTION,
    )  # fmt: skip


def _dial(teller: Teller) -> Fact:
    """Whom to ring, how far it is, what time it is; its label is the level that stands."""
    litter = teller.verdict.litter
    level = teller.verdict.worst
    details = litter.details
    numbers = [own(details.vet_phone, NUMBER)] if details.vet_phone else []
    if details.night_phone:
        numbers.append(f"night {own(details.night_phone, NUMBER)}")
    name = own(details.vet, NAME)
    if numbers:
        words = ", ".join(filter(None, (name, *numbers)))
    else:
        words = f"{name or 'The vet'}: no number is written down"
    if details.travel_minutes is not None:
        words += f"; {details.travel_minutes} min away"
    words = f"The vet is with her. {words}." if litter.with_vet else f"{words}."
    label = f"{level.mark} {level.word.upper()}" if level else "RING"
    return Fact("dial", label, words, role=_ROLES[level] if level else "name")


def _situation(teller: Teller) -> Iterator[Fact]:
    """What time it is, who she is, what is wrong now, by which clock, and what else stands."""
    alerts = teller.verdict.alerts
    details = teller.verdict.litter.details
    who = [own(details.dam, NAME) or "The dam", own(details.breed, NAME)]
    words = f"{', '.join(filter(None, who))}: {_phase(teller)}."
    now, reader = teller.verdict.at, teller.reader
    told = f"{reader.moment(now)}. {words}"
    short = f"{reader.time(now)}. {words}"
    yield Fact("situation", "who", told, (short,), 0, role="name")
    if not alerts:
        calm = "No alert stands now. Say in your own words what worries you."
        yield Fact("situation", "wrong now", calm)
        return
    worst = alerts[0]
    yield Fact("situation", "wrong now", _sentence(worst, teller), role=_ROLES[worst.level])
    yield _clock(worst, teller)
    yield from _others(alerts[1:], teller)


def _phase(teller: Teller) -> str:
    """Where she is, and for how long."""
    litter = teller.verdict.litter
    if teller.stage == "after":
        since = litter.finished or litter.caesarean
        ended = "whelped" if litter.born else "the whelping ended"
        first = min((pup.born for pup in litter.pups.values()), default=since)
        return f"{ended} {teller.ago(first)}" if first else ended
    since = litter.phase_since
    if litter.caesarean is not None:
        return f"caesarean {teller.ago(litter.caesarean)}"
    if since is None:
        return "no sign of labour written down"
    words = {
        "waiting": "signs of labour seen, and settled again",
        "first stage": "in the first stage of labour",
        "labour": "in labour",
    }
    age = teller.age(since)
    about = "about " if teller.estimated(since) else ""
    return words.get(litter.phase, litter.phase) + (f" for {about}{age}" if age else "")


def _sentence(alert: Alert, teller: Teller) -> str:
    """The alert's own sentence, whole; only a pup's overlong mark in it is shortened."""
    if alert.spell.clock == "failure":
        return (
            f"The rule {alert.rule.id} has failed and watches nothing. Use your own judgement and "
            "the vet's."
        )
    litter = teller.verdict.litter
    said = message_words(alert, litter)
    for pup in litter.in_order:
        if pup.mark and len(pup.mark) > MARK and str(pup.number) in alert.subject:
            said = said.replace(clean(pup.mark), own(pup.mark, MARK))
    return own(teller.reader.sentence(said), _SENTENCE)


def _clock(alert: Alert, teller: Teller) -> Fact:
    """Which clock it is, where it counts from, and the limit that was reached."""
    since = _since(alert, teller)
    asks = _ASKS[alert.level]
    held = span_words(alert.elapsed)
    age = teller.age(alert.since)
    if not alert.limit:
        told = f"{since} ({age})" if age else since
        words = f"{alert.rule.title}: since {told}. The rule says at once: {asks}."
        return Fact("situation", "by the clock", words, (f"{alert.rule.title}: since {since}.",), 5)
    limit = span_words(alert.limit)
    words = (
        f"{alert.rule.title}: {held} since {since}. The limit to {asks} is {limit}, reached "
        f"{teller.point(alert.raised)}."
    )
    short = f"{alert.rule.title}: {held} since {since}; limit {limit}."
    return Fact("situation", "by the clock", words, (short,), 5)


def _since(alert: Alert, teller: Teller) -> str:
    """Where the clock counts from; said to be an estimate when its entry is one."""
    opened = [
        entry
        for entry in teller.verdict.story.entries
        if entry.id in alert.spell.opened and entry.at == alert.since
    ]
    return teller.at(opened[0]) if opened else teller.moment(alert.since)


def _others(alerts: Sequence[Alert], teller: Teller) -> Iterator[Fact]:
    """The other alerts that ask to ring or to go, a line each; watches are only counted."""
    loud = [alert for alert in alerts if alert.level >= Level.CALL]
    watches = len(alerts) - len(loud)
    shown = loud if len(loud) <= _OWN_LINES else []
    for alert in shown:
        said, since = _sentence(alert, teller), f"since {_since(alert, teller)}."
        short = f"{_named(alert, teller)}, {since}"
        yield Fact(
            "situation", f"{alert.level.mark} {alert.level.word.upper()}",
            f"{said} {capital(since)}" if not alert.limit else said,
            (said, short), 4, _ROLES[alert.level],
        )  # fmt: skip
    if len(loud) > _OWN_LINES:
        yield _together(loud)
    if watches:
        words = f"{counted(watches, 'other alert', 'other alerts')}."
        yield Fact("situation", "to watch", words)


_OWN_LINES = 3


def _together(loud: Sequence[Alert]) -> Fact:
    """Many alerts by their titles, the worst first; pups with the same one named together."""
    groups: dict[tuple[Level, str], list[str]] = {}
    for alert in loud:
        subject = [alert.subject] if alert.subject.startswith("pup ") else []
        groups.setdefault((alert.level, alert.rule.title), []).extend(subject)
    told = [
        f"{level.word.upper()} {title}{_which(pups)}" for (level, title), pups in groups.items()
    ]
    levels = [alert.level for alert in loud]
    counts = ", ".join(
        f"{levels.count(level)} {level.word.upper()}" for level in (Level.GO, Level.CALL)
        if level in levels
    )  # fmt: skip
    fewer = f"{'; '.join(told[:4])}; in all {counts}."
    return Fact("situation", "and also", f"{'; '.join(told)}.", (fewer,), 4, _ROLES[max(levels)])


def _which(pups: list[str]) -> str:
    """The pups an alert is about; many are only counted."""
    if not pups:
        return ""
    return f" ({listed(pups)})" if len(pups) <= _OWN_LINES else f" ({len(pups)} pups)"


def _named(alert: Alert, teller: Teller) -> str:
    """The alert in a few words: its title, and the pup it is about."""
    if not alert.subject.startswith("pup "):
        return alert.rule.title
    pup = teller.verdict.litter.pups.get(int(alert.subject[4:]))
    return f"{alert.rule.title}, {pup_name(pup) if pup else alert.subject}"


def _request(teller: Teller) -> Iterator[Fact]:
    """What the caller asks. Never what to do: that is for the vet to say."""
    yield Fact("request", "ask", _question(teller), role="do")
    yield Fact("end", "then", _SAY_BACK, role="do")


def _question(teller: Teller) -> str:
    verdict = teller.verdict
    worst = verdict.alerts[0] if verdict.alerts else None
    who = "her"
    if worst is not None and worst.subject.startswith("pup "):
        who = worst.subject
    if verdict.litter.with_vet:
        return "What happens next, and what must I watch for?"
    minutes = verdict.litter.details.travel_minutes
    drive = f" The drive to you takes {minutes} min." if minutes is not None else ""
    last = verdict.story.last(VetContact)
    on_the_way = last is not None and getattr(last.what, "contact", "") == "left-for"
    if last is not None and on_the_way and teller.recent(last):
        left = f"We left for you {teller.when(last)}."
        return f"{left}{drive} What should I do on the way?"
    if worst is None or worst.level < Level.CALL:
        pronoun = "she" if who == "her" else who
        return f"May {pronoun} wait? Until when, and what should make me ring again?"
    if worst.level is Level.GO:
        return f"I am about to leave with {who}.{drive} What should I do on the way?"
    return (
        f"Shall I bring {who} in now?{drive} If not: until when may I wait, and what should make "
        "me ring again?"
    )

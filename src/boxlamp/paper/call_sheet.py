"""The call sheet: what to say to the vet on the telephone, in the order in which it is asked.

The order is SBAR, an open standard for handing over a patient: the situation, its background,
the assessment, what is asked for. Everything is told so that it can be read aloud. It is made
of a verdict alone, quickly enough to be made anew every second.
"""

from collections.abc import Iterator, Sequence

from boxlamp.engine import Alert, Verdict
from boxlamp.model.levels import Level
from boxlamp.paper.call_sheet_assessment import assessment
from boxlamp.paper.call_sheet_background import background
from boxlamp.paper.call_sheet_facts import (
    NAME,
    NUMBER,
    CallSheet,
    Fact,
    Known,
    Teller,
    capital,
    listed,
    span_words,
)
from boxlamp.paper.call_sheet_findings import (
    elapsed_words,
    finding,
    in_days,
    short_name,
    wrong,
)
from boxlamp.paper.call_sheet_request import request
from boxlamp.paper.reader import Reader
from boxlamp.view.board import CAUTION
from boxlamp.view.text import counted

_ROLES = {Level.WATCH: "watch", Level.CALL: "call", Level.GO: "go"}
_ASKS = {
    Level.WATCH: "watch closely",
    Level.CALL: "ring the vet",
    Level.GO: "leave for the vet",
}


def call_sheet(verdict: Verdict, reader: Reader) -> CallSheet:
    """What to say of this moment on the telephone, in the reader's clock and units."""
    teller = Teller(verdict, reader)
    whole, brief = _told(teller), _told(teller._replace(brief=True))
    return CallSheet(
        at=verdict.at,
        level=verdict.worst,
        facts=tuple(map(_either, whole.facts, brief.facts)),
        unknown=whole.unknown,
        caution=CAUTION,
    )


def _told(teller: Teller) -> Known:
    """Every fact of the sheet, people's words whole or cut, and what nobody has written down."""
    if not teller.verdict.story.entries:
        now = teller.reader.moment(teller.verdict.at)
        nothing = Fact("situation", "who", f"{now}. Nothing was written down of her by then.")
        return Known((_dial(teller), nothing, *request(teller)))
    behind, found = background(teller), assessment(teller)
    facts = (
        _dial(teller), *_situation(teller), *behind.facts, *found.facts, *request(teller)
    )  # fmt: skip
    return Known(facts, (*found.unknown, *behind.unknown))


def _either(whole: Fact, brief: Fact) -> Fact:
    """A fact in people's whole words, with the cut ones for when there is no room for them."""
    if whole == brief:
        return whole
    whole_still = [words for words in whole.shorter if words and words not in brief.shorter]
    return whole._replace(shorter=(*whole_still, brief.words, *brief.shorter))


def _dial(teller: Teller) -> Fact:
    """Whom to ring, how far it is, what time it is; its label is the level that stands."""
    litter = teller.verdict.litter
    level = teller.verdict.worst
    details = litter.details
    numbers = [teller.own(details.vet_phone, NUMBER)] if details.vet_phone else []
    if details.night_phone:
        numbers.append(f"night {teller.own(details.night_phone, NUMBER)}")
    name = teller.own(details.vet, NAME)
    if numbers:
        words = ", ".join(filter(None, (name, *numbers)))
    else:
        words = f"{name or 'The vet'}: no number is written down"
    if details.travel_minutes is not None:
        words += f"; {details.travel_minutes} min away"
    words = f"The vet is with her. {words}." if litter.with_vet(teller.verdict.at) else f"{words}."
    label = f"{level.mark} {level.word.upper()}" if level else "RING"
    return Fact("dial", label, words, worth=0, role=_ROLES[level] if level else "name")


def _situation(teller: Teller) -> Iterator[Fact]:
    """What time it is, who she is, what is wrong now, by which clock, and what else stands."""
    alerts = teller.verdict.alerts
    details = teller.verdict.litter.details
    who = [teller.own(details.dam, NAME) or "The dam", teller.own(details.breed, NAME)]
    words = f"{', '.join(filter(None, who))}: {_phase(teller)}."
    now, reader = teller.verdict.at, teller.reader
    told = f"{reader.moment(now)}. {words}"
    short = f"{reader.time(now)}. {words}"
    yield Fact("situation", "who", told, (short,), 0, role="name")
    if not alerts:
        calm = "No alert stands now. Say in your own words what worries you."
        yield Fact("situation", "wrong now", calm)
        return
    worst = next((alert for alert in alerts if wrong(alert, teller)), None)
    if worst is None:
        words = "Nothing that calls for a call stands."
        yield Fact("situation", "wrong now", words)
    else:
        yield Fact("situation", "wrong now", finding(worst, teller), role=_ROLES[worst.level])
        yield _clock(worst, teller)
    yield from _others([alert for alert in alerts if alert is not worst], teller)


def _phase(teller: Teller) -> str:
    """Where she is, and for how long."""
    litter = teller.verdict.litter
    if litter.caesarean is not None:
        return f"caesarean {teller.ago(litter.caesarean)}"
    if teller.stage == "after":
        if litter.last_birth is not None:
            return f"last pup {teller.ago(litter.last_birth)}"
        ended = litter.finished
        return f"the whelping ended {teller.ago(ended)}" if ended else "the whelping ended"
    since = litter.phase_since
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


def _clock(alert: Alert, teller: Teller) -> Fact:
    """Which clock it is, where it counts from, and the limit that was reached."""
    since, title = _since(alert, teller), alert.rule.title
    if not alert.limit:
        age = teller.age(alert.since)
        told = f"{since} ({age})" if age else since
        asks = f" It asks at once to {_ASKS[alert.level]}." if alert.level > Level.WATCH else ""
        words = f"{title}: since {told}.{asks}"
        return Fact("situation", "by the clock", words, (f"{title}: since {since}.",), 5)
    days = in_days(alert, teller)
    held = elapsed_words(alert, teller) if days else span_words(alert.elapsed)
    limit = f"{alert.limit.days} days" if days and alert.limit.days > 1 else span_words(alert.limit)
    reached = f"on {teller.reader.day(alert.raised)}" if days else teller.point(alert.raised)
    words = (
        f"{title}: {held} since {since}. The limit to {_ASKS[alert.level]} is {limit}, reached "
        f"{reached}."
    )
    short = f"{title}: {held} since {since}; limit {limit}."
    return Fact("situation", "by the clock", words, (short,), 5)


def _since(alert: Alert, teller: Teller) -> str:
    """Where the clock counts from; said to be an estimate when its entry is one."""
    opened = [
        entry
        for entry in teller.verdict.story.entries
        if entry.id in alert.spell.opened and entry.at == alert.since
    ]
    if opened:
        return teller.at(opened[0])
    days = in_days(alert, teller)
    return teller.reader.day(alert.since) if days else teller.moment(alert.since)


def _others(alerts: Sequence[Alert], teller: Teller) -> Iterator[Fact]:
    """The other alerts that ask to ring or to go, a line each; watches by their names."""
    loud = [alert for alert in alerts if alert.level >= Level.CALL]
    watches = [alert for alert in alerts if alert.level < Level.CALL]
    shown = loud if len(loud) <= _OWN_LINES else []
    for alert in shown:
        said, since = finding(alert, teller), f"since {_since(alert, teller)}."
        short = f"{short_name(alert, teller)}, {since}"
        yield Fact(
            "situation", f"{alert.level.mark} {alert.level.word.upper()}",
            f"{said} {capital(since)}" if not alert.limit else said,
            (said, short), 4, _ROLES[alert.level],
        )  # fmt: skip
    if len(loud) > _OWN_LINES:
        yield _together(loud)
    if watches:
        words = f"{'; '.join(_titles(watches).values())}."
        other = "other " if len(watches) < len(teller.verdict.alerts) else ""
        count = f"{counted(len(watches), f'{other}alert', f'{other}alerts')}."
        yield Fact("situation", "to watch", words, (count,), 1)


_OWN_LINES = 3


def _titles(alerts: Sequence[Alert]) -> dict[tuple[Level, str], str]:
    """Alerts by their level and title; pups with the same one named together."""
    groups: dict[tuple[Level, str], list[str]] = {}
    for alert in alerts:
        subject = [alert.subject] if alert.subject.startswith("pup ") else []
        groups.setdefault((alert.level, alert.rule.title), []).extend(subject)
    return {key: f"{key[1]}{_which(pups)}" for key, pups in groups.items()}


def _together(loud: Sequence[Alert]) -> Fact:
    """Many alerts by their titles, the worst first."""
    told = [f"{level.word.upper()} {named}" for (level, _), named in _titles(loud).items()]
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

"""The situation: who she is, what is wrong now, since when, by which clock."""

from collections.abc import Iterator, Sequence

from boxlamp.engine import Alert
from boxlamp.model.levels import Level
from boxlamp.paper.call_sheet.facts import ROLES, Fact
from boxlamp.paper.call_sheet.findings import elapsed_words, finding, in_days, short_name, wrong
from boxlamp.paper.call_sheet.teller import Teller
from boxlamp.paper.call_sheet.words import NAME, capital, listed, span_words
from boxlamp.view.text import counted

_ASKS = {
    Level.WATCH: "watch closely",
    Level.CALL: "ring the vet",
    Level.GO: "leave for the vet",
}


def situation(teller: Teller) -> Iterator[Fact]:
    """What time it is, who she is, what is wrong now, by which clock, and what else stands."""
    alerts = teller.verdict.alerts
    details = teller.verdict.litter.details
    who = [teller.own(details.dam, NAME) or "The dam", teller.own(details.breed, NAME)]
    words = f"{', '.join(filter(None, who))}: {_phase(teller)}."
    now, reader = teller.verdict.at, teller.reader
    told = f"{reader.moment(now)}. {words}"
    short = f"{reader.time(now)}. {words}"
    yield Fact("situation", "who", told, (short,), "date", role="name")
    if not alerts:
        calm = "No alert stands now. Say in your own words what worries you."
        yield Fact("situation", "wrong now", calm)
        return
    worst = next((alert for alert in alerts if wrong(alert, teller)), None)
    if worst is None:
        words = "Nothing that calls for a call stands."
        yield Fact("situation", "wrong now", words)
    else:
        yield Fact("situation", "wrong now", finding(worst, teller), role=ROLES[worst.level])
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
        if alert.level is Level.GO and teller.verdict.litter.on_the_way(teller.verdict.at):
            asks = " We are on the way."
        words = f"{title}: since {told}.{asks}"
        return Fact("situation", "by the clock", words, (f"{title}: since {since}.",), "clock")
    days = in_days(alert, teller)
    held = elapsed_words(alert, teller) if days else span_words(alert.counted)
    since = f"{'from' if alert.spell.held else 'since'} {since}"
    limit = f"{alert.limit.days} days" if days and alert.limit.days > 1 else span_words(alert.limit)
    reached = f"on {teller.reader.day(alert.raised)}" if days else teller.point(alert.raised)
    if alert.since + alert.limit == alert.raised:
        when = f", reached {reached}"
    else:
        when = _moved(alert, teller)
    words = f"{title}: {held} {since}. The limit to {_ASKS[alert.level]} is {limit}{when}."
    short = f"{title}: {held} {since}; limit {limit}."
    return Fact("situation", "by the clock", words, (short,), "clock")


def _moved(alert: Alert, teller: Teller) -> str:
    """Why an alert did not stand as soon as its clock had run so long: limits reach not back."""
    pages = teller.verdict.book.pages
    place = next((place for place, page in enumerate(pages) if page.start == alert.raised), 0)
    if place:
        new = [risk for risk in pages[place].risks if risk not in pages[place - 1].risks]
        why = f"{listed(new)} became known" if new else "it was changed"
        return f" (since {teller.moment(alert.raised)}, when {why})"
    later = alert.since + alert.limit < alert.raised
    return f"; it has stood so since {teller.moment(alert.raised)}" if later else ""


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
            (said, short), "other alerts", ROLES[alert.level],
        )  # fmt: skip
    if len(loud) > _OWN_LINES:
        yield _together(loud)
    if watches:
        words = f"{'; '.join(_titles(watches).values())}."
        other = "other " if len(watches) < len(teller.verdict.alerts) else ""
        count = f"{counted(len(watches), f'{other}alert', f'{other}alerts')}."
        yield Fact("situation", "to watch", words, (count,), "watches")


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
    return Fact(
        "situation",
        "and also",
        f"{'; '.join(told)}.",
        (fewer,),
        "other alerts",
        ROLES[max(levels)],
    )


def _which(pups: list[str]) -> str:
    """The pups an alert is about; many are only counted."""
    if not pups:
        return ""
    return f" ({listed(pups)})" if len(pups) <= _OWN_LINES else f" ({len(pups)} pups)"

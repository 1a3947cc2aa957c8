"""The request of a call: what the caller asks. Never what to do: that is for the vet to say."""

import re
from collections.abc import Iterator
from datetime import datetime

from boxlamp.engine import Alert
from boxlamp.model.entry import Entry
from boxlamp.model.happenings import Ack, Birth, Contraction, Note, VetContact
from boxlamp.model.levels import Level
from boxlamp.paper.call_sheet.facts import Fact
from boxlamp.paper.call_sheet.findings import wrong
from boxlamp.paper.call_sheet.talks import Talks, advice, contact, talks, theirs
from boxlamp.paper.call_sheet.teller import Teller
from boxlamp.paper.call_sheet.words import OWN_WORDS
from boxlamp.paper.telling import told_entry
from boxlamp.rules import not_breathing, pup_sign, sac_on_pup
from boxlamp.view.text import counted

_SAY_BACK = "Say back what the vet says, then type it: vet advised ..."
_YOU_COME = "Are you on the way to us, and how long will it take?"
_UNTIL = "Until when, and what should make me ring again?"
_BREATH = frozenset({"limp", "gasping", "blue"})
# Watches of these are about the coming days, not about the next minutes.
_NO_HURRY = frozenset({
    "birth-weight", "weight-loss", "weight-stalled", "weight-slow", "not-doubled", "litter-slow",
    "weighing-due", "milestone-due", "viability", "lochia-long", "vet-check-due",
    "eclampsia-window", "temperature-due",
})  # fmt: skip
# What a vet who wants to see her now has said, and what makes it another thing that was said.
_COME = re.compile(r"(?i)\b(?:come|coming|bring|bringing)\b")
_NOT_NOW = re.compile(
    r"(?i)\b(?:not|no|never|if|unless|until|when|later|tomorrow|morning|monday)\b|n['\u2019]t\b"
)
# What begins so behind a call was said or asked by the caller: it is no order to come.
_TO_THE_VET = re.compile(r"(?i)^\s*(?:i\s+)?(?:told|asked)\b(?!\s+(?:me|us)\b)")


def request(teller: Teller) -> Iterator[Fact]:
    """What to ask, and to say back what was answered."""
    asked, fewer = _question(teller), _question(teller, short=True)
    yield Fact("request", "ask", asked, (fewer,) if fewer != asked else (), role="do")
    yield Fact("end", "then", _SAY_BACK, role="do")


def _question(teller: Teller, *, short: bool = False) -> str:
    """What was said before comes first, then what is asked now.

    The short telling asks the first thing only, and leaves out what has come since.
    """
    if teller.verdict.litter.with_vet(teller.verdict.at):
        return "Nothing to ask on the telephone: the vet is with her. Show this sheet to the vet."
    said_again = talks(teller)
    spoken, left = said_again.newest, said_again.left
    before = _before(said_again, teller, short=short)
    gasping = [alert for alert in teller.verdict.alerts if breathless(alert)]
    if gasping:
        help_now = f"What do I do now for {gasping[0].subject}? Please stay on the line."
        if left is not None:
            return f"{before}{_left(left, teller)} {help_now}"
        if teller.verdict.worst is Level.GO or (spoken is not None and _sent_for(spoken)):
            return f"{before}{help_now}{_leaving(gasping[0], teller)}"
        hers = next(_hers(teller), None)
        then = f" Then: {_now(hers, spoken, left, teller)}" if hers and not short else ""
        return f"{before}{help_now}{then}"
    worst = next((one for one in teller.verdict.alerts if wrong(one, teller)), None)
    return f"{before}{_now(worst, spoken, left, teller)}"


def _before(said_again: Talks, teller: Teller, *, short: bool) -> str:
    """``You told me at 21:56: come at once. Since then:`` and what has come of her."""
    newest = said_again.newest
    if newest is None:
        return ""
    told = " ".join(_talk(one, teller) for one in said_again.spoken)
    since = "" if short else f"Since then: {_since(newest.at, teller)}. "
    return f"{told} {since}"


def _talk(entry: Entry, teller: Teller) -> str:
    """One talk; only what is surely the vet's is told as what the vet said."""
    said = advice(entry, teller).rstrip(".")
    if said and theirs(entry):
        return f"You told me {teller.on(entry)}: {said}."
    verbs = {"seen": "You saw her", "arrived": "You were with her"}
    verb = verbs.get(contact(entry), "I rang you")
    return f"{verb} {teller.on(entry)}{f'; noted: {said}' if said else ''}."


def _since(at: datetime, teller: Teller) -> str:
    """What has come of her since: pushes and pups in labour, else the newest thing seen."""
    later = [one for one in teller.verdict.story.entries if one.at > at]
    if teller.stage == "labour":
        pups = sum(isinstance(one.what, Birth) for one in later)
        pushes = sum(isinstance(one.what, Contraction) for one in later)
        told = counted(pushes, "push", "pushes") if pushes else "no push"
        return f"{told}, {counted(pups, 'pup', 'pups') if pups else 'no pup'} written down"
    news = [one for one in later if not isinstance(one.what, VetContact | Ack | Note)]
    if not news:
        return "nothing new written down"
    said = told_entry(news[-1], teller.reader)
    return teller.own(f"{said[:1].lower()}{said[1:]}", OWN_WORDS)


def breathless(alert: Alert) -> bool:
    """Whether an alert is about a pup that does not breathe as it should."""
    newborn = alert.rule.id in {not_breathing.ID, sac_on_pup.ID}
    return newborn or (alert.rule.id == pup_sign.ID and alert.spell.clock in _BREATH)


def _hers(teller: Teller) -> Iterator[Alert]:
    """The loud alerts that are about her."""
    for alert in teller.verdict.alerts:
        if alert.level >= Level.CALL and alert.rule.group != "each pup":
            yield alert


def _now(worst: Alert | None, spoken: Entry | None, left: Entry | None, teller: Teller) -> str:
    """What is asked now; ``spoken`` is when the vet last said something, ``left`` the leaving."""
    minutes = teller.verdict.litter.details.travel_minutes
    drive = f" The drive to you takes {minutes} min." if minutes is not None else ""
    if decided := _decided(worst, spoken, left, teller):
        until = "until then" if decided == _YOU_COME else "on the way"
        return f"{decided}{drive} What should I do {until}?"
    if worst is None or worst.level < Level.CALL:
        return _may_wait(worst, teller)
    who = _who(worst, teller)
    if worst.level is Level.GO:
        return f"I am about to leave with {who}.{drive} What should I do on the way?"
    if spoken is not None and spoken.at >= worst.raised:
        return f"What now?{drive} {_UNTIL.replace('Until when', 'Until when may I wait')}"
    why = f" because of {_afterbirth(worst)}" if worst.rule.group == "afterbirths" else ""
    return (
        f"Shall I bring {who} in now{why}?{drive} If not: until when may I wait, and what should "
        "make me ring again?"
    )


def _decided(worst: Alert | None, spoken: Entry | None, left: Entry | None, teller: Teller) -> str:
    """Who goes to whom, where that is settled; empty while it is to be asked."""
    if left is not None:
        return _left(left, teller)
    if teller.verdict.litter.awaits_vet(teller.verdict.at):
        return _YOU_COME
    sent_for = spoken is not None and _sent_for(spoken)
    return f"I am coming with {_who(worst, teller)}." if sent_for else ""


def _sent_for(spoken: Entry) -> bool:
    """Whether the vet has said to come, and not that she need not or only under a condition."""
    what = spoken.what
    said = f"{what.said if isinstance(what, VetContact) else ''} {spoken.note}"
    if not theirs(spoken) and _TO_THE_VET.search(said):
        return False
    return _COME.search(said) is not None and _NOT_NOW.search(said) is None


def _leaving(alert: Alert, teller: Teller) -> str:
    """That they are about to drive, and how far it is: whoever answers has to get ready."""
    if teller.verdict.litter.awaits_vet(teller.verdict.at):
        return f" {_YOU_COME}"
    minutes = teller.verdict.litter.details.travel_minutes
    far = f"{minutes} min away and " if minutes is not None else ""
    return f" I am {far}about to leave with {_who(alert, teller)}."


def _left(entry: Entry, teller: Teller) -> str:
    return f"We left for you {teller.when(entry)}."


def _may_wait(watch: Alert | None, teller: Teller) -> str:
    """What is asked when nothing calls for a call."""
    if watch is not None and watch.rule.group == "afterbirths":
        return f"May we wait for {_afterbirth(watch)}? {_UNTIL}"
    if watch is not None and watch.rule.id in _NO_HURRY:
        until = "until the morning" if teller.night else "until tomorrow"
        return f"May this wait {until}? What should make me ring before that?"
    if teller.stage == "after" and (watch is None or watch.rule.group != "each pup"):
        return f"May this wait? {_UNTIL}"
    return f"May {_who(watch, teller).replace('her', 'she')} wait? {_UNTIL}"


def _afterbirth(alert: Alert) -> str:
    """``the afterbirth of pup 2``, ``the afterbirths``."""
    if alert.subject.startswith("pup "):
        return f"the afterbirth of {alert.subject}"
    return "the afterbirths"


def _who(alert: Alert | None, teller: Teller) -> str:
    """Whom it is about: her, a pup, or with pups to come both, her first."""
    if alert is None or alert.rule.group != "each pup":
        return "her"
    pup = alert.subject if alert.subject.startswith("pup ") else "the pups"
    return f"her and {pup}" if teller.stage == "labour" else pup

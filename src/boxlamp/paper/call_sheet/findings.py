"""An alert as a finding that can be read aloud to a vet.

The sentence of a rule speaks to whoever sits at the box, and often says what to do there. On the
telephone only what was found is told: of whom, what, and for how long.
"""

import re
from datetime import timedelta

from boxlamp.engine import FAILED, Alert, also_words
from boxlamp.model.levels import Level
from boxlamp.model.spans import ago, in_words, lasting
from boxlamp.paper.call_sheet.teller import Teller
from boxlamp.paper.call_sheet.words import capital
from boxlamp.rules import (
    afterbirth_surplus,
    birth_reference,
    box_cold,
    box_hot,
    first_milk,
    litter_losses,
    litter_short,
    litter_slow,
    log_quiet,
    not_breathing,
    not_doubled,
    overdue,
    pup_cold,
    pup_hot,
    pup_sign,
    sac_on_pup,
)
from boxlamp.view.text import clean

# Our choice: a sentence of a rule is far shorter; only a fault could make it longer.
_SENTENCE = 300
_DAY = timedelta(days=1)

FINDINGS: dict[tuple[str, str], str] = {
    (first_milk.ID, ""): "No first milk noted for {subject}, born {ago}.",
    (sac_on_pup.ID, ""): "{subject} has been in its sac {lasting}.",
    (not_breathing.ID, ""): "{subject} is {detail}, {lasting}.",
    (not_breathing.ID, "limp"): "{subject} is limp, and breathing is not noted, {lasting}.",
    (pup_sign.ID, "crying"): "{subject} has been crying {lasting}{also}.",
    (pup_sign.ID, "limp"): "{subject} has been limp {lasting}{also}.",
    (pup_sign.ID, "gasping"): "{subject} has been gasping {lasting}{also}.",
    (pup_sign.ID, "blue"): "{subject} has been blue {lasting}{also}.",
    (pup_sign.ID, "cold"): "{subject} has been cold to the hand {lasting}{also}.",
    (pup_sign.ID, "cleft-palate"): "{subject} has a cleft palate{also}.",
    (pup_sign.ID, "fits"): "{subject} has fits, first seen {ago}{also}.",
    (pup_sign.ID, "weak"): "{subject} has been weak {lasting}{also}.",
    (pup_sign.ID, "milk-at-nose"): "Milk at the nose of {subject}, first seen {ago}{also}.",
    (pup_sign.ID, "litter"): "Signs in {detail} within a day.",
    (pup_cold.ID, ""): "{subject} is cold: {found}.",
    (pup_cold.ID, "warming"): "{subject} has been too cold to be fed {lasting}.",
    (pup_hot.ID, ""): "{subject} is too hot: {found}.",
    (litter_short.ID, ""): "It was written down that she has finished, but pups are missing: "
    "{detail}.",
    (litter_losses.ID, "rest"): "Pups of this litter were lost: {detail}.",
    (litter_slow.ID, ""): "{detail} gain too little.",
    (not_doubled.ID, "not-weighed"): "{subject}, {elapsed} old, was last weighed at {detail}.",
    (log_quiet.ID, ""): "Nothing has been written down {lasting}.",
    (afterbirth_surplus.ID, ""): "There are more afterbirths than pups written down.",
    (box_cold.ID, ""): "It is too cold where the pups lie: {detail}.",
    (box_hot.ID, ""): "It is too hot where the pups lie: {detail}.",
}
"""What is told instead of a rule's sentence that is an order or a question, by rule and clock."""

# What these watch is what a labour waits for; the rest can be kept an eye on meanwhile.
_LOSING_TIME = frozenset({"before labour", "labour", "the dam"})
_SOURCE = re.compile(r" \((?:[A-Z]\w+(?: et al\.?| and [A-Z]\w+)?,? \d{4})\)")


def finding(alert: Alert, teller: Teller) -> str:
    """What was found, as a sentence in the reader's units; a failed rule says that it failed."""
    if alert.spell.clock == FAILED:
        return (
            f"The rule {alert.rule.id} has failed and watches nothing: what it would have found "
            "is not known."
        )
    held = elapsed_words(alert, teller)
    said = _template(alert).format(
        elapsed=held,
        lasting=lasting(alert.elapsed) if alert.elapsed < _DAY else f"for {held}",
        ago=ago(alert.elapsed) if alert.elapsed < _DAY else f"{held} ago",
        subject=alert.subject,
        detail=clean(alert.spell.detail),
        also=also_words(alert.rule, alert.spell, alert.also),
        found=clean(alert.spell.detail).partition(";")[0],
    )
    said = teller.reader.sentence(_SOURCE.sub("", _named(said, alert, teller)))
    return teller.own(capital(said), _SENTENCE)


def _template(alert: Alert) -> str:
    rule, clock = alert.rule.id, alert.spell.clock
    if rule == not_breathing.ID and alert.spell.detail == "limp":
        return FINDINGS[rule, "limp"]
    known = clock if clock in alert.rule.says else ""
    return FINDINGS.get((rule, known), alert.rule.sentence(clock))


def _named(said: str, alert: Alert, teller: Teller) -> str:
    """The sentence with the pup it is about called by its mark as well."""
    if not alert.subject.startswith("pup "):
        return said
    name = _name(alert.subject, teller)
    if alert.subject in said:
        return said.replace(alert.subject, name, 1)
    return f"{name}: {said[:1].lower()}{said[1:]}"


def in_days(alert: Alert, teller: Teller) -> bool:
    """Whether a clock counts from a date without a time, so that its hours mean nothing."""
    return alert.rule.id == overdue.ID or any(
        entry.certainty == "day"
        for entry in teller.verdict.story.entries
        if entry.id in alert.spell.opened and entry.at == alert.since
    )


def elapsed_words(alert: Alert, teller: Teller) -> str:
    """How long it has been so; in whole days where only the date is known."""
    if in_days(alert, teller) and alert.elapsed >= _DAY:
        days = alert.elapsed.days
        return f"{days} {'day' if days == 1 else 'days'}"
    return in_words(alert.elapsed)


def wrong(alert: Alert, teller: Teller) -> bool:
    """Whether an alert is what is wrong now, and not only something to keep an eye on.

    In the middle of a labour a light pup, a milk that is late or a missing line is not.
    """
    if alert.level >= Level.CALL or teller.stage != "labour":
        return True
    urgency = alert.urgency
    if alert.rule.id == birth_reference.ID or urgency == "records":
        return False
    return alert.in_minutes or alert.rule.group in _LOSING_TIME


def short_name(alert: Alert, teller: Teller) -> str:
    """The alert in a few words: its title, and the pup it is about."""
    if not alert.subject.startswith("pup "):
        return alert.rule.title
    return f"{alert.rule.title}, {_name(alert.subject, teller)}"


def _name(subject: str, teller: Teller) -> str:
    """What a pup is called; of one whose birth was struck, that it is not written down."""
    pup = teller.verdict.litter.pups.get(int(subject[4:]))
    return teller.pup(pup) if pup else f"{subject} (not written down)"

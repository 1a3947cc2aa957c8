"""What to say once, right after an entry was written down: the order of work at the box.

Prompts are no alerts. They come at the moment at which they help, and never again. The words
are data, each with where it comes from; the code below only picks.
"""

from datetime import timedelta
from decimal import Decimal
from typing import NamedTuple

from boxlamp.model.entry import Entry
from boxlamp.model.happenings import (
    Birth,
    Contraction,
    Feed,
    Finished,
    PupState,
    Sign,
    Step,
    Temperature,
    Waters,
)
from boxlamp.model.litter import Litter, Pup
from boxlamp.model.seen import SignName
from boxlamp.model.zones import zone_named
from boxlamp.rules.feeding import FEED_FROM, felt_too_cold, too_cold_to_feed

PRACTICE = "common practice"
_RESTLESS: frozenset[SignName] = frozenset({"panting", "restless", "shivering"})

LOW_CELSIUS = Decimal("37.2")
"""At or below this her temperature has probably dropped (Cavanagh, excerpt read: under 99 °F)."""


class Prompt(NamedTuple):
    """One thing to say. ``only`` and ``unless`` name facts that must, or must not, be so."""

    says: str
    source: str = PRACTICE
    only: frozenset[str] = frozenset()
    unless: frozenset[str] = frozenset()


def _prompt(says: str, source: str = PRACTICE, *, only: str = "", unless: str = "") -> Prompt:
    return Prompt(says, source, frozenset(only.split()), frozenset(unless.split()))


_GUIDELINE = "Boller et al. 2025, doi:10.1111/vec.70013 (abstract read)"
_DAVIDSON = "Davidson, conference text on newborn resuscitation (excerpt read)"

BIRTH = (
    _prompt("Tear the sac at the face now.", "Majolino & Ranieri (excerpt read)", only="in-sac"),
    _prompt("Open the sac, if it is still on.", unless="in-sac alive dead caesarean"),
    _prompt("Clear the mouth, then the nose, head low.", _GUIDELINE, unless="dead caesarean"),
    _prompt("Rub it dry.", _GUIDELINE, unless="dead caesarean"),
    _prompt("No swinging, no big breaths.", _DAVIDSON, only="limp"),
    _prompt("Keep it warm.", _GUIDELINE, unless="dead"),
    _prompt(
        "Cord: only if it bleeds or needs cutting, tie it about 2 cm from the belly and cut on "
        "the far side. Never pull on it.",
        "lay pages give 1.3 to 2.5 cm; the rest is common practice",
        unless="dead caesarean",
    ),
    _prompt("Not sure that it is dead? Rub, clear, warm, as for a limp pup.", only="dead"),
    _prompt("Put it aside and cool, for the vet to look at.", only="dead"),
    _prompt("Weigh it.", unless="dead weighed"),
    _prompt("Mark it.", unless="dead marked"),
    _prompt("Look at the palate with a light.", unless="dead"),
    _prompt("Once it is warm: to the teat.", "Chastant & Mila 2019 (excerpt read)", unless="dead"),
    _prompt("Watch for its afterbirth.", unless="caesarean"),
    _prompt("Wash your hands and change gloves."),
)
LAST_EXPECTED = (
    _prompt(
        "That is the number expected. There may be one more: go on writing down every push.",
        "dvm360, an x-ray shows the least number (excerpt read)",
    ),
    _prompt("Write `finished` when she lies relaxed with her pups."),
)
NEXT_COMING = (_prompt("Put the pups aside in the warm box until the next one is born."),)
FIRST_SIGNS = (
    _prompt("Stay near her. Keep the room warm and quiet."),
    _prompt("Take her temperature and write it down."),
    _prompt("Lay out towels, thread, scissors, scale and gloves. Have the vet's number at hand."),
    _prompt("Write down the first push, the waters, and if she settles again."),
)
WATERS = (
    _prompt("Write down their colour.", unless="coloured"),
    _prompt(
        "If what comes is or turns green or black before the first pup is born: ring the vet.",
        "Lopate, Clinician's Brief (criteria list read)",
        unless="born",
    ),
    _prompt("Write down every push from now on."),
)
FINISHED = (
    _prompt(
        "No pup is written down. If she pushes, or anything shows, she has not finished: ring "
        "the vet now.",
        unless="born caesarean",
    ),
    _prompt(
        "Have the vet see her and the pups within 24 hours.",
        "home veterinary handbook on metritis (reported by another source)",
    ),
    _prompt(
        "Pups {born}, afterbirths {passed}. Afterbirths not accounted for: {owed}.",
        only="born",
        unless="caesarean",
    ),
    _prompt("Look for what is missing and write it down.", only="owing"),
    _prompt(
        "{born} of the {expected} guessed are written down. Not sure that she is empty? Have the "
        "vet look.",
        only="fewer",
        unless="caesarean",
    ),
    _prompt(
        "Take her temperature every day for the next two weeks.",
        "home veterinary handbook on metritis (reported by another source)",
    ),
)
NURSING = (
    _prompt(
        "Panting or restless while she nurses: look closely. Stiff, trembling, unsteady or "
        "staring (`dam trembling`, `dam stiff`): leave for the vet now.",
        "Five-Minute consult on eclampsia (excerpt read)",
    ),
    _prompt("Is the room too warm? Take her temperature and write it down."),
)
LOW_TEMPERATURE = (
    _prompt(
        "That is low: labour often follows within a day.",
        "Cavanagh, Clinician's Brief (excerpt read)",
    ),
    _prompt("Take it again within 2 hours to be sure, and write it down."),
    _prompt("Do not leave her alone from now on. A temperature that stays up proves nothing."),
)
_PEDIATRICS = "Small Animal Pediatrics, ch. 6 (excerpt read); the margin up to 35.0 °C is ours"
COLD_PUP = (
    _prompt(
        "Warm it first, slowly, over 1 to 3 hours. Do not feed it until it is at 35.0 °C.",
        _PEDIATRICS,
    ),
    _prompt("Take its temperature again in 30 minutes and write it down."),
)
FELT_COLD = (
    _prompt("Warm it first, slowly. Do not feed it while it is cold.", _PEDIATRICS),
    _prompt("Take its temperature and write it down."),
)
COLD_NEWBORN = (
    _prompt(
        "Under an hour old, cold is usual and brings no alert.",
        "the limits of `pup-cold` and `pup-sign` begin after the first hour",
    ),
    _prompt("Pup {pup}: write it down again {later} if it is still cold.", "our choice"),
)
"""So that nobody takes the silence for a clock that runs."""
_BREATHED_IN = _prompt("Under 35.0 °C milk may come up and be breathed in.", _PEDIATRICS)
TOO_COLD_TO_FEED = (_prompt("Stop feeding pup {pup}: warm it first.", _PEDIATRICS), _BREATHED_IN)
FELT_TOO_COLD = (
    _prompt(
        "Pup {pup} was cold to the hand: if it still is, stop feeding it and warm it first.",
        _PEDIATRICS,
    ),
    _BREATHED_IN,
)

NEWBORN_FOR = timedelta(hours=1)
"""The age from which cold counts. The protocol says it for the rules, and a test compares them."""


def prompts_for(entry: Entry, litter: Litter) -> tuple[str, ...]:
    """What to say once about this entry; ``litter`` is as it stands with the entry in it."""
    pup = litter.pups.get(getattr(entry.what, "pup", None) or 0)
    counts = {
        "pup": "" if pup is None else pup.number,
        "later": "" if pup is None else _grown_older(entry, pup),
        "born": litter.born,
        "passed": litter.ledger.passed,
        "owed": len(litter.ledger.owed),
        "expected": litter.expected,
    }
    facts = _facts(entry, litter)
    return tuple(
        prompt.says.format(**counts)
        for prompt in _chosen(entry, litter)
        if prompt.only <= facts and not prompt.unless & facts
    )


def _chosen(entry: Entry, litter: Litter) -> tuple[Prompt, ...]:
    """The prompts that belong to this moment."""
    chosen: tuple[Prompt, ...] = ()
    match entry.what:
        case Birth():
            chosen = BIRTH + (LAST_EXPECTED if litter.born == litter.expected else ())
        case Contraction() if litter.first_push == entry and litter.alive:
            chosen = NEXT_COMING
        case Sign(signs=signs):
            chosen = _of_signs(set(signs), entry, litter)
        case Waters():
            chosen = WATERS
        case Finished():
            chosen = FINISHED
        case Temperature(where="dam", celsius=value) if value <= LOW_CELSIUS:
            chosen = () if litter.labour_since or litter.caesarean else LOW_TEMPERATURE
        case Temperature(where="pup", pup=int(), celsius=value) if value < FEED_FROM:
            chosen = COLD_PUP
        case PupState(signs=signs) if "cold" in signs:
            chosen = FELT_COLD
        case Feed(pup=pup) | Step(pup=pup, step="milk" | "teat") if pup in litter.pups:
            chosen = _of_feeding(litter.pups[pup], entry)
        case _:
            pass
    newborn = chosen in {COLD_PUP, FELT_COLD} and _is_newborn(entry, litter)
    return chosen + COLD_NEWBORN if newborn else chosen


def _of_feeding(pup: Pup, entry: Entry) -> tuple[Prompt, ...]:
    """Whether the pup that was fed should have been warmed first."""
    if too_cold_to_feed(pup, entry.at):
        return TOO_COLD_TO_FEED
    return FELT_TOO_COLD if felt_too_cold(pup, entry.at) else ()


def _is_newborn(entry: Entry, litter: Litter) -> bool:
    """Whether the cold of this pup, at its age, begins no clock."""
    pup = litter.pups.get(getattr(entry.what, "pup", 0))
    return pup is not None and pup.alive and entry.at - pup.born < NEWBORN_FOR


def _grown_older(entry: Entry, pup: Pup) -> str:
    """From when its cold counts: ``at 03:05``, or ``now`` when the line was typed after that."""
    due = pup.born + NEWBORN_FOR
    if entry.recorded >= due:
        return "now"
    return f"at {due.astimezone(zone_named(entry.zone)):%H:%M}"


def _of_signs(signs: set[SignName], entry: Entry, litter: Litter) -> tuple[Prompt, ...]:
    """What signs of the first stage mean before the whelping, and while she nurses."""
    if litter.phase == "after whelping":
        return NURSING if _RESTLESS & signs and litter.alive else ()
    begun = (litter.phase, litter.phase_since) == ("first stage", entry.at)
    return FIRST_SIGNS if begun else ()


def _facts(entry: Entry, litter: Litter) -> set[str]:
    """What is known at this moment, in the words the prompts use."""
    facts = {
        "born": bool(litter.pups),
        "owing": bool(litter.ledger.owed),
        "caesarean": litter.caesarean is not None,
        "fewer": _fewer_than_guessed(litter),
    }
    match entry.what:
        case Birth() as birth:
            facts |= {
                "in-sac": birth.in_sac,
                "weighed": birth.weight is not None,
                "marked": birth.mark is not None,
                birth.state or "state-unknown": True,
            }
        case Waters(colour=colour):
            facts["coloured"] = colour != "unknown"
        case _:
            pass
    return {fact for fact, holds in facts.items() if holds}


def _fewer_than_guessed(litter: Litter) -> bool:
    """Whether pups are missing by a guess; missing by a scan or an x-ray is an alert."""
    guessed = litter.expected_by not in {"xray", "scan"}
    return guessed and 0 < litter.born < (litter.expected or 0)

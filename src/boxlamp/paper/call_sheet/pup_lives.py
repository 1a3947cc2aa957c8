"""Which pups live: what showed it, and the hard starts that some of them had."""

from datetime import timedelta
from typing import NamedTuple

from boxlamp.model.entry import Entry
from boxlamp.model.happenings import Birth, Feed, PupState, Step, Weight
from boxlamp.model.litter import Litter, Pup
from boxlamp.model.spans import in_words
from boxlamp.paper.call_sheet.facts import Fact, Known
from boxlamp.paper.call_sheet.teller import Teller
from boxlamp.paper.call_sheet.words import capital, listed
from boxlamp.rules.not_breathing import limp_words

# What can be seen in a pup that is dead, or not seen at all, says nothing of its life.
_NO_LIFE = frozenset({
    "limp", "not-breathing", "blue", "pale", "cold", "cleft-palate", "no-anus", "open-fontanelle",
    "splayed-legs", "dark-tips", "sleeps-still", "bloated", "navel", "swollen-eye",
})  # fmt: skip
_TROUBLE = {"limp": "limp", "not-breathing": "not breathing", "gasping": "gasping", "blue": "blue"}
# Our choice: for how long a hard start is worth a line.
_FIRST_HOURS = timedelta(hours=12)


def living(teller: Teller) -> str:
    """How many live: only what was written down of each tells that, not that none died."""
    litter = teller.verdict.litter
    dead = litter.born - litter.alive
    lively = _shown_alive(teller)
    proved = all(pup.number in lively for pup in litter.in_order if pup.alive)
    if not dead:
        return "all alive" if proved else "none noted dead"
    if not litter.alive:
        return "all dead" if dead > 1 else "dead"
    return f"{litter.alive} alive, {dead} dead" if proved else f"{dead} dead, no other noted dead"


def _shown_alive(teller: Teller) -> set[int]:
    """The pups with a sign of life after which none was limp, blue, gasping or not breathing."""
    shown = set[int]()
    for entry in teller.verdict.story.entries:
        match entry.what:
            case PupState(pup=int() as pup, signs=signs) if _TROUBLE.keys() & set(signs):
                shown.discard(pup)
            case _:
                number = _alive(entry, teller.verdict.litter)
                shown |= set() if number is None else {number}
    return shown


def _alive(entry: Entry, litter: Litter) -> int | None:
    """The pup that an entry shows to be alive, if it does."""
    match entry.what:
        case Birth(pup=number, state="alive"):
            return number
        case Step(step="breathing" | "milk" | "teat", pup=number) | Feed(pup=number):
            return number
        case Weight(pup=int() as number) if number in litter.pups:
            return number if entry.at > litter.pups[number].born else None
        case PupState(pup=number, signs=signs) if not _NO_LIFE.issuperset(signs):
            return number
        case _:
            return None


def came_round(teller: Teller) -> Known:
    """Pups that were limp or did not breathe at first and then did: of weight for some hours."""
    told = [said for pup in teller.verdict.litter.in_order if (said := _came_round(pup, teller))]
    if not told:
        return Known(())
    words = f"{capital('; '.join(told))}."
    return Known((Fact("assessment", "came round", words, ("",), "hard start"),))


class _Turn(NamedTuple):
    """A trouble that a pup came out of: how that is told, by what it showed, and in which line."""

    words: str
    better: str
    entry: Entry


def _came_round(pup: Pup, teller: Teller) -> str:
    """``pup 3: limp at birth, breathing after 3 min``, then each later time of trouble."""
    told = [turn.words for turn in _turns(pup, teller)]
    return f"{teller.pup(pup)}: {', then '.join(told)}" if told else ""


def cry_of_recovery(pup: Pup, teller: Teller) -> Entry | None:
    """The line in which it cried, where that is what showed last that it came round."""
    turns = _turns(pup, teller)
    return turns[-1].entry if turns and turns[-1].better == "crying" else None


def _turns(pup: Pup, teller: Teller) -> list[_Turn]:
    """Each trouble of its first hours that it came out of, in order.

    None while a trouble lasts: then the pup is not well, and is told so.
    """
    if not pup.here or teller.verdict.at - pup.born > _FIRST_HOURS:
        return []
    born = f"{limp_words(pup.birth)} at birth"
    trouble, began = born if pup.state == "limp" else "", pup.birth
    told = list[_Turn]()
    for entry in teller.verdict.story.of(Step, PupState):
        seen, better = _breath(entry, pup)
        if seen and not trouble:
            again = f" {teller.on(entry)}" if told else ""
            trouble, began = f"{listed(seen)}{again}", entry
        elif better and trouble and not seen:
            words = f"{trouble}, {better} after {_span(began, entry)}"
            told.append(_Turn(words, better, entry))
            trouble = ""
    return [] if trouble else told


def _breath(entry: Entry, pup: Pup) -> tuple[list[str], str]:
    """What an entry says of a pup's breath: its troubles, and what shows that it breathes."""
    match entry.what:
        case PupState(pup=number, signs=signs) if number == pup.number:
            better = next((sign for sign in ("crying", "well") if sign in signs), "")
            return [_TROUBLE[sign] for sign in signs if sign in _TROUBLE], better
        case Step(step="breathing", pup=number) if number == pup.number:
            return [], "breathing"
        case _:
            return [], ""


def _span(began: Entry, ended: Entry) -> str:
    """From one entry to another; about so long when a time is an estimate."""
    sure = began.certainty == ended.certainty == "seen"
    return f"{'' if sure else 'about '}{in_words(ended.at - began.at)}"

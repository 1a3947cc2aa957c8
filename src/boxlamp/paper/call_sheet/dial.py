"""Whom to ring: every number whole, how far it is, and the level that stands.

Without the number nothing else on the sheet is of any use, so it is the last thing to give way.
"""

from collections.abc import Iterator

from boxlamp.paper.call_sheet.facts import ROLES, Fact
from boxlamp.paper.call_sheet.teller import Teller
from boxlamp.paper.call_sheet.words import NAME, own
from boxlamp.view.telephones import in_order, telephones, without_numbers
from boxlamp.view.text import width_of

# What one line of 80 columns holds beside its label.
_LINE = 67
# Our choice: what has more figures is no number to dial.
_MOST = 20
# Our choice: nobody dials more than these one after the other.
_OF_ONE_FIELD = 4


def dial(teller: Teller) -> Fact:
    """Whom to ring and how far it is; its label is the level that stands.

    It is told on one line. Where that is too narrow each number has a line of its own, above
    the name.
    """
    level = teller.verdict.worst
    whole, brief = teller._replace(brief=False), teller._replace(brief=True)
    label = f"{level.mark} {level.word.upper()}" if level else "RING"
    numbers = list(_numbers(whole))
    apart = tuple("\n".join(filter(None, (*_numbers(one), _who(one)))) for one in (whole, brief))
    return Fact(
        "dial", label, _on_one_line(whole, numbers), apart if numbers else (),
        role=ROLES[level] if level else "name",
    )  # fmt: skip


def _name(teller: Teller) -> str:
    """Who answers; a number in the name that stands beside it is not said twice."""
    details = teller.verdict.litter.details
    numbers = filter(None, (details.vet_phone, details.night_phone))
    return teller.own(without_numbers(details.vet or "", numbers), NAME)


def _on_one_line(teller: Teller, numbers: list[str]) -> str:
    name = _name(teller)
    if numbers:
        words = ", ".join(filter(None, (name, *numbers)))
    else:
        words = f"{name or 'The vet'}: no number is written down"
    return f"{_with_her(teller)}{words}{_away(teller)}."


def _who(teller: Teller) -> str:
    """Who answers and how far it is, when the numbers stand above."""
    name = _name(teller)
    away = _away(teller)
    told = f"{name or 'The vet'}{away}." if name or away else ""
    return f"{_with_her(teller)}{told}".strip()


def _with_her(teller: Teller) -> str:
    there = teller.verdict.litter.with_vet(teller.verdict.at)
    return "The vet is with her. " if there else ""


def _away(teller: Teller) -> str:
    minutes = teller.verdict.litter.details.travel_minutes
    return f"; {minutes} min away" if minutes is not None else ""


def _numbers(teller: Teller) -> Iterator[str]:
    """The number by day and the one at night, as they were typed; by night that one first."""
    details, now = teller.verdict.litter.details, teller.verdict.at
    for before, field in in_order(details.vet_phone, details.night_phone, now, teller.reader.zone):
        words = teller._replace(brief=False).own(field, _LINE)
        if words:
            yield f"{before}{_briefly(words, _LINE - len(before)) if teller.brief else words}"


def _briefly(words: str, cells: int) -> str:
    """A field that is wider than a line without what was typed round its numbers."""
    if width_of(words) <= cells:
        return words
    found = [number for number in telephones(words) if _digits(number) <= _MOST]
    return f"{', '.join(found[:_OF_ONE_FIELD])}~" if found else own(words, cells)


def _digits(number: str) -> int:
    return sum(char.isdigit() for char in number)

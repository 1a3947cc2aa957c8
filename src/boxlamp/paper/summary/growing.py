"""The weeks after: every weighing as a table, and what each pup has reached."""

from collections.abc import Iterator
from datetime import datetime, timedelta
from decimal import Decimal

from boxlamp.paper.account.models import Account, PupAccount
from boxlamp.paper.document import Cell, Column, Section, Table, Words
from boxlamp.paper.reader import Reader
from boxlamp.paper.summary.words import names
from boxlamp.view.text import day_text

# Weighings of the litter that lie as close together as this are one row (our choice).
_ROUND = timedelta(hours=2)
_FEWEST = 2
_DAY = timedelta(days=1)
_REACHED = {
    "cord-off": "Cord off", "eyes-open": "Eyes open", "ears-open": "Ears open",
    "walking": "Walking", "toilet": "Toilet alone", "weaned": "Weaned", "wormed": "Wormed",
    "vaccinated": "Vaccinated", "chipped": "Transponder", "left-home": "Left home",
}  # fmt: skip

Row = tuple[datetime, dict[int, Decimal]]


def weights_section(account: Account, reader: Reader) -> Section | None:
    """Every weighing of the litter, once there is more than the birth weights."""
    if not any(len(one.weights) >= _FEWEST for one in account.weights):
        return None
    pups = [pup for pup in account.pups if any(one.pup == pup.number for one in account.weights)]
    columns = (
        Column("When", 1.6),
        Column("Day", 0.6, "right"),
        *(Column(_heading(pup), 1.0, "right") for pup in pups),
    )
    rows = [_births(pups, reader)]
    rows += [_row(row, pups, reader) for row in _rounds(account)]
    unit = "grams" if reader.weights == "g" else "ounces"
    told = Words(f"In {unit}. Day: completed days since the first pup.", "dim")
    return Section("Weights", (told, Table(columns, tuple(rows))))


def _heading(pup: PupAccount) -> str:
    return f"{pup.number} {pup.mark}" if pup.mark else f"pup {pup.number}"


def _births(pups: list[PupAccount], reader: Reader) -> tuple[Cell, ...]:
    weights = (_number(pup.birth_weight_g, reader) for pup in pups)
    return (Cell("at birth"), Cell("0"), *(Cell(weight) for weight in weights))


def _number(grams: Decimal | None, reader: Reader) -> str:
    return "" if grams is None else reader.weight(grams).split()[0]


def _rounds(account: Account) -> Iterator[Row]:
    """The weighings after the birth weights, those close together in one row."""
    births = {pup.number: pup.birth_weight_g for pup in account.pups}
    later = sorted(
        (weight.at, one.pup, weight.grams)
        for one in account.weights
        for place, weight in enumerate(one.weights)
        if place or births.get(one.pup) is None
    )
    row: Row | None = None
    for at, pup, grams in later:
        if row is not None and at - row[0] <= _ROUND and pup not in row[1]:
            row[1][pup] = grams
            continue
        if row is not None:
            yield row
        row = at, {pup: grams}
    if row is not None:
        yield row


def _row(row: Row, pups: list[PupAccount], reader: Reader) -> tuple[Cell, ...]:
    at, weights = row
    first = min(pup.born for pup in pups)
    return (
        Cell(reader.moment(at)),
        Cell(str(max(0, (at - first) // _DAY))),
        *(Cell(_number(weights.get(pup.number), reader)) for pup in pups),
    )


def growing_section(account: Account, reader: Reader) -> Section | None:
    """What each pup has reached and what was done for it, with the day it was last done."""
    reached = {one.milestone for pup in account.pups for one in pup.milestones}
    if not reached:
        return None
    shown = [name for name in _REACHED if name in reached]
    columns = (Column("Pup", 1.6), *(Column(_REACHED[name], 1.2) for name in shown))
    called = names(account)
    rows = tuple(
        (Cell(called[pup.number]), *(Cell(_when(pup, name, reader)) for name in shown))
        for pup in account.pups
    )
    told = Words("The day it was last written down; worming may have been done before.", "dim")
    return Section("The pups since", (told, Table(columns, rows)))


def _when(pup: PupAccount, name: str, reader: Reader) -> str:
    for one in pup.milestones:
        if one.milestone == name:
            day = day_text(one.at, reader.zone)
            return f"{one.number} {day}" if one.number else day
    return ""

"""The pups as a vet reads them: a row each, what was noted of them, and their afterbirths."""

from collections.abc import Callable, Iterator
from typing import NamedTuple

from boxlamp.paper.account.models import Account, PupAccount
from boxlamp.paper.document import Cell, Column, Points, Role, Section, Table, Words
from boxlamp.paper.reader import Reader
from boxlamp.paper.summary.words import length, listed, names, seen_alive
from boxlamp.paper.telling import told_entry
from boxlamp.view.text import counted
from boxlamp.view.weights_words import change_words

_PRESENTED = {"head": "head first", "feet": "feet first", "rump": "rump first"}
_ITEMS = 5
_WELL = "well"


class _Field(NamedTuple):
    """A column of the table of pups, and what it says of each pup."""

    column: Column
    says: Callable[[PupAccount], Cell]
    always: bool = True
    """Whether it stands there also when it says nothing of any pup."""


def pups_section(account: Account, reader: Reader) -> Section:
    """One row per pup, in order of birth. The newest weight has a column once there is one."""
    every = [*_of_birth(account, reader), *_since(account, reader)]
    told = [[field.says(pup) for pup in account.pups] for field in every]
    shown = [
        (field.column, cells)
        for field, cells in zip(every, told, strict=True)
        if field.always or any(cell.text for cell in cells)
    ]
    columns = tuple(column for column, _ in shown)
    rows = tuple(zip(*(cells for _, cells in shown), strict=True))
    blocks: list[Table | Words] = [Table(columns, rows, "No pup was written down.")]
    blocks += [Words(note, "dim") for note in _pup_notes(account)]
    return Section("Pups", tuple(blocks))


def _of_birth(account: Account, reader: Reader) -> Iterator[_Field]:
    """What is settled once a pup is born; the day stands with the first and where it changes."""
    before = dict(zip((pup.number for pup in account.pups[1:]), account.pups, strict=False))

    def born(pup: PupAccount) -> Cell:
        last = before.get(pup.number)
        at = reader.moment(pup.born) if last is None else reader.beside(pup.born, last.born)
        return Cell(f"about {at}" if pup.estimated else at)

    def weight(pup: PupAccount) -> Cell:
        return Cell("" if pup.birth_weight_g is None else reader.weight(pup.birth_weight_g))

    yield _Field(Column("No.", 0.8, "right"), lambda pup: Cell(f"{pup.number}"))
    yield _Field(Column("Born", 1.6), born)
    yield _Field(
        Column("Interval", 1.3),
        lambda pup: Cell("first" if pup.interval is None else length(pup.interval)),
    )
    yield _Field(Column("Sex", 0.9), lambda pup: Cell(pup.sex or ""))
    yield _Field(Column("Weight", 1.1, "right"), weight)


def _since(account: Account, reader: Reader) -> Iterator[_Field]:
    """How it came and what has become of it."""
    again = _weighed_again(account)

    def now(pup: PupAccount) -> Cell:
        weight = pup.weight_g if pup.number in again else None
        return Cell("" if weight is None else reader.weight(weight))

    yield _Field(Column("Now", 1.0, "right"), now, always=False)
    yield _Field(
        Column("Change", 1.0, "right"),
        lambda pup: Cell(_change(pup) if pup.number in again else ""),
        always=False,
    )
    yield _Field(Column("Presented", 1.5), lambda pup: Cell(_presented(pup)))
    yield _Field(Column("State", 2.4), lambda pup: Cell(*_state(pup, account, reader)))
    yield _Field(Column("Mark", 1.3), lambda pup: Cell(pup.mark or ""), always=False)
    yield _Field(Column("Viability", 1.1), lambda pup: Cell(_viability(pup)), always=False)
    yield _Field(Column("Afterbirth", 1.4), lambda pup: Cell(_afterbirth(pup, reader)))
    yield _Field(Column("First milk", 1.4), lambda pup: Cell(_milk(pup, reader)))


def _weighed_again(account: Account) -> set[int]:
    """The pups of which there is a weight beside the birth weight."""
    births = {pup.number: pup.birth_weight_g for pup in account.pups}
    return {
        one.pup for one in account.weights
        if len(one.weights) > (births.get(one.pup) is not None)
    }  # fmt: skip


def _change(pup: PupAccount) -> str:
    """By how much in a hundred the newest weight is more or less than that at birth."""
    if pup.weight_g is None or pup.birth_weight_g is None:
        return ""
    change = 100 * (pup.weight_g - pup.birth_weight_g) / pup.birth_weight_g
    return f"{change_words(change)} %"


def _presented(pup: PupAccount) -> str:
    if pup.by_caesarean:
        return "caesarean"
    return _PRESENTED.get(pup.presentation or "", pup.presentation or "")


def _state(pup: PupAccount, account: Account, reader: Reader) -> tuple[str, Role]:
    """How it is: every sign and alert that stands, then its temperature.

    ``alive`` alone says that nothing stands of it and that nobody measured it lately.
    """
    at_birth = pup.state_at_birth or ""
    if pup.died is not None:
        when = "born dead" if at_birth == "dead" else f"died, {length(pup.died - pup.born)} old"
        return (f"{when}: {pup.died_of}" if pup.died_of else when), "strong"
    signs = pup.state if pup.state != _WELL else ""
    stands = ", ".join(filter(None, (signs, *pup.standing)))
    now = stands or pup.state or ("alive" if seen_alive(pup) else at_birth)
    words = [f"limp at birth, now {now}" if at_birth == "limp" and now != "limp" else now]
    if stands and pup.state == _WELL:
        words.append("said to be well")
    if pup.celsius is not None and pup.measured is not None:
        at = reader.beside(pup.measured, account.at)
        words.append(f"{reader.temperature(pup.celsius)} at {at}")
    return "; ".join(filter(None, words)), "strong" if stands and pup.left_home is None else ""


def _viability(pup: PupAccount) -> str:
    if pup.viability is None:
        return ""
    most = 2 * pup.viability.items_taken
    return f"{pup.viability.total} of {most}"


def _afterbirth(pup: PupAccount, reader: Reader) -> str:
    if pup.afterbirth == "caesarean":
        return "at caesarean"
    words = {"owed": "OWED", "not-seen": "not seen"}.get(pup.afterbirth, pup.afterbirth)
    return (
        words
        if pup.afterbirth_at is None
        else f"{words} {reader.beside(pup.afterbirth_at, pup.born)}"
    )


def _milk(pup: PupAccount, reader: Reader) -> str:
    return "" if pup.first_milk is None else reader.beside(pup.first_milk, pup.born)


def _pup_notes(account: Account) -> Iterator[str]:
    """What the table needs a reader to know, and only when it applies."""
    if not account.pups:
        return
    notes = ["An empty field was not written down."]
    if any(pup.number != pup.order for pup in account.pups):
        notes.insert(0, "No. is the number a pup goes by; the rows are in order of birth.")
    scored = [pup.viability for pup in account.pups if pup.viability is not None]
    if scored:
        notes.append(
            "Viability: heart rate, breathing, reflex, movement and colour, 0 to 2 each"
            + (
                "; of fewer than five items the highest possible sum is given."
                if any(score.items_taken < _ITEMS for score in scored)
                else "."
            )
        )
    if _weighed_again(account):
        notes.append("Now: the newest weight; Change: since birth.")
    yield " ".join(notes)


def noted_section(account: Account, reader: Reader) -> Section | None:
    """What was written behind the lines about the pups, whichever line it was behind."""
    lines = {line.typed.id: line.reads or line.typed for line in account.timeline}
    called = names(account)
    rows = tuple(
        (Cell(reader.moment(note.at)), Cell(told_entry(lines[note.entry], reader, called)))
        for pup in account.pups
        for note in pup.notes
    )  # fmt: skip
    if not rows:
        return None
    columns = (Column("When", 2), Column("What", 7))
    return Section("Noted of the pups", (Table(columns, rows),))


def afterbirths_section(account: Account) -> Section:
    """Whether every pup has its afterbirth."""
    balance, called = account.afterbirths, names(account)
    pups = counted(balance.pups, "pup", "pups")
    passed = counted(balance.passed, "afterbirth", "afterbirths")
    all_by_surgeon = balance.pups > 0 and len(balance.with_caesarean) == balance.pups
    items = [Cell(f"{pups}." if all_by_surgeon else f"{pups}, {passed} passed.")]
    if balance.owed_by:
        owing = listed(called[number] for number in balance.owed_by)
        items.append(Cell(f"Owed, nobody has seen it: {owing}.", "strong"))
    if balance.not_seen_of:
        missed = listed(called[number] for number in balance.not_seen_of)
        items.append(Cell(f"Looked for and not seen: {missed}.", "strong"))
    if balance.with_caesarean:
        which = "All afterbirths" if all_by_surgeon else "The rest"
        items.append(Cell(f"{which} counted as taken out at the caesarean."))
    if balance.surplus:
        items.append(
            Cell(
                f"{counted(balance.surplus, 'afterbirth', 'afterbirths')} more than pups: "
                "a pup may not be written down.",
                "strong",
            )
        )
    return Section("Afterbirths", (Points(tuple(items)),))

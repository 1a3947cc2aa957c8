"""The pups as a vet reads them: a row each, what was noted of them, and their afterbirths."""

from collections.abc import Iterator
from datetime import datetime

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


def pups_section(account: Account, reader: Reader) -> Section:
    """One row per pup, in order of birth. The newest weight has a column once there is one."""
    again = _weighed_again(account)
    columns = [
        Column("No.", 0.8, "right"), Column("Born", 1.6), Column("Interval", 1.3),
        Column("Sex", 0.9), Column("Weight", 1.1, "right"),
        *([Column("Now", 1.1, "right")] if again else []),
        Column("Presented", 1.5), Column("State", 2.4), Column("Mark", 1.3),
        Column("Viability", 1.1), Column("Afterbirth", 1.4), Column("First milk", 1.4),
    ]  # fmt: skip
    before = [None, *(pup.born for pup in account.pups)]
    rows = tuple(
        _pup(pup, last, account, reader, again)
        for pup, last in zip(account.pups, before, strict=False)
    )
    blocks: list[Table | Words] = [Table(tuple(columns), rows, "No pup was written down.")]
    blocks += [Words(note, "dim") for note in _pup_notes(account)]
    return Section("Pups", tuple(blocks))


def _pup(
    pup: PupAccount, last: datetime | None, account: Account, reader: Reader, again: set[int]
) -> tuple[Cell, ...]:
    """One row; the day stands with the first pup and wherever it changes."""
    number = "" if pup.number == pup.order else f" (pup {pup.number})"
    born = reader.moment(pup.born) if last is None else reader.beside(pup.born, last)
    weight = "" if pup.birth_weight_g is None else reader.weight(pup.birth_weight_g)
    return (
        Cell(f"{pup.order}{number}"),
        Cell(f"about {born}" if pup.estimated else born),
        Cell("first" if pup.interval is None else length(pup.interval)),
        Cell(pup.sex or ""),
        Cell(weight),
        *([Cell(_now(pup, reader) if pup.number in again else "")] if again else []),
        Cell(_presented(pup)),
        Cell(*_state(pup, account, reader)),
        Cell(pup.mark or ""),
        Cell(_viability(pup)),
        Cell(_afterbirth(pup, reader)),
        Cell(_milk(pup, reader)),
    )


def _weighed_again(account: Account) -> set[int]:
    """The pups of which there is a weight beside the birth weight."""
    births = {pup.number: pup.birth_weight_g for pup in account.pups}
    return {
        one.pup for one in account.weights
        if len(one.weights) > (births.get(one.pup) is not None)
    }  # fmt: skip


def _now(pup: PupAccount, reader: Reader) -> str:
    """The newest weight, and by how much in a hundred it is more or less than at birth."""
    if pup.weight_g is None:
        return ""
    weight = reader.weight(pup.weight_g)
    if pup.birth_weight_g is None:
        return weight
    change = 100 * (pup.weight_g - pup.birth_weight_g) / pup.birth_weight_g
    return f"{weight}, {change_words(change)} %"


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
        notes.append("Now: the newest weight, and its change since birth.")
    yield " ".join(notes)


def noted_section(account: Account, reader: Reader) -> Section | None:
    """What was written behind the lines about the pups, whichever line it was behind."""
    lines = {line.typed.id: line.reads or line.typed for line in account.timeline}
    called = names(account)
    rows = tuple(
        (Cell(called[pup.number]), Cell(reader.moment(note.at)),
         Cell(told_entry(lines[note.entry], reader, called)))
        for pup in account.pups
        for note in pup.notes
    )  # fmt: skip
    if not rows:
        return None
    columns = (Column("Pup", 1.6), Column("When", 2), Column("What", 6))
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

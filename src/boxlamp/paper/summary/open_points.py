"""What is still open, and what was given and said: the parts of the first page that are lists."""

from boxlamp.paper.account.models import Account, OpenPoint
from boxlamp.paper.document import Cell, Column, Points, Section, Table, Words
from boxlamp.paper.reader import Reader
from boxlamp.paper.summary.words import about, level_role, said

_SAYS = {"watch": "look closely", "call": "ring the vet", "go": "leave for the vet"}
_BY_THE_VET = ("advised", "arrived", "seen")


def open_section(account: Account, reader: Reader) -> Section:
    """What is still open and when to look again."""
    if not account.open:
        return Section("Still open", (Words("Nothing is open."),))
    items = tuple(_point(point, reader) for point in account.open)
    return Section("Still open", (Points(items),))


def _point(point: OpenPoint, reader: Reader) -> Cell:
    """What is to be done stands before what is the matter, and a time says what it is the time of.

    A reader must never take the moment at which it gets worse for leave to wait until then.
    """
    words, ahead = reader.sentence(point.words), ""
    if point.when is not None and point.becomes is not None:
        at, level = reader.moment(point.when), point.becomes.upper()
        ahead = {
            "alert": f" It becomes {level} at {at}, unless what ends it is written down before.",
            "next": f" At {at} it will say {level}: {_SAYS[point.becomes]}.",
        }.get(point.kind, f" It becomes {level} at {at} if nothing more is written down.")
    if point.kind != "alert" or point.level is None:
        return Cell(f"{words}{ahead}")
    lead = " ".join(filter(None, (f"{point.level.upper()}:", reader.sentence(point.do))))
    return Cell(f"{lead} {words}{ahead}", level_role(point.level))


def given_section(account: Account, reader: Reader) -> Section:
    """Treatments with who gave them, and what passed between the vet and this house."""
    contact = {
        "called": "vet rung", "advised": "vet advised", "arrived": "with the vet",
        "seen": "seen by the vet", "left-for": "left for the vet",
    }  # fmt: skip
    rows = [
        (given.at, about(given.at, reader, estimated=given.estimated), f"given: {given.what}",
         said(given.by))
        for given in account.given
    ] + [
        (one.at, about(one.at, reader, estimated=one.estimated),
         f"{contact[one.contact]}: {one.said}" if one.said else contact[one.contact],
         (account.dam.vet or "the vet") if one.contact in _BY_THE_VET else "")
        for one in account.contacts
    ]  # fmt: skip
    if account.caesarean is not None:
        rows.append((account.caesarean, reader.moment(account.caesarean), "caesarean", ""))
    columns = (Column("When", 2), Column("What", 5), Column("By", 2))
    table = Table(
        columns,
        tuple(tuple(Cell(text) for text in row[1:]) for row in sorted(rows)),
        "No treatment and no contact with the vet was written down.",
    )
    return Section("Treatments and the vet", (table,))

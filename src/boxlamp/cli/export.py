"""``boxlamp export``: a litter as a file that reads without this program."""

import json
from enum import StrEnum
from pathlib import Path
from typing import Annotated

import typer

from boxlamp.cli import options
from boxlamp.cli.output import Output
from boxlamp.desk.handing_out import hand_out
from boxlamp.desk.session import Session, UsageError, session


class Form(StrEnum):
    """The forms a litter can be written in. The first two come back through import whole."""

    JSONL = "jsonl"
    NIGHT = "night"
    JSON = "json"
    CSV = "csv"


class Table(StrEnum):
    """What one CSV file can hold."""

    PUPS = "pups"
    WEIGHTS = "weights"
    TIMELINE = "timeline"
    ALERTS = "alerts"


def export(
    form: Annotated[
        Form,
        typer.Option(
            "--form",
            help="JSON lines or a night log, for `boxlamp import`; JSON or CSV for other programs.",
        ),
    ] = Form.JSONL,
    table: Annotated[
        Table | None,
        typer.Option("--table", help="Which table, with --form csv.", show_default=False),
    ] = None,
    out: Annotated[
        str,
        typer.Option(
            "--output", "-o", metavar="FILE", help="The file to write; `-` for standard output."
        ),
    ] = "-",
    schema: Annotated[
        bool, typer.Option("--schema", help="Write the JSON Schema of --form json instead.")
    ] = False,
    journal: options.Journal = None,
    litter: options.Litter = None,
) -> None:
    """Write a litter to a file.

    For example: boxlamp export -o bramble.jsonl, or boxlamp export --form csv --table pups

    As JSON lines or as a night log, complete with corrections; both come back through import. As
    JSON, everything the summary tells, with units in the names. As CSV, one table for a
    spreadsheet.
    """
    if schema:
        text = _schema()
    else:
        chosen = _table(form, table)
        with session(journal, litter) as here:
            text = _written(here, form, chosen)
    if out == "-":
        Output().copy(text)
        return
    _refuse_if_there(out)
    hand_out(out, text.encode(), may_replace=lambda _content: False)
    Output().say(f"Wrote {out}.")


def _table(form: Form, table: Table | None) -> Table:
    """The table meant; a CSV file needs one, and nothing else has any."""
    names = ", ".join(Table)
    if form is Form.CSV and table is None:
        raise UsageError(f"--form csv holds one table. Add --table with one of: {names}.")
    if form is not Form.CSV and table is not None:
        raise UsageError(f"--table goes with --form csv. Write --form csv --table {table}.")
    return table or Table.PUPS


def _written(here: Session, form: Form, table: Table) -> str:
    """The litter in this form."""
    if form is Form.NIGHT:
        from boxlamp.language import write_night

        return write_night(here.entries)
    if form is Form.JSONL:
        from boxlamp.journal.exchange import export_jsonl

        return "".join(f"{line}\n" for line in export_jsonl(here.journal, here.litter))
    from boxlamp.desk.accounting import matter_of
    from boxlamp.paper.account.account import account_of

    account = account_of(matter_of(here))
    if form is Form.JSON:
        from boxlamp.paper.export.json_form import json_form

        return json_form(account)
    from boxlamp.paper.export.csv_tables import table as csv_table

    return csv_table(account, table.value, here.zone)


def _schema() -> str:
    from boxlamp.paper.export.schema import schema

    return f"{json.dumps(schema(), indent=2, ensure_ascii=False)}\n"


def _refuse_if_there(out: str) -> None:
    """An existing file is never overwritten, not even one that was written here before."""
    try:
        there = Path(out).expanduser().exists()
    except (OSError, RuntimeError):  # no name for a file: writing it will say why
        return
    if there:
        raise UsageError(f"{out} is there already. Choose another name.")

"""``boxlamp summary``: one sheet of paper for the vet, with everything it rests on behind it."""

from enum import StrEnum
from pathlib import Path
from typing import Annotated, NamedTuple

import typer

from boxlamp import outside
from boxlamp.cli import options
from boxlamp.cli.output import Output
from boxlamp.cli.screen import width
from boxlamp.desk.accounting import matter_of, matter_of_file, zone_of
from boxlamp.desk.files import read_record
from boxlamp.desk.handing_out import hand_out
from boxlamp.desk.session import UsageError, read_moment, session
from boxlamp.model.zones import zone_named
from boxlamp.paper.account.matter import Matter
from boxlamp.paper.document import Document
from boxlamp.paper.forms.seal import Kind, bears_seal, sealed
from boxlamp.paper.reader import Reader

_SHEET = 80


class Form(StrEnum):
    """The forms of one and the same summary."""

    TEXT = "text"
    MD = "md"
    HTML = "html"
    PDF = "pdf"


_ENDINGS = {
    ".txt": Form.TEXT, ".text": Form.TEXT, "": Form.TEXT, ".md": Form.MD, ".html": Form.HTML,
    ".htm": Form.HTML, ".pdf": Form.PDF,
}  # fmt: skip


def summary(
    file: Annotated[
        str | None,
        typer.Argument(
            help="A night log or an exported litter instead of one in the journal; `-` for a pipe.",
            show_default=False,
        ),
    ] = None,
    form: Annotated[
        Form | None,
        typer.Option(
            "--form",
            help="Text, Markdown, HTML or PDF. Usual: what the name after -o ends with, else text.",
            show_default=False,
        ),
    ] = None,
    out: Annotated[
        str,
        typer.Option(
            "--output",
            "-o",
            metavar="FILE",
            help="The file to write; `-` for standard output. A summary that was written there "
            "before and not changed since is replaced, any other file is not.",
        ),
    ] = "-",
    page: options.Page = "a4",
    at: options.At = None,
    as_known: options.AsKnown = False,
    clock: options.Clock = "24h",
    weight_unit: options.WeightUnit = "g",
    temperature_unit: options.TemperatureUnit = "C",
    journal: options.Journal = None,
    litter: options.Litter = None,
    as_json: options.AsJson = False,
) -> None:
    """Print the summary of a litter for the vet.

    For example: boxlamp summary --form pdf -o night.pdf

    First the sheet to be read standing up; then the timeline, the charts, the limits, the sources.
    """
    if as_json and form is not None:
        raise UsageError("--json and --form are two forms of the same; leave one out.")
    matter = _matter(file, journal, litter, at, known=as_known)
    # Loaded here: the facts are many typed models, and a mistyped option should not wait for them.
    from boxlamp.paper.account.account import account_of
    from boxlamp.paper.export.json_form import json_form
    from boxlamp.paper.summary.summary import summary_of

    account = account_of(matter)
    reader = Reader(zone_named(account.zone), clock, weight_unit, temperature_unit)
    chosen = Form.TEXT if as_json else form or _named(out)
    if as_json:
        made = Made(json_form(account, indent=None).encode(), None)
    elif chosen is Form.PDF:
        made = _pdf(summary_of(account, reader), page)
    else:
        made = _text(summary_of(account, reader), chosen, page, on_screen=out == "-")
    _give(made, out, binary=chosen is Form.PDF and not as_json)


class Made(NamedTuple):
    """A form made ready to be given: its bytes, and its kind; data for programs has none."""

    content: bytes
    kind: Kind | None


def _matter(
    file: str | None, journal: Path | None, litter: str | None, at: str | None, *, known: bool
) -> Matter:
    """The litter that is meant: in a file or in the journal, at the moment asked for."""
    if file is None:
        with session(journal, litter) as here:
            now, zone = outside.now(), here.zone_name
            moment = None if at is None else read_moment(at, here.entries, now, zone)
            return matter_of(here, moment, known=known)
    if litter is not None:
        raise UsageError("A file holds one litter; leave out --litter, or the file.")
    record = read_record(file)
    if at is None:
        return matter_of_file(record, known=known)
    last = max(max(entry.at, entry.recorded) for entry in record.entries)
    moment = read_moment(at, record.entries, last, zone_of(record.entries))
    return matter_of_file(record, moment, known=known)


def _named(out: str) -> Form:
    """The form that the name of the file asks for."""
    ending = Path(out).suffix.lower()
    if out != "-" and ending not in _ENDINGS:
        raise UsageError(
            f"-o {out}: which form is that? Add --form text, md, html or pdf, or end the name with "
            ".txt, .md, .html or .pdf. For JSON and tables there is `boxlamp export`."
        )
    return _ENDINGS.get(ending, Form.TEXT)


def _pdf(document: Document, page: options.PageSize) -> Made:
    from boxlamp.paper.forms.pdf import pdf_form

    return Made(pdf_form(document, page), "summary.pdf")


def _text(document: Document, form: Form, page: options.PageSize, *, on_screen: bool) -> Made:
    """A form that is text: as wide as the screen it is shown on, or as a sheet of paper."""
    if form is Form.HTML:
        from boxlamp.paper.forms.html import html_form

        return Made(html_form(document, page=page).encode(), "summary.html")
    if form is Form.MD:
        from boxlamp.paper.forms.markdown import markdown_form

        return Made(markdown_form(document).encode(), "summary.md")
    from boxlamp.paper.forms.text import text_form

    output = Output()
    across = width() if on_screen else _SHEET
    told = text_form(document, across, fine=output.fine or not on_screen)
    return Made(told.encode(), "summary.txt")


def _give(made: Made, out: str, *, binary: bool) -> None:
    """Print it, or put it into its file whole or not at all."""
    output = Output()
    if out != "-":
        _put(made, out)
        output.say(f"Wrote {out}.")
    elif binary:
        output.copy_bytes(made.content)
    else:
        output.copy(made.content.decode())


def _put(made: Made, out: str) -> None:
    """In its file it bears a seal, by which the next one knows that it may take its place."""
    kind = made.kind
    if kind is None:
        hand_out(out, made.content, may_replace=lambda _there: False)
    else:
        content = sealed(made.content, kind)
        hand_out(out, content, may_replace=lambda there: bears_seal(there, kind))

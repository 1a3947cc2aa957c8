"""``boxlamp manual``: the manual page, made of the commands themselves."""

import shutil
import subprocess
import tempfile
from collections.abc import Callable, Iterable, Iterator
from itertools import chain, groupby
from pathlib import Path
from typing import Annotated, NamedTuple

import typer

from boxlamp import __version__, outside
from boxlamp.cli import plain_page, roff
from boxlamp.cli.output import Output
from boxlamp.cli.settings import VARIABLES
from boxlamp.cli.tree import Argument, Option, Page, pages

_ABOUT = """\
Boxlamp is for the person who sits up at night with a bitch in labour. You type what you see at the
whelping box, one short line at a time; it keeps the record safe, runs the clocks that matter, and
says when it is time to ring the vet, and why.

It is a memory aid, not a diagnosis. In doubt ring the vet; local practice and your vet's word come
before every limit in it. It holds no drug doses."""
_EXAMPLES = (
    "boxlamp new --dam Bramble --vet-phone '01234 567890'",
    "boxlamp attend",
    "boxlamp log 02:14 pup dog 312g red",
    "boxlamp call-sheet",
)
EXITS = {
    "0": "All is well, and nothing above watch stands.",
    "1": "It ran, and the answer is bad news: ring the vet or go (check); a line was not "
    "understood (log); the record is not whole (verify); a night did not keep to its file "
    "(replay); a drill was left before its end.",
    "2": "Something in the call does not fit, or the program failed; it says what.",
    "129, 130, 143": "Ended by a closed window, by Ctrl-C, by the system.",
}
"""What each exit code means; the reference page prints the same."""


class Form(NamedTuple):
    """How each piece of the page is set."""

    named: Callable[[str, str], str]
    usage: Callable[[str], str]
    section: Callable[[str], str]
    part: Callable[[str], str]
    paragraph: Callable[[str], str]
    typed: Callable[[Iterable[str]], str]
    item: Callable[[str, str], str]


_ROFF = Form(roff.named, roff.usage, roff.section, roff.part, roff.paragraph, roff.typed, roff.item)
_PLAIN = Form(
    plain_page.named, plain_page.usage, plain_page.section, plain_page.part,
    plain_page.paragraph, plain_page.typed, plain_page.item,
)  # fmt: skip


def manual(
    as_roff: Annotated[
        bool, typer.Option("--roff", help="Print the source of the page, for `man` to read.")
    ] = False,
) -> None:
    """Show the manual page.

    At a terminal it opens in `man`; into a file or a pipe it goes as plain text. To install it,
    for example: boxlamp manual --roff > boxlamp.1
    """
    output, reader = Output(), shutil.which("man")
    if as_roff:
        output.copy(manual_page())
    elif not output.live or reader is None:
        output.copy(plain_manual())
    else:
        with tempfile.TemporaryDirectory(prefix="boxlamp-") as folder:
            page = Path(folder) / "boxlamp.1"
            page.write_text(manual_page(), encoding="utf-8")
            subprocess.run([reader, str(page)], check=False)  # noqa: S603 - the system's own reader


def manual_page() -> str:
    """The whole page as roff."""
    checked = max(str(record.checked) for record in outside.default_protocol().records)
    first = (
        '.\\" Written by docs/generate.py from the program; do not edit.',
        roff.head(roff.Title("boxlamp", checked, f"boxlamp {__version__}", "Boxlamp")),
    )
    return roff.tidy(chain(first, _lines(_ROFF)))


def plain_manual() -> str:
    """The same as plain text."""
    return plain_page.tidy(_lines(_PLAIN))


def _lines(form: Form) -> Iterator[str]:
    yield form.section("Name")
    yield form.named("boxlamp", "a whelping log that says when to ring the vet")
    yield form.section("Synopsis")
    yield form.usage("boxlamp")
    yield form.section("Description")
    yield from (form.paragraph(text) for text in _ABOUT.split("\n\n"))
    yield form.section("Examples")
    yield form.typed(_EXAMPLES)
    for group, members in groupby(pages(), key=lambda page: page.group):
        yield form.section(group)
        for page in members:
            yield from _command(page, form)
    yield form.section("Exit status")
    yield from (form.item(code, text) for code, text in EXITS.items())
    yield form.section("Environment")
    yield from (form.item(name, text) for name, text in VARIABLES.items())
    yield form.section("Files")
    yield form.item(
        "~/.local/share/boxlamp/journal.db",
        "The record, and beside it journal.jsonl, the same as plain lines of JSON.",
    )
    yield form.section("See also")
    yield form.paragraph(
        "`boxlamp words` lists what can be typed, `boxlamp rules` every rule with its limits and "
        "their sources. Tutorial, how-to pages and reference come with the source in docs/."
    )


def _command(page: Page, form: Form) -> Iterator[str]:
    yield form.part(" ".join(("boxlamp", page.words, *map(_stands, page.arguments))))
    yield from (form.paragraph(text) for text in (page.says, *page.more))
    for argument in page.arguments:
        yield form.item(argument.value, _choosing(argument))
    for option in page.options:
        yield form.item(_spelt(option), _meaning(option))


def _stands(argument: Argument) -> str:
    shown = f"{argument.value}..." if argument.many else argument.value
    return shown if argument.required else f"[{shown}]"


def _choosing(argument: Argument) -> str:
    return f"{argument.help} One of: {', '.join(argument.choices)}." * bool(argument.choices) or (
        argument.help
    )


def _spelt(option: Option) -> str:
    value = f" {option.value}" if option.value else ""
    return ", ".join(option.names) + value


def _meaning(option: Option) -> str:
    usual = f" Usual: {option.default}." if option.default else ""
    variable = f" Variable: {option.variable}." if option.variable else ""
    return f"{option.help}{usual}{variable}"

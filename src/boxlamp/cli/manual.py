"""``boxlamp manual``: the manual page, made of the commands themselves."""

import shutil
import subprocess
import tempfile
from collections.abc import Iterator
from itertools import groupby
from pathlib import Path

from boxlamp import __version__, outside
from boxlamp.cli import roff
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


def manual() -> None:
    """Show the manual page.

    At a terminal it opens in `man`; into a file or a pipe it goes as roff, for example:
    boxlamp manual > boxlamp.1
    """
    output, text = Output(), manual_page()
    reader = shutil.which("man")
    if not output.live or reader is None:
        output.copy(text)
        return
    with tempfile.TemporaryDirectory(prefix="boxlamp-") as folder:
        page = Path(folder) / "boxlamp.1"
        page.write_text(text, encoding="utf-8")
        subprocess.run([reader, str(page)], check=False)  # noqa: S603 - the system's own reader


def manual_page() -> str:
    """The whole page as roff."""
    return roff.tidy(_lines())


def _lines() -> Iterator[str]:
    protocol = outside.default_protocol()
    checked = max(str(record.checked) for record in protocol.records)
    yield '.\\" Written by docs/generate.py from the program; do not edit.'
    yield roff.head(roff.Title("boxlamp", checked, f"boxlamp {__version__}", "Boxlamp"))
    yield roff.section("Name")
    yield f"boxlamp {roff.quiet('-')} {roff.words('a whelping log that says when to ring the vet')}"
    yield roff.section("Synopsis")
    yield ".B boxlamp\n.I command\n.RI [ options ]"
    yield roff.section("Description")
    yield from (roff.paragraph(text) for text in _ABOUT.split("\n\n"))
    yield roff.section("Examples")
    yield roff.typed(_EXAMPLES)
    for group, members in groupby(pages(), key=lambda page: page.group):
        yield roff.section(group)
        for page in members:
            yield from _command(page)
    yield roff.section("Exit status")
    yield from (roff.item(code, text) for code, text in EXITS.items())
    yield roff.section("Environment")
    yield from (roff.item(name, text) for name, text in VARIABLES.items())
    yield roff.section("Files")
    yield roff.item(
        "~/.local/share/boxlamp/journal.db",
        "The record, and beside it journal.jsonl, the same as plain lines of JSON.",
    )
    yield roff.section("See also")
    yield roff.paragraph(
        "`boxlamp words` lists what can be typed, `boxlamp rules` every rule with its limits and "
        "their sources. Tutorial, how-to pages and reference come with the source in docs/."
    )


def _command(page: Page) -> Iterator[str]:
    yield roff.part(" ".join(("boxlamp", page.words, *map(_stands, page.arguments))))
    yield from (roff.paragraph(text) for text in (page.says, *page.more))
    for argument in page.arguments:
        yield roff.item(argument.value, _choosing(argument))
    for option in page.options:
        yield roff.item(_spelt(option), _meaning(option))


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

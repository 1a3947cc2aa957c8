"""Lines of styled text on a rich console. Markup, emoji and highlighting stay switched off."""

from collections.abc import Iterable
from typing import TextIO

from rich.console import Console
from rich.text import Text

from boxlamp.view.layout import Line

# Calm at night: warm and dim, bold and reverse for what matters. Nothing rests on hue alone;
# red and green are not told apart from one another anywhere.
STYLES: dict[str, str] = {
    "text": "",
    "name": "bold",
    "phase": "bold",
    "time": "bold",
    "dim": "dim",
    "entry": "",
    "do": "bold",
    "todo": "",
    "owed": "italic",
    "calm": "",
    "watch": "yellow",
    "call": "bold yellow",
    "go": "bold reverse yellow",
}


class _Page(Console):
    """A console that leaves a closed pipe to the shell: a reader that went away is no failure."""

    def on_broken_pipe(self) -> None:
        raise  # noqa: PLE0704 - called while the error is handled


def console_for(stream: TextIO, *, width: int | None = None, colour: bool = True) -> Console:
    """A console that prints what it is given, letter for letter."""
    return _Page(
        file=stream, width=width, markup=False, emoji=False, highlight=False, soft_wrap=False,
        no_color=not colour or None,
    )  # fmt: skip


def text_of(line: Line) -> Text:
    """One line with the styles of its roles."""
    return Text.assemble(
        *((part, STYLES[role]) for role, part in line), no_wrap=True, overflow="ignore", end=""
    )


def texts(lines: Iterable[Line]) -> Text:
    """Several lines as one text, for a screen that is redrawn."""
    return Text("\n", no_wrap=True, overflow="ignore").join(text_of(line) for line in lines)


def print_lines(console: Console, lines: Iterable[Line]) -> None:
    """Print the lines one after the other."""
    for line in lines:
        console.print(text_of(line), crop=False)
        console.line(0)

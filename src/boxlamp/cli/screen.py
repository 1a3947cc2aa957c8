"""Styled lines on the answer's stream: the width that is there, the colour that is wanted."""

import os
import shutil
from collections.abc import Iterable

from boxlamp.cli.output import Output
from boxlamp.view.layout import Line
from boxlamp.view.telephones import dial_lines
from boxlamp.view.text import width_of

_WIDEST, _USUAL = 120, 80
_STYLED_ALL_THE_SAME = ("FORCE_COLOR", "TTY_COMPATIBLE")
"""With these set rich takes any stream for a terminal."""


def width() -> int:
    """How many columns an answer may take; COLUMNS is honoured."""
    return min(_WIDEST, shutil.get_terminal_size((_USUAL, 24)).columns)


def show(lines: Iterable[Line], output: Output, *, colour: bool) -> None:
    """Print lines of styled text; what the stream cannot show becomes ``?``."""
    page = shown(lines, output)
    bare = ["".join(text for _, text in line) for line in page]
    if not _styled(output) and all(width_of(line) <= width() for line in bare):
        # Rich would write these very words, and loading it takes longer than making a board.
        output.out.writelines(f"{line}\n" for line in bare)
        return
    from boxlamp.view.show_rich import console_for, print_lines

    print_lines(console_for(output.out, width=width(), colour=colour), page)


def _styled(output: Output) -> bool:
    """Whether rich might style anything: on a terminal, or where it is told to all the same."""
    return output.out.isatty() or any(os.environ.get(name) for name in _STYLED_ALL_THE_SAME)


def recalled(worst: str, count: int) -> list[Line]:
    """What to end a long answer with, when what matters most has scrolled off the screen."""
    rows = shutil.get_terminal_size((_USUAL, 24)).lines
    if not worst or count < rows:
        return []
    words = f"At the top, worst first: {worst}"
    return [[("call", line)] for line in dial_lines(words, width())]


def shown(lines: Iterable[Line], output: Output) -> list[Line]:
    """The lines as far as the answer's stream can show them."""
    return [[(role, output.shown(text)) for role, text in line] for line in lines]

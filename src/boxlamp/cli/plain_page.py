"""A manual page as plain text, for a pipe, a file, and a terminal that has no `man`."""

from collections.abc import Iterable

from boxlamp.view.text import wrap

ACROSS = 78
_IN, _DEEPER = 4, 8


def named(program: str, says: str) -> str:
    """The program and what it is, in one line."""
    return _set(f"{program} - {says}", _IN)


def usage(program: str) -> str:
    """How it is called."""
    return _set(f"{program} COMMAND [OPTIONS]", _IN)


def section(name: str) -> str:
    """A heading of the page."""
    return f"\n{name.upper()}"


def part(name: str) -> str:
    """A heading below that."""
    return f"\n{_set(name, 2)}"


def paragraph(text: str) -> str:
    """Text that is filled; what is typed keeps its `backquotes`."""
    return f"{_set(text, _IN)}\n"


def typed(lines: Iterable[str]) -> str:
    """Lines to be typed, each on its own, never broken."""
    return "\n".join(" " * _IN + line for line in lines)


def item(term: str, text: str) -> str:
    """A term, and what it means beneath it."""
    return f"{_set(term, _IN)}\n{_set(text, _DEEPER)}"


def _set(text: str, indent: int) -> str:
    return "\n".join(" " * indent + line for line in wrap(text, ACROSS - indent))


def tidy(lines: Iterable[str]) -> str:
    """The page as one text, without two empty lines together and none before it."""
    page: list[str] = []
    for line in "\n".join(lines).split("\n"):
        if line or (page and page[-1]):
            page.append(line)
    return "\n".join(page).rstrip("\n") + "\n"

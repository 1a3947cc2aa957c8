"""A manual page as roff, in the few macros of the man package that every reader knows."""

import re
from collections.abc import Iterable
from typing import NamedTuple

# What a line must not begin with, or roff takes it for a request.
_REQUEST = re.compile(r"^(?=[.'])", flags=re.MULTILINE)
_SIGNS = {"\\": r"\e", "-": r"\-", "~": r"\(ti", "^": r"\(ha", "`": r"\(ga", "'": r"\(aq"}
_ESCAPED = str.maketrans(_SIGNS | {"°": r"\(de"})
_FONTS = re.compile(r"`([^`]+)`")


class Title(NamedTuple):
    """The head and foot of the page: the name in capitals, the date, the program's version."""

    name: str
    date: str
    version: str
    manual: str


def head(title: Title) -> str:
    """What stands before everything else."""
    parts = (title.name.upper(), "1", title.date, title.version, title.manual)
    return ".TH " + " ".join(f'"{part}"' for part in parts)


def tidy(lines: Iterable[str]) -> str:
    """The page as one text. A heading opens a paragraph by itself."""
    page = "\n".join(lines)
    return re.sub(r"^(\.S[HS] .*)\n\.PP\n(?!\.)", r"\1\n", page, flags=re.MULTILINE) + "\n"


def named(program: str, says: str) -> str:
    """The program and what it is, in one line: `whatis` reads it."""
    return f"{quiet(program)} \\- {words(says)}"


def usage(program: str) -> str:
    """How it is called."""
    return f".B {quiet(program)}\n.I command\n.RI [ options ]"


def section(name: str) -> str:
    """A heading of the page."""
    return f'.SH "{quiet(name.upper())}"'


def part(name: str) -> str:
    """A heading below that."""
    return f'.SS "{quiet(name)}"'


def paragraph(text: str) -> str:
    """Text that is filled; what stands in `backquotes` is set as it is typed."""
    return f".PP\n{words(text)}"


def typed(lines: Iterable[str]) -> str:
    """Lines to be typed, each on its own."""
    return "\n".join((".RS 4", ".nf", *(f"\\fB{quiet(line)}\\fR" for line in lines),
                      ".fi", ".RE"))  # fmt: skip


def item(term: str, text: str) -> str:
    """A term in bold, and what it means beneath it."""
    return f".TP\n.B {_request_free(quiet(term))}\n{words(text)}"


def words(text: str) -> str:
    """Running text with what is typed in bold, safe from being read as a request."""
    pieces = _FONTS.split(text)
    set_ = (
        f"\\fB{quiet(piece)}\\fR" if place % 2 else quiet(piece)
        for place, piece in enumerate(pieces)
    )
    return _request_free("".join(set_))


def quiet(text: str) -> str:
    """The text with every sign that roff would act on written out."""
    return text.translate(_ESCAPED).replace('"', r"\(dq")


def _request_free(text: str) -> str:
    return _REQUEST.sub(r"\\&", text)

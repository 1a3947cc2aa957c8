"""The console of ``attend`` in a terminal of its own, at a clock that stands still."""

import os
import re
import sys
import time
from collections.abc import Iterator
from contextlib import suppress

import pexpect
import pyte
from rich.style import Style
from rich.text import Text

from scribe.session import fresh

_COLUMNS, _ROWS, _PATIENCE, _STILL = 80, 24, 60.0, 5
_START = """
from datetime import UTC, datetime
from boxlamp import outside
outside.now = lambda: datetime(2026, 3, 2, 2, 15, tzinfo=UTC)
outside.local_zone = lambda: "Europe/London"
from boxlamp.cli import main
main(["attend"])
"""
_EARLIER = (
    "boxlamp new --dam Willow --expect '5 xray' --vet 'Dr Novak' --vet-phone '000 555 010'",
    "boxlamp log -3h sign restless panting",
    "boxlamp log -95m waters clear",
    "boxlamp log -70m push",
    "boxlamp log -52m pup bitch 298g red head first",
    "boxlamp log -45m afterbirth",
    "boxlamp log -40m milk red",
    "boxlamp log -22m push",
)
_HEX, _NAMED = re.compile("[0-9a-f]{6}"), {"default": None, "brown": "yellow"}
_HALF = "-1m part head"


def attended() -> Iterator[Text]:
    """The screen of attend on an invented night, with a line half typed."""
    with fresh() as shell:
        for line in _EARLIER:
            shell.line(line)
        screen = pyte.Screen(_COLUMNS, _ROWS)
        stream = pyte.ByteStream(screen)
        child = pexpect.spawn(
            sys.executable, ["-c", _START], dimensions=(_ROWS, _COLUMNS),
            env=dict(os.environ) | {"TERM": "xterm-256color", "LC_ALL": "C.UTF-8"},
        )  # fmt: skip
        try:
            _until("F9", child, screen, stream)
            child.send(_HALF)
            _until(_HALF, child, screen, stream)
        finally:
            child.close(force=True)
    for row in range(_ROWS):
        yield _text(screen, row)


def _until(words: str, child: pexpect.spawn, screen: pyte.Screen, stream: pyte.ByteStream) -> None:
    """Wait until the words stand on the screen, and then until it has been still for a moment."""
    end, still = time.monotonic() + _PATIENCE, 0
    while not any(words in line for line in screen.display) or still < _STILL:
        if time.monotonic() > end:
            raise TimeoutError("\n".join(screen.display))
        still += 1
        with suppress(pexpect.TIMEOUT):
            stream.feed(child.read_nonblocking(65536, timeout=0.1))
            still = 0


def _text(screen: pyte.Screen, row: int) -> Text:
    """One line of the screen with its colours."""
    line = Text()
    for column in range(_COLUMNS):
        sign = screen.buffer[row][column]
        colour = f"#{sign.fg}" if _HEX.fullmatch(sign.fg) else _NAMED.get(sign.fg, sign.fg)
        style = Style(color=colour, bold=sign.bold, reverse=sign.reverse, italic=sign.italics)
        line.append(sign.data, style)
    line.rstrip()
    return line

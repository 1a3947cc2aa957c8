"""The one object that prints. Results go to standard output, talk goes to standard error."""

import io
import os
import re
import sys
from collections.abc import Iterable
from typing import Any, TextIO

from boxlamp.view.text import clean, escaped, width_of, wrap

_LEAST = 20
_HEAD = re.compile(r" *[0-9!]{1,4}(?: (?:WATCH|CALL|GO))? +")


class NotForTerminalError(Exception):
    """Bytes that only a file or another program can use would have gone to a terminal."""

    exit_code = 2


class Output:
    """What a command prints with. Nothing here interprets markup or lets control codes through."""

    def __init__(self, out: TextIO | None = None, err: TextIO | None = None) -> None:
        self.out = out or sys.stdout
        self.err = err or sys.stderr

    def result(self, text: str = "") -> None:
        """One line of the answer."""
        fields = text.split("\t")  # a tab parts the fields of the plain form
        line = self.shown("\t".join(map(clean, fields)))
        for part in _folded(line, self.out) if len(fields) == 1 else [line]:
            self.out.write(part + "\n")

    def results(self, lines: Iterable[str]) -> None:
        """Several lines of the answer."""
        for line in lines:
            self.result(line)

    def data(self, value: Any) -> None:  # noqa: ANN401 - anything JSON can hold
        """One JSON value on one line, always UTF-8 safe; whatever would act is written escaped."""
        import json

        self.out.write(escaped(json.dumps(value, ensure_ascii=not self.fine)) + "\n")

    def copy(self, text: str) -> None:
        """A whole file as it stands: always UTF-8, whatever the terminal's own encoding."""
        if self.out.isatty():
            # On a terminal a control character would act; a file keeps every one of them.
            self.results(clean(line) for line in text.splitlines())
        elif isinstance(self.out, io.TextIOWrapper):
            self.out.flush()
            self.out.buffer.write(text.encode("utf-8", "surrogatepass"))
        else:
            self.out.write(text)

    def copy_bytes(self, content: bytes) -> None:
        """A whole file of bytes, such as a PDF, exactly as it is.

        Raises :class:`NotForTerminalError` where a person would only see noise.
        """
        if self.out.isatty():
            raise NotForTerminalError(
                "A PDF cannot be read in a terminal. Name a file for it: -o FILE.pdf"
            )
        self.out.flush()
        self.out.buffer.write(content)
        self.out.buffer.flush()

    def say(self, text: str) -> None:
        """A message beside the answer; it may quote what somebody typed or a file."""
        for line in text.splitlines():
            for part in _folded(_safe(clean(line), self.err), self.err):
                self.err.write(part + "\n")

    def offer(self, text: str, command: str) -> None:
        """A message that ends in a line to type, which is never cut: it has to work when copied.

        Where both do not fit the terminal side by side, the command begins a line of its own. One
        that cannot be shown as it is, with a name that would act in a terminal, is not offered.
        """
        if clean(command) != command:
            self.say(f"{text}.")
            return
        one = _safe(clean(f"{text}: {command}"), self.err)
        if len(_folded(one, self.err)) == 1:
            self.err.write(one + "\n")
        else:
            self.say(f"{text}:")
            self.err.write(_safe(clean(command), self.err) + "\n")

    @property
    def live(self) -> bool:
        """Whether the answer goes to a terminal that can move its cursor."""
        return self.out.isatty() and os.environ.get("TERM") != "dumb"

    @property
    def colour(self) -> bool:
        """Whether the answer may be coloured (NO_COLOR and TERM=dumb say no)."""
        return self.live and not os.environ.get("NO_COLOR")

    @property
    def fine(self) -> bool:
        """Whether the stream can show more than ASCII."""
        return (self.out.encoding or "ascii").lower().replace("-", "") in {"utf8", "utf16"}

    def shown(self, text: str) -> str:
        """The text as far as the answer's stream can show it; what it cannot becomes ``?``."""
        return _safe(text, self.out)


def as_typed(file: str) -> str:
    """The name of a file as it has to be typed in a shell; never one that looks like an option."""
    import shlex

    return shlex.quote(f"./{file}" if file.startswith("-") and file != "-" else file)


def _folded(line: str, stream: TextIO) -> list[str]:
    """A line as it fits a terminal, cut between words; a file gets it whole."""
    if not stream.isatty():
        return [line]
    from shutil import get_terminal_size

    across = get_terminal_size((80, 24)).columns
    lead = line[: len(line) - len(line.lstrip())]
    # A number or a level stands before the text with a gap: what is folded goes below the text.
    head = _HEAD.match(line)
    before = head[0] if head is not None else lead
    if across <= len(before) + _LEAST or width_of(line) <= across:
        return [line]
    first, *rest = wrap(line[len(before) :], across - len(before))
    return [before + first, *(" " * len(before) + part for part in rest)]


def _safe(text: str, stream: TextIO) -> str:
    encoding = stream.encoding or "utf-8"
    return text.encode(encoding, "replace").decode(encoding)

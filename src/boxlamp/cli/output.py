"""The one object that prints. Results go to standard output, talk goes to standard error."""

import json
import os
import sys
from collections.abc import Iterable
from typing import Any, TextIO


class Output:
    """What a command prints with. Nothing here interprets markup or lets control codes through."""

    def __init__(self, out: TextIO | None = None, err: TextIO | None = None) -> None:
        self.out = out or sys.stdout
        self.err = err or sys.stderr

    def result(self, text: str = "") -> None:
        """One line of the answer."""
        self.out.write(self._safe(text, self.out) + "\n")

    def results(self, lines: Iterable[str]) -> None:
        """Several lines of the answer."""
        for line in lines:
            self.result(line)

    def data(self, value: Any) -> None:  # noqa: ANN401 - anything JSON can hold
        """One JSON value on one line, always UTF-8 safe."""
        self.out.write(json.dumps(value, ensure_ascii=not self.fine) + "\n")

    def say(self, text: str) -> None:
        """A message beside the answer."""
        self.err.write(self._safe(text, self.err) + "\n")

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

    @staticmethod
    def _safe(text: str, stream: TextIO) -> str:
        encoding = stream.encoding or "utf-8"
        return text.encode(encoding, "replace").decode(encoding)

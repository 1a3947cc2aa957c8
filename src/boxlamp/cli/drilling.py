"""Where the answers of a drill come from: a person at a terminal, or a file of answers."""

import sys
from collections.abc import Callable, Iterable
from pathlib import Path
from typing import Protocol

from boxlamp.desk.session import UsageError
from boxlamp.training.drill.asking import EXPLAIN, LEAVE, fits, help_lines, what_fits
from boxlamp.training.drill.points import Stop
from boxlamp.view.text import clean

_MOST = 1_000_000

Tell = Callable[[Iterable[str]], None]


class Left(Exception):  # noqa: N818 - no failure: the person has had enough for now
    """The drill is left before its end. ``interrupted`` when it was by Ctrl-C."""

    def __init__(self, *, interrupted: bool = False) -> None:
        super().__init__("left")
        self.interrupted = interrupted


class Answers(Protocol):
    """Somebody who answers."""

    def answer(self, stop: Stop, told: str) -> str:
        """An answer that fits the question; ``told`` is the time of the night. May leave."""

    def go_on(self) -> None:
        """Wait until what was said has been read."""


class Scripted:
    """Answers from a file: one a line; empty lines and lines that begin with ``#`` are none."""

    def __init__(self, name: str, text: str) -> None:
        self.name = name
        numbered = enumerate(text.splitlines(), start=1)
        self._left = [(number, line.strip()) for number, line in numbered]
        self._left = [row for row in self._left if row[1] and not row[1].startswith("#")]
        self._left.reverse()

    def answer(self, stop: Stop, told: str) -> str:
        """The next answer, which must fit; the end of the file leaves the drill."""
        if not self._left:
            raise Left
        number, line = self._left.pop()
        if line.casefold() == LEAVE:
            raise Left
        if not fits(stop, line):
            raise UsageError(
                f"{self.name}:{number}: {clean(line)!r} is no answer at {told}. "
                f"Here it asks for {what_fits(stop)}."
            )
        return line

    def go_on(self) -> None:
        """A file reads at once."""

    @property
    def unused(self) -> int:
        """How many answers are left over."""
        return len(self._left)


class Asked:
    """A person at a terminal. Ctrl-D leaves like ``q``; text pasted with line ends is one line."""

    def __init__(self, tell: Tell) -> None:
        from prompt_toolkit import PromptSession
        from prompt_toolkit.output import create_output
        from prompt_toolkit.output.vt100 import Vt100_Output

        output = create_output(sys.stderr)
        if isinstance(output, Vt100_Output):
            # A prompt of one line need not ask the terminal where its cursor stands.
            output.enable_cpr = False
        self._tell = tell
        self._session: PromptSession[str] = PromptSession(output=output, reserve_space_for_menu=0)

    def answer(self, stop: Stop, told: str) -> str:
        """Ask until the answer fits."""
        while True:
            line = self._line(f"{told} > ")
            if line.casefold() == LEAVE:
                raise Left
            if line == EXPLAIN:
                self._tell(help_lines(stop))
            elif fits(stop, line):
                return line
            else:
                said = f"{clean(line)!r} is no answer here. " if line else ""
                self._tell([f"{said}Type {what_fits(stop)}. ? explains, q leaves."])

    def go_on(self) -> None:
        """Enter goes on; ``q`` leaves here too."""
        if self._line("Enter goes on > ").casefold() == LEAVE:
            raise Left

    def _line(self, prompt: str) -> str:
        try:
            return " ".join(self._session.prompt(prompt).split())
        except EOFError:
            raise Left from None
        except KeyboardInterrupt:
            raise Left(interrupted=True) from None


def answers_from(file: str | None, tell: Tell) -> Scripted | Asked:
    """The answers of a file, of standard input with ``-``, or of the person at the terminal."""
    if file is None:
        if not sys.stdin.isatty():
            raise UsageError(
                "A drill asks questions and needs a terminal. Without one give the answers in a "
                "file, one a line: boxlamp drill NIGHT --answers FILE"
            )
        return Asked(tell)
    try:
        content = (
            sys.stdin.buffer.read(_MOST + 1)
            if file == "-"
            else Path(file).read_bytes()[: _MOST + 1]
        )
        text = content.decode("utf-8-sig")
    except OSError as error:
        raise UsageError(f"--answers {file} cannot be read: {error.strerror}.") from error
    except UnicodeDecodeError as error:
        raise UsageError(f"--answers {file}: this is not a text file in UTF-8.") from error
    if len(content) > _MOST:
        raise UsageError(f"--answers {file} is larger than {_MOST // 1_000_000} MB.")
    return Scripted("<standard input>" if file == "-" else file, text)

"""Where the answers of a drill come from: a person at a terminal, or a file of answers."""

import re
import signal
import sys
from collections.abc import Callable, Iterable, Iterator
from pathlib import Path
from shutil import get_terminal_size
from typing import NamedTuple, Protocol, TextIO

from boxlamp.desk.session import UsageError
from boxlamp.training.drill.asking import EXPLAIN, LEAVE, STORY, fits, help_lines, what_fits
from boxlamp.training.drill.points import Stop
from boxlamp.view.text import clean, fit, width_of, wrap

_MOST = 1_000_000
_WIDTH, _LEAST, _ECHO = 78, 20, 40

AS_IT_WAS = "This night as it was:"

Tell = Callable[[Iterable[str]], None]


class Left(Exception):  # noqa: N818 - no failure: the person has had enough for now
    """The drill is left before its end; ``by`` is the number of the signal, if it was one."""

    def __init__(self, by: int = 0) -> None:
        super().__init__("left")
        self.by = by


class Ended(KeyboardInterrupt):
    """The program is asked to end, or its window was closed: the same as Ctrl-C, by its number."""

    def __init__(self, by: int) -> None:
        super().__init__()
        self.by = by


class Asking(NamedTuple):
    """One question: its stop, the time of the night, its lines, and all that was written down."""

    stop: Stop
    told: str
    question: tuple[str, ...]
    story: Callable[[], Iterable[str]]


def folded(lines: Iterable[str], out: TextIO) -> Iterator[str]:
    """Lines set for where they go: a terminal's width, 78 at most; a table's column is kept."""
    across = get_terminal_size((80, 24)).columns - 1 if out.isatty() else _WIDTH
    width = max(_LEAST, min(_WIDTH, across))
    for line in lines:
        lead = _lead(line)
        if width_of(line) <= width or line.startswith(AS_IT_WAS):  # a command is copied whole
            yield line
        else:
            first, *rest = wrap(line[lead:], width - lead)
            yield line[:lead] + first
            yield from (" " * lead + part for part in rest)


def _lead(line: str) -> int:
    """Where the words begin: behind the indent, and behind the first column of a table."""
    indent = len(line) - len(line.lstrip())
    column = re.match(r" +\S{1,5}  (?=\S)", line)
    return column.end() if column else min(indent, _LEAST // 2)


class Answers(Protocol):
    """Somebody who answers. ``tries_again`` says whether a wrong line may be typed once more."""

    tries_again: bool

    def answer(self, asking: Asking) -> str:
        """An answer that fits the question. May leave."""

    def go_on(self) -> None:
        """Wait until what was said has been read."""


class Scripted:
    """Answers from a file: one a line; empty lines and lines that begin with ``#`` are none."""

    tries_again = False

    def __init__(self, name: str, text: str) -> None:
        self.name = name
        numbered = enumerate(text.splitlines(), start=1)
        self._left = [(number, line.strip()) for number, line in numbered]
        self._left = [row for row in self._left if row[1] and not row[1].startswith("#")]
        self._left.reverse()

    def answer(self, asking: Asking) -> str:
        """The next answer, which must fit; the end of the file leaves the drill."""
        if not self._left:
            raise Left
        number, line = self._left.pop()
        if line.casefold() in LEAVE:
            raise Left
        if not fits(asking.stop, line):
            raise UsageError(
                f"{self.name}:{number}: {_short(line)} is no answer at {asking.told}. "
                f"Here it asks for {what_fits(asking.stop)}."
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

    tries_again = True

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

    def answer(self, asking: Asking) -> str:
        """Ask until the answer fits; what is refused or looked up is followed by the question."""
        stop = asking.stop
        while True:
            line = self._line(f"{asking.told} > ")
            if line.casefold() in LEAVE:
                raise Left
            if line == EXPLAIN:
                said: Iterable[str] = help_lines(stop)
            elif line.casefold() in STORY:
                said = asking.story()
            elif fits(stop, line):
                return line
            else:
                refused = f"{_short(line)} is no answer here. " if line else ""
                said = [f"{refused}Type {what_fits(stop)}. ? explains, q leaves."]
            self._tell(["", *said, "", *asking.question])

    def go_on(self) -> None:
        """Enter goes on; ``q`` leaves here too."""
        if self._line("Enter goes on > ").casefold() in LEAVE:
            raise Left

    def _line(self, prompt: str) -> str:
        try:
            return " ".join(self._session.prompt(prompt).split())
        except EOFError:
            raise Left from None
        except KeyboardInterrupt as ended:
            raise Left(signal_of(ended)) from None


def signal_of(ended: KeyboardInterrupt) -> int:
    """The number of the signal that ended it: Ctrl-C's unless it says another."""
    return ended.by if isinstance(ended, Ended) else signal.SIGINT


def _short(line: str) -> str:
    """A wrong answer as it is said back: harmless, and not the whole of a long one."""
    return repr(fit(clean(line), _ECHO).rstrip())


def _at_most(file: str) -> bytes:
    """What is in the file, and no more than shows that it is too much: a device never ends."""
    if file == "-":
        return sys.stdin.buffer.read(_MOST + 1)
    with Path(file).open("rb") as stream:
        return stream.read(_MOST + 1)


def answers_from(file: str | None, tell: Tell) -> Scripted | Asked:
    """The answers of a file, of standard input with ``-``, or of the person at the terminal."""
    if file is None:
        if sys.stdin is None or not sys.stdin.isatty():
            raise UsageError(
                "A drill asks questions and needs a terminal. Without one give the answers in a "
                "file, one a line: boxlamp drill NIGHT --answers FILE"
            )
        return Asked(tell)
    if file == "-" and sys.stdin is None:
        raise UsageError("--answers -: standard input is closed. Name a file of answers.")
    try:
        content = _at_most(file)
        text = content.decode("utf-8-sig")
    except OSError as error:
        raise UsageError(f"--answers {file} cannot be read: {error.strerror}.") from error
    except UnicodeDecodeError as error:
        raise UsageError(f"--answers {file}: this is not a text file in UTF-8.") from error
    if len(content) > _MOST:
        raise UsageError(f"--answers {file} is larger than {_MOST // 1_000_000} MB.")
    return Scripted("<standard input>" if file == "-" else file, text)

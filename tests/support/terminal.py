"""A terminal of 24 lines for tests: the program in a real pty, its screen as a person sees it."""

import signal
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager, suppress
from pathlib import Path

import pexpect
import pyte

from support.calls import PROGRAM, surroundings

KEYS = {
    "f1": "\x1bOP", "f2": "\x1bOQ", "f3": "\x1bOR", "f4": "\x1bOS", "f5": "\x1b[15~",
    "f6": "\x1b[17~", "f7": "\x1b[18~", "f8": "\x1b[19~", "f9": "\x1b[20~", "f10": "\x1b[21~",
    "enter": "\r", "c-c": "\x03", "c-d": "\x04", "tab": "\t", "backspace": "\x7f",
}  # fmt: skip
_PATIENCE = 15.0


class Terminal:
    """The program in a pty. It answers no questions about its cursor."""

    def __init__(self, journal: Path, *words: str, **more: str) -> None:
        self.screen = pyte.Screen(80, 24)
        self._stream = pyte.ByteStream(self.screen)
        self.sent = b""
        self.child = pexpect.spawn(
            str(PROGRAM), [*words], env=surroundings(journal, **more), dimensions=(24, 80)
        )

    @property
    def shown(self) -> str:
        """The screen as lines."""
        return "\n".join(line.rstrip() for line in self.screen.display)

    @property
    def prompt(self) -> str:
        """The line in which a person types, after its time."""
        lines = [line for line in self.screen.display if line[2:3] == ":" and line[9:10] == ">"]
        return lines[-1][11:].rstrip() if lines else ""

    def look(self, seconds: float = 0.1) -> None:
        """Take in what the program draws within this time."""
        with suppress(pexpect.TIMEOUT, pexpect.EOF):
            content = self.child.read_nonblocking(65536, timeout=seconds)
            self.sent += content
            self._stream.feed(content)

    def until(self, seen: Callable[[], bool], what: str = "it") -> None:
        """Wait until something is so."""
        end = time.monotonic() + _PATIENCE
        while not seen():
            assert time.monotonic() < end, f"waited for {what}:\n{self.shown}"
            self.look()

    def wait(self, text: str) -> None:
        """Wait until a text stands on the screen."""
        self.until(lambda: text in self.shown, repr(text))

    def type(self, text: str) -> None:
        """Type a text and wait until it stands in the input."""
        before = self.prompt
        self.child.send(text)
        self.until(lambda: self.prompt.startswith(f"{before}{text}".strip()), f"typed {text!r}")

    def press(self, *names: str) -> None:
        """Press keys."""
        for name in names:
            self.child.send(KEYS[name])

    def line(self, text: str) -> None:
        """Type a line, then Enter, and wait until the input is empty again."""
        self.type(text)
        self.press("enter")
        self.until(lambda: self.prompt == "", f"{text!r} to be taken")

    def resize(self, columns: int, rows: int) -> None:
        """Pull the window to another size."""
        self.screen.resize(rows, columns)
        self.screen.reset()
        self.child.setwinsize(rows, columns)

    def take_away(self) -> None:
        """Close the window: the program's terminal is gone without a word."""
        self.child.ptyproc.fileobj.close()
        self.child.ptyproc.closed = self.child.closed = True
        self.child.ptyproc.fd = self.child.child_fd = -1

    def gone(self) -> None:
        """Wait until a program without a terminal has ended by itself."""
        end = time.monotonic() + _PATIENCE
        while self.child.isalive():
            assert time.monotonic() < end, "it goes on without a terminal"
            time.sleep(0.05)

    def left(self) -> int:
        """Wait until the program has left; its exit code, or minus the signal that ended it."""
        end = time.monotonic() + _PATIENCE
        while self.child.isalive():
            assert time.monotonic() < end, f"still here:\n{self.shown}"
            self.look()
        self.look()
        code = self.child.exitstatus
        return int(code) if code is not None else -int(self.child.signalstatus)


@contextmanager
def terminal(journal: Path, *words: str, **more: str) -> Iterator[Terminal]:
    """A terminal with the program in it; whatever is left of it at the end is stopped."""
    made = Terminal(journal, *words, **more)
    try:
        yield made
    finally:
        if made.child.isalive():
            made.child.kill(signal.SIGKILL)
        made.child.close()

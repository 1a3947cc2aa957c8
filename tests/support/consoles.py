"""The console on a screen in memory: real keys in, a real screen out, time by the test alone."""

import asyncio
import io
import re
from contextlib import ExitStack
from pathlib import Path

import pyte
from prompt_toolkit.application import create_app_session
from prompt_toolkit.data_structures import Size
from prompt_toolkit.input import create_pipe_input
from prompt_toolkit.output.vt100 import Vt100_Output

from boxlamp.attend.console import Console
from support.boxes import Watch, sitting_at

KEYS = {
    "f1": "\x1bOP", "f2": "\x1bOQ", "f3": "\x1bOR", "f4": "\x1bOS", "f5": "\x1b[15~",
    "f6": "\x1b[17~", "f7": "\x1b[18~", "f8": "\x1b[19~", "f9": "\x1b[20~", "f10": "\x1b[21~",
    "f12": "\x1b[24~", "enter": "\r", "esc": "\x1b", "tab": "\t", "backspace": "\x7f",
    "left": "\x1b[D", "right": "\x1b[C", "up": "\x1b[A", "down": "\x1b[B", "home": "\x1b[H",
    "end": "\x1b[F", "delete": "\x1b[3~", "page up": "\x1b[5~", "page down": "\x1b[6~",
}  # fmt: skip
CODES = re.compile("\x1b]|\x1b\\[5n|\x1bc|[\x80-\x9f\u202a-\u202e\u2066-\u2069]")
"""Codes that the console never sends of itself, so that on the screen they came from a text."""
_SHORT = 0.001


class Seat:
    """A person at the console. Everything typed is worked off before a call comes back."""

    def __init__(self, path: Path, watch: Watch) -> None:
        self._open = ExitStack()
        self.loop = asyncio.new_event_loop()
        self._open.callback(self.loop.close)
        self.size = Size(rows=24, columns=80)
        self._sent, self.sent = io.StringIO(), ""
        self.screen = pyte.Screen(80, 24)
        self._stream = pyte.Stream(self.screen)
        self._input = self._open.enter_context(create_pipe_input())
        output = Vt100_Output(self._sent, lambda: self.size, term="xterm", enable_cpr=False)
        self._open.enter_context(create_app_session(input=self._input, output=output))
        self.sitting = self._open.enter_context(sitting_at(path, watch))
        self.console = Console(self.sitting)
        app = self.console.app
        app.ttimeoutlen = app.timeoutlen = _SHORT
        app.max_render_postpone_time = 0
        self._task = self.loop.create_task(app.run_async(handle_sigint=False))
        self.settle()

    @property
    def text(self) -> str:
        """What stands in the input."""
        return self.console.input.text

    @property
    def left(self) -> bool:
        """Whether the person has left."""
        return self._task.done()

    def settle(self, seconds: float = 0) -> None:
        """Let the console work off what has come, and draw."""
        self.loop.run_until_complete(self._settled(seconds))
        if self._task.done():
            self._task.result()
        new = self._sent.getvalue()
        self._sent.seek(0)
        self._sent.truncate()
        self.sent += new
        self._stream.feed(new)

    async def _settled(self, seconds: float) -> None:
        await asyncio.sleep(seconds)
        for _ in range(30):
            await asyncio.sleep(0)

    def send(self, text: str) -> None:
        """Bytes come from the keyboard."""
        if not self.left:
            self._input.send_text(text)
            # A lone escape is known for one only when nothing follows it for a while.
            self.settle(5 * _SHORT if text.endswith("\x1b") else 0)

    def press(self, key: str) -> None:
        """A key is pressed."""
        self.send(KEYS[key])

    def paste(self, text: str) -> None:
        """Text is pasted as terminals do it."""
        self.send(f"\x1b[200~{text}\x1b[201~")

    def tick(self) -> None:
        """A second of the console: it looks what stands, saves what is half typed, and draws."""
        if not self.left:
            self.loop.run_until_complete(self._looked())
            self.settle()

    async def _looked(self) -> None:
        self.console._look()
        self.console._half.save(self.text)
        self.console.app.invalidate()

    def resize(self, columns: int, rows: int) -> None:
        """The window is pulled to another size."""
        self.size = Size(rows=rows, columns=columns)
        self.screen.resize(rows, columns)
        self.screen.reset()
        if not self.left:
            self.loop.run_until_complete(self._resized())
            self.settle()

    async def _resized(self) -> None:
        self.console.app._on_resize()

    def close(self) -> None:
        """Leave, as the end of :meth:`Console.run` does."""
        text = self.text
        if not self._task.done():
            self.console.app.exit(result=0)
            self.settle()
        self.console._half.save(text)
        self._open.close()

"""The terminal around a player: it draws, waits for keys, lets time go by, and leaves cleanly."""

import asyncio
import signal
import time
from collections.abc import Callable
from functools import partial
from typing import Any

from prompt_toolkit.application import Application
from prompt_toolkit.formatted_text import StyleAndTextTuples
from prompt_toolkit.key_binding import KeyBindings, KeyPressEvent
from prompt_toolkit.layout import FormattedTextControl, Layout, Window
from prompt_toolkit.output import ColorDepth

from boxlamp.training.player import Player
from boxlamp.training.scene import Look, Show, furthest, scene
from boxlamp.view.palette import NIGHT, fragments

_TICK = 0.1
# After a laptop slept, or the program was put aside, the night goes on where it was.
_LONGEST_TICK = 1.0
_ESC_WAITS = 0.1

# Letters beside the keys that some terminals and lines swallow.
_SEEKING: tuple[tuple[tuple[str, ...], Callable[[Player], Player]], ...] = (
    (("right", "enter", "."), Player.next_event),
    (("left", ","), Player.last_event),
    (("n",), Player.next_alert),
    (("b",), Player.last_alert),
    (("home", "s"), Player.to_begin),
    (("end", "e"), Player.to_end),
)
_PACING: tuple[tuple[tuple[str, ...], Callable[[Player], Player]], ...] = (
    (("+", "="), Player.faster),
    (("-", "_"), Player.slower),
)


class Stage:
    """The running screen. :meth:`run` returns the exit code when the person leaves."""

    def __init__(
        self,
        show: Show,
        player: Player,
        *,
        stepping: bool = False,
        colour: bool = True,
        steady: Callable[[], float] = time.monotonic,
    ) -> None:
        self.show, self.player, self.look = show, player, Look(stepping=stepping)
        self._steady, self._ticked = steady, steady()
        self.app: Application[int] = Application(
            layout=Layout(
                Window(
                    FormattedTextControl(self._drawn, focusable=True, show_cursor=False),
                    always_hide_cursor=True,
                    wrap_lines=False,
                )
            ),
            key_bindings=self._bindings(),
            style=NIGHT,
            full_screen=True,
            mouse_support=False,
            color_depth=None if colour else ColorDepth.DEPTH_1_BIT,
        )
        self.app.ttimeoutlen = self.app.timeoutlen = _ESC_WAITS

    def run(self) -> int:
        """Show the night until the person leaves, the terminal closes or a signal comes."""
        try:
            return self.app.run(
                pre_run=self._begin, handle_sigint=False, set_exception_handler=False
            )
        except EOFError:
            return 0  # the terminal went away

    def tick(self) -> bool:
        """Let the time that has gone by pass in the night; whether anything is new to see."""
        now = self._steady()
        gone, self._ticked = min(now - self._ticked, _LONGEST_TICK), now
        if self.look.page == "help":
            return False  # whoever reads the help sees nothing of the night meanwhile
        before, self.player = self.player, self.player.tick(gone)
        if self.player.ended and not before.ended:
            self.look = self.look._replace(scrolled=0)
        return self.player._replace(look=0) != before._replace(look=0)

    def _drawn(self) -> StyleAndTextTuples:
        size = self.app.output.get_size()
        return fragments(scene(self.show, self.player, self.look, size.columns, size.rows))

    # What keys do

    def _bindings(self) -> KeyBindings:
        bindings = KeyBindings()
        for keys, act in _SEEKING:
            self._bind(bindings, keys, partial(self._seek, act))
        for keys, act in _PACING:
            self._bind(bindings, keys, partial(self._pace, act))
        self._bind(bindings, (" ",), self._space)
        self._bind(bindings, ("p",), self._play)
        self._bind(bindings, ("?", "h", "f1"), self._help)
        self._bind(bindings, ("escape",), self._board)
        self._bind(bindings, ("up", "k"), partial(self._scroll, -1))
        self._bind(bindings, ("down", "j"), partial(self._scroll, 1))
        self._bind(bindings, ("pageup",), partial(self._scroll, -10))
        self._bind(bindings, ("pagedown",), partial(self._scroll, 10))
        self._bind(bindings, ("q", "Q", "c-d"), partial(self._leave, 0))
        self._bind(bindings, ("c-c",), partial(self._leave, 128 + signal.SIGINT))
        bindings.add("c-z")(lambda event: event.app.suspend_to_background())
        return bindings

    def _bind(self, bindings: KeyBindings, keys: tuple[str, ...], act: Callable[[], None]) -> None:
        def pressed(_event: KeyPressEvent) -> None:
            act()

        for key in keys:
            bindings.add(key, eager=key == "escape")(pressed)

    def _seek(self, act: Callable[[Player], Player]) -> None:
        self.look = self.look._replace(page="board", scrolled=0)
        self.player = act(self.player)

    def _pace(self, act: Callable[[Player], Player]) -> None:
        self.player = act(self.player)

    def _space(self) -> None:
        """Stop and go on; where one key is one moment, the next moment."""
        if self.look.stepping and not self.player.ended and not self.player.playing:
            self._seek(Player.next_event)
        else:
            self._seek(Player.toggle)
            if self.look.stepping and self.player.place == 0:
                self.player = self.player.to_begin()

    def _play(self) -> None:
        self._seek(Player.toggle)

    def _help(self) -> None:
        page = self.look.page
        self.look = self.look._replace(page="board" if page == "help" else "help", scrolled=0)

    def _board(self) -> None:
        self.look = self.look._replace(page="board", scrolled=0)

    def _scroll(self, lines: int) -> None:
        size = self.app.output.get_size()
        most = furthest(self.show, self.player, self.look, size.columns, size.rows)
        self.look = self.look._replace(scrolled=max(0, min(most, self.look.scrolled + lines)))

    def _leave(self, code: int) -> None:
        if not self.app.is_done:
            self.app.exit(result=code)

    # The passing of time

    def _begin(self) -> None:
        loop = asyncio.get_running_loop()
        loop.set_exception_handler(self._failed)
        for number in (signal.SIGINT, signal.SIGTERM, getattr(signal, "SIGHUP", signal.SIGTERM)):
            loop.add_signal_handler(number, self._leave, 128 + number)
        self._ticked = self._steady()
        self.app.create_background_task(self._ticking())

    def _failed(self, _loop: asyncio.AbstractEventLoop, context: dict[str, Any]) -> None:
        """Whatever breaks, the screen is given back before anybody reads of it."""
        error = context.get("exception") or RuntimeError(str(context.get("message")))
        if not self.app.is_done:
            self.app.exit(exception=error)

    async def _ticking(self) -> None:
        try:
            while True:
                if self.tick():
                    self.app.invalidate()
                await asyncio.sleep(_TICK)
        except Exception as error:  # noqa: BLE001 - told when the screen is given back
            if not self.app.is_done:
                self.app.exit(exception=error)

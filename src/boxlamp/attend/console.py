"""The terminal around a sitting: a full screen that needs no answer from the terminal.

The screen is redrawn every second by a background task, so that it ticks in terminals that do
not answer cursor queries as well. Half-typed text lives in the input buffer and is never
touched by an alert.
"""

import asyncio
import signal
from collections.abc import Callable
from functools import partial

from prompt_toolkit.application import Application
from prompt_toolkit.buffer import Buffer
from prompt_toolkit.filters import Condition
from prompt_toolkit.formatted_text import StyleAndTextTuples
from prompt_toolkit.history import InMemoryHistory
from prompt_toolkit.key_binding import KeyBindings, KeyPressEvent
from prompt_toolkit.keys import Keys
from prompt_toolkit.layout import (
    BufferControl,
    ConditionalContainer,
    Float,
    FloatContainer,
    FormattedTextControl,
    HSplit,
    Layout,
    Window,
)
from prompt_toolkit.layout.menus import CompletionsMenu
from prompt_toolkit.layout.processors import BeforeInput
from prompt_toolkit.output import ColorDepth

from boxlamp.attend import sentences
from boxlamp.attend.completion import WordsCompleter
from boxlamp.attend.halftyped import HalfTyped
from boxlamp.attend.harmless import Harmless
from boxlamp.attend.help import help_lines
from boxlamp.attend.kept_rows import KeptRows
from boxlamp.attend.keys import ONE_KEYS, OTHER_KEYS, OneKey, label_for
from boxlamp.attend.sitting import Sitting
from boxlamp.attend.sound import STROKES
from boxlamp.attend.turned import TurnedUp
from boxlamp.desk.kept import Kept
from boxlamp.model.levels import Level
from boxlamp.view.layout import FINE, PLAIN, fitted
from boxlamp.view.palette import NIGHT, fragments
from boxlamp.view.text import clock_text, fit, wrap_indented

_KEY_ROWS = 2
_ROWS_FOR_KEYS = 20
_LEAVE = frozenset({"quit", "exit", "leave"})
_SHEET = frozenset({"sheet", "call-sheet", "call sheet"})
# Our choice: long enough for a key that a slow line sends in two parts, too short to type in.
_ESC_WAITS = 0.1


class Console:
    """The running console. :meth:`run` returns the exit code when the person leaves."""

    def __init__(
        self,
        sitting: Sitting,
        *,
        sounded: Callable[[Level], None] = lambda _level: None,
        colour: bool = True,
        fine: bool = True,
    ) -> None:
        self.sitting = sitting
        self._sounded = sounded
        self._glyphs = FINE if fine else PLAIN
        self._lines: Kept[StyleAndTextTuples] = Kept()
        self._half = HalfTyped(sitting.here.journal.path)
        self._leaving = False
        self._sheet = TurnedUp()
        self._top: tuple[tuple[str, str, Level], ...] = ()
        """The worst alert that stands, if there is one."""
        lines = [entry.text for entry in sitting.here.entries if entry.text]
        self.input = Buffer(
            multiline=False,
            completer=WordsCompleter(lambda: sitting.verdict().litter),
            complete_while_typing=True,
            history=InMemoryHistory(lines),
            accept_handler=self._accept,
        )
        self._left_over = self.input.text = self._half.restore()
        """The line left half typed the last time, until it is entered, changed or cleared."""
        self.input.cursor_position = len(self.input.text)
        if self._left_over:
            sitting.say(sentences.left_over(self._left_over))
        self.input.on_text_changed += lambda buffer: sitting.changed(buffer.text)
        self.app: Application[int] = Application(
            layout=Layout(self._container(), focused_element=self.input),
            key_bindings=self._bindings(),
            style=NIGHT,
            full_screen=True,
            mouse_support=False,
            color_depth=None if colour else ColorDepth.DEPTH_1_BIT,
        )
        self.app.ttimeoutlen = self.app.timeoutlen = _ESC_WAITS

    def run(self) -> int:
        """Show the console until the person leaves, the terminal closes or a signal comes."""
        try:
            return self.app.run(pre_run=self._begin, handle_sigint=False)
        except EOFError:
            return 0  # the terminal went away; every confirmed line is in the journal
        finally:
            self._half.save(self.input.text)

    # What is on the screen

    def _container(self) -> FloatContainer:
        board = KeptRows(self._board)
        message = Window(
            FormattedTextControl(self._message), height=self._message_rows, style="class:text"
        )
        entry = Window(
            BufferControl(self.input, input_processors=[Harmless(), BeforeInput(self._prompt)]),
            height=1,
            style="class:input",
            get_horizontal_scroll=lambda _window: 0,  # else a long line leaves the prompt cut
        )
        keys = ConditionalContainer(
            Window(FormattedTextControl(self._keys), height=_KEY_ROWS),
            filter=Condition(lambda: self._size()[1] >= _ROWS_FOR_KEYS and not self._sheet.shown),
        )
        return FloatContainer(
            HSplit([board, message, entry, keys]),
            floats=[Float(xcursor=True, ycursor=True, content=CompletionsMenu(max_height=6))],
        )

    def _size(self) -> tuple[int, int]:
        size = self.app.output.get_size()
        return size.columns, size.rows

    def _message_lines(self) -> list[str]:
        width, _ = self._size()
        # A question stays in view whatever is above it: Enter must never answer it unseen.
        if self._sheet.shown and self.sitting.mood != "question":
            new = self._sheet.older_than(self.sitting.said_at)
            said = self.sitting.message[:1] if new else []
            return [fit(line, width).rstrip() for line in said or [sentences.BACK]]
        return [line for said in self.sitting.message for line in wrap_indented(said, width)]

    def _message_rows(self) -> int:
        _, rows = self._size()
        most = rows - 10 if self.sitting.mood == "question" else rows // 3
        return max(1, min(len(self._message_lines()), most, rows - 8))

    def _board(self) -> StyleAndTextTuples:
        width, rows = self._size()
        if self._sheet.shown:
            return fragments(self._sheet.lines(self.sitting.sheet(), width, self._sheet_room()))
        keys = _KEY_ROWS if rows >= _ROWS_FOR_KEYS else 0
        room = max(1, rows - self._message_rows() - keys - 1)
        board = self.sitting.board()
        return self._lines.answer(
            (board, width, room), lambda: fragments(fitted(board, width, room, self._glyphs))
        )

    def _sheet_room(self) -> int:  # one line is typed in, and one or more say something
        return max(1, self._size()[1] - self._message_rows() - 1)

    def _message(self) -> StyleAndTextTuples:
        role = {"said": "text", "question": "question", "trouble": "watch"}[self.sitting.mood]
        return fragments([[(role, line)] for line in self._message_lines()])

    def _prompt(self) -> StyleAndTextTuples:
        verdict_at = self.sitting.verdict().at
        time = clock_text(verdict_at, verdict_at, self.sitting.here.zone, seconds=True)
        return [("class:time", f"{time} > ")]

    def _keys(self) -> StyleAndTextTuples:
        litter = self.sitting.verdict().litter
        rows = [[(key.key, label_for(key, litter)) for key in ONE_KEYS], [*OTHER_KEYS]]
        found: StyleAndTextTuples = []
        for place, row in enumerate(rows):
            if place:
                found.append(("", "\n"))
            for key, label in row:
                found += [("class:key", f"{key.upper()} "), ("class:dim", f"{label}  ")]
        return found

    # What keys do

    def _bindings(self) -> KeyBindings:
        bindings = KeyBindings()
        for one in ONE_KEYS:
            bindings.add(one.key)(self._pressing(one))
        for keys, act in (
            ("f7", self.sitting.heard),
            ("f8", self._take_back),
            ("f9", self._help),
            ("f10", self._asks_to_leave),
            ("f12", self._turn),
            ("c-c", self._interrupt),
        ):
            bindings.add(keys)(self._doing(act))
        bindings.add(Keys.Any, filter=Condition(self._asked))(self._typed_on)
        # At once, and always: a key that follows Esc quickly is a key of its own. Were the two
        # read as one, `Esc 21:25` would lose its first figure, or write something else down.
        bindings.add("escape", eager=True)(self._doing(self._back))
        self._scrolling(bindings)
        bindings.add("c-z")(lambda event: event.app.suspend_to_background())
        bindings.add(Keys.BracketedPaste)(self._pasted)
        bindings.add("c-d", filter=Condition(lambda: not self.input.text))(self._doing(self._leave))
        return bindings

    def _scrolling(self, bindings: KeyBindings) -> None:
        """A page or a line of the sheet; the arrows only while they have no line to move in."""
        sheet = Condition(lambda: self._sheet.shown)
        empty = sheet & Condition(lambda: not self.input.text)
        for key, wanted, step in (
            ("pagedown", sheet, lambda: max(1, self._sheet_room() - 2)),
            ("pageup", sheet, lambda: -max(1, self._sheet_room() - 2)),
            ("down", empty, lambda: 1),
            ("up", empty, lambda: -1),
        ):
            bindings.add(key, filter=wanted)(self._doing(partial(self._scroll, step)))

    def _scroll(self, step: Callable[[], int]) -> None:
        self._sheet.scroll(step())

    def _pressing(self, one: OneKey) -> Callable[[KeyPressEvent], None]:
        def pressed(_event: KeyPressEvent) -> None:
            self._leaving = False
            if self._asked():  # who presses a key has not answered
                self._set_aside()
            unstored = self.sitting.press(one)
            if unstored and not self.input.text:
                self.input.insert_text(unstored)
            elif unstored:
                # Enter would take the line that is half typed, and no answer to the question.
                self.sitting.refuse_question(sentences.PRESS_AGAIN.format(one.key.upper()))
            self._answered(much=one.line == "pup")
            self._look()

        return pressed

    def _asked(self) -> bool:
        """Whether the line in the input was entered already, and nothing in it is changed."""
        text = self.input.text
        return self.sitting.holds(text) and self.input.cursor_position == len(text)

    def _typed_on(self, event: KeyPressEvent) -> None:
        self._set_aside()
        self.input.insert_text(event.data)

    def _set_aside(self) -> None:
        """Who types on begins another line: the one asked about is a note, one unstored waits."""
        self.sitting.set_aside()
        self.input.reset()

    def _take_back(self) -> None:
        self._back() if self._asked() else self.sitting.undo()

    def _back(self) -> None:
        """Let the line go that was asked about: it was not meant. Else show the board again."""
        if self.sitting.holds(self.input.text):
            self.sitting.drop()
            self.input.reset()
        elif self._left_over and self.input.text == self._left_over and not self._sheet.shown:
            self.input.reset()
            self._left_over = ""
            self._half.save("")
            self.sitting.say([sentences.CLEARED])
        else:
            self._sheet.down()

    def _pasted(self, event: KeyPressEvent) -> None:
        """Take pasted text in, a line an entry; what has no line end yet stays in the input."""
        if event.data and self._asked():
            self._set_aside()
        *lines, rest = event.data.replace("\r\n", "\n").replace("\r", "\n").split("\n")
        unread: list[str] = []
        for place, line in enumerate(lines, start=1):
            self.input.insert_text(line)
            if self._accept(self.input):  # a question, or not stored
                self.sitting.add(sentences.only_notes(unread))
                self.sitting.add(sentences.paste_again([*lines[place:], rest]))
                return
            self.input.reset(append_to_history=True)
            if line.strip() and self.sitting.mood == "trouble":
                unread.append(line.strip())
        if len(lines) > 1:
            # Each answer has hidden the one before it: what was no entry is told again.
            self.sitting.add(sentences.only_notes(unread))
        self.input.insert_text(rest)

    def _doing(self, act: Callable[[], None]) -> Callable[[KeyPressEvent], None]:
        def done(_event: KeyPressEvent) -> None:
            if act not in {self._interrupt, self._asks_to_leave}:
                self._leaving = False
            act()
            self._look()

        return done

    def _accept(self, buffer: Buffer) -> bool:
        """Write the line down; keep it in the input when it was not stored."""
        text = buffer.text
        command = text.strip().lower()
        self._leaving = False
        if command in {"help", "?"}:
            self._help()
            return False
        if command in _LEAVE | _SHEET:
            buffer.reset()
            self._turn() if command in _SHEET else self._leave()
            return False
        if command:
            self._sheet.down()
        buffer.cancel_completion()
        stored = self.sitting.enter(text)
        if stored:
            # At once: after a crash a line that is kept must not come back as half typed.
            self._half.save("")
        self._look()
        return not stored

    def _turn(self) -> None:
        """Show the call sheet in place of the board, or the board again."""
        self._sheet.turn(self.sitting.said_at)

    def _answered(self, *, much: bool) -> None:
        """A key wrote a line while somebody may be on the telephone: the sheet stays.

        Unless the answer must be read whole: there is much to do, a question, or trouble.
        """
        if much or self.sitting.mood != "said":
            self._sheet.down()

    def _help(self) -> None:
        self._sheet.down()
        self.sitting.say(help_lines())

    def _leave(self) -> None:
        if self.sitting.waiting and not self._leaving:
            self._leaving = True
            self.sitting.say(sentences.unstored(self.sitting.waiting))
        elif not self.app.is_done:
            self.app.exit(result=0)

    def _asks_to_leave(self) -> None:
        """Leave at once from a quiet board; else on a second press, for it is easily missed.

        F10 lies beside the key of the sheet, and who leaves takes the alarm away with them.
        """
        loud = (self.sitting.verdict().worst or Level.PROMPT) >= Level.CALL
        if self._leaving or not (loud or self._sheet.shown):
            self._leave()
            return
        self._leaving = True
        stay = sentences.STAY if loud else sentences.STAY_CALM
        self.sitting.say([*sentences.unstored(self.sitting.waiting), stay])

    def _interrupt(self) -> None:
        if self._leaving:
            self.app.exit(result=128 + signal.SIGINT)
            return
        self._leaving = True
        self.sitting.say([*sentences.unstored(self.sitting.waiting), sentences.INTERRUPTED])

    # The passing of time

    def _begin(self) -> None:
        loop = asyncio.get_running_loop()
        for number in (signal.SIGTERM, getattr(signal, "SIGHUP", signal.SIGTERM)):
            loop.add_signal_handler(number, self._signalled, number)
        self.app.create_background_task(self._tick())

    def _signalled(self, number: int) -> None:
        self._half.save(self.input.text)
        if not self.app.is_done:
            self.app.exit(result=128 + number)

    async def _tick(self) -> None:
        while True:
            self._look()
            self._half.save(self.input.text)
            self.app.invalidate()
            await asyncio.sleep(1)

    def _look(self) -> None:
        """See what stands now, and sound what should sound; a new worst alert is seen at once."""
        level = self.sitting.tick()
        top = tuple((one.rule.id, one.subject, one.level) for one in self.sitting.verdict().alerts)
        if top[:1] != self._top:
            self._top = top[:1]
            self._sheet.to_top()
        if level is not None:
            self._sounded(level)
            self.app.create_background_task(self._ring(STROKES[level]))

    async def _ring(self, strokes: int) -> None:
        for _ in range(strokes):
            self.app.output.bell()
            self.app.output.flush()
            await asyncio.sleep(0.35)

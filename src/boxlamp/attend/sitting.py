"""Everything that happens at the console, without a terminal: lines, keys, undo, ticking."""

import time
from collections.abc import Callable, Iterator
from datetime import datetime, timedelta
from typing import Literal, NamedTuple

from boxlamp.attend import sentences
from boxlamp.attend.keys import OneKey, line_for
from boxlamp.attend.sentences import only_notes
from boxlamp.attend.sound import Sound
from boxlamp.desk.answer import after_lines, answer_lines
from boxlamp.desk.kept import Kept
from boxlamp.desk.session import Session
from boxlamp.desk.steady import Steady
from boxlamp.desk.writing import DoubtfulError, RefusedError, Written, write
from boxlamp.engine import Verdict
from boxlamp.journal import JournalError
from boxlamp.model.entry import Entry
from boxlamp.model.happenings import Strike
from boxlamp.model.levels import Level
from boxlamp.model.order import struck
from boxlamp.model.spans import in_words
from boxlamp.paper.call_sheet.facts import CallSheet
from boxlamp.paper.call_sheet.sheet import call_sheet
from boxlamp.paper.reader import Reader
from boxlamp.view.board import Board, Typed, as_typed, board
from boxlamp.view.text import clean
from boxlamp.view.words import typed_words

Mood = Literal["said", "question", "trouble"]

_UNDO = "taken back with undo"
_JUMP = timedelta(seconds=30)
_SHRINKS_AFTER_S = 90
_TRIES_AGAIN_S = 10
_ENTER_OR = "Enter: write it down as it stands. Esc: drop it. Backspace or arrows: change it."


class Waiting(NamedTuple):
    """A line that was entered and could not be stored, and when it was typed."""

    line: str
    typed: datetime


class Held(NamedTuple):
    """A line that was entered and is in the input still: asked about, or ``unstored``."""

    line: str
    typed: datetime
    unstored: bool = False


class Sitting:
    """One person at the box, one litter. Nothing typed is ever lost: see :meth:`enter`."""

    def __init__(
        self,
        here: Session,
        *,
        clock: Callable[[], datetime],
        by: str = "",
        monotonic: Callable[[], float] = time.monotonic,
        reader: Reader | None = None,
    ) -> None:
        self.here, self.by = here, by
        self._reader = reader or Reader(here.zone)
        self._clock, self._monotonic = clock, monotonic
        self._sound = Sound()
        self._verdict: Kept[Verdict] = Kept()
        self._board: Kept[Board] = Kept()
        self._typed: Kept[Typed] = Kept()
        self._sheet: Kept[CallSheet] = Kept()
        self._version = here.journal.data_version()
        self._ticked = (clock(), monotonic())
        self._steady = Steady(clock, began=here.present(clock()), monotonic=monotonic)
        self._mine: dict[int, int] = {}
        """The entries typed here, each with the first entry of the same line."""
        self._held: Held | None = None
        """What was entered and is in the input still: asked about, or not stored."""
        self._waiting: list[Waiting] = []
        self._tries_at = 0.0
        self._beside: list[str] = []
        """What is told beside the next answer: it might not have been read in its own."""
        self.mood: Mood = "said"
        self._message: list[str] = []
        self._said_at = 0.0
        behind = here.clock_behind(clock())
        hint = "Type what you see, then Enter. F9 shows the words."
        self._say([behind, hint] if behind else [hint], "trouble" if behind else "said")

    @property
    def pending(self) -> str | None:
        """The line a question was asked about, if one is open."""
        held = self._held if self.mood == "question" else None
        return None if held is None or held.unstored else held.line

    @property
    def message(self) -> list[str]:
        """What was last said. An answer shrinks to its first line after a while.

        A question does not, nor does trouble: what to type instead must not go unread.
        """
        old = self._monotonic() - self._said_at > _SHRINKS_AFTER_S
        return self._message[:1] if old and self.mood == "said" else self._message

    @property
    def said_at(self) -> float:
        """When the message was said, on the steady clock."""
        return self._said_at

    def verdict(self) -> Verdict:
        """What stands now. Judged once in a second of the clock, and when the record grows."""
        now = self._steady.now()
        asked = (int(now.timestamp()), self.here.entries)
        return self._verdict.answer(asked, lambda: self.here.verdict(now))

    def board(self, *, latest: int = 12) -> Board:
        """The board as it stands now."""
        verdict, entries = self.verdict(), self.here.entries
        typed = self._typed.answer((entries,), lambda: as_typed(entries))
        return self._board.answer(
            (verdict, typed, latest),
            lambda: board(verdict, typed, self.here.zone, latest=latest),
        )

    def sheet(self) -> CallSheet:
        """What to say to the vet on the telephone now."""
        verdict = self.verdict()
        return self._sheet.answer(
            (verdict,), lambda: call_sheet(verdict, self._reader._replace(zone=self.here.zone))
        )

    def tick(self) -> Level | None:
        """A second has gone by: take in what other terminals wrote; say what should sound."""
        self._notice_jump()
        # A journal that is busy lets one wait: not every second, and not over a question.
        if self._waiting and self.mood != "question" and self._monotonic() >= self._tries_at:
            self._tries_at = self._monotonic() + _TRIES_AGAIN_S
            self.catch_up()
        try:
            version = self.here.journal.data_version()
            if version != self._version:
                self._version = version
                self._reload()
        except JournalError as error:
            self._say([str(error)], "trouble")
        return self._sound.due(self.verdict())

    def enter(self, line: str) -> bool:
        """Write a line down. True when it is safely recorded and the input may be emptied.

        A line that raises a question stays in the input: Enter again takes it as it stands,
        any change withdraws the question. A line that cannot be stored stays there too.
        """
        text = line.strip()
        accept = self.pending == text
        if not text:
            return True
        if text.lower() == "undo":
            self.undo()
            return True
        self.catch_up()
        return self._write(text, accept=accept) is not None

    def press(self, key: OneKey) -> str:
        """Write down what a one-key entry stands for. Gives back the line if it was not stored."""
        line = line_for(key, self.verdict().litter)
        if line is None:
            self._say([f"{key.label}: no pup is waiting for it. Write the pup down first."])
            return ""
        self.catch_up()
        return "" if self._write(line, accept=False) else line

    def heard(self) -> None:
        """Acknowledge everything that stands: quiet the sound, never the display."""
        if self.verdict().alerts:
            self._write("ack", accept=False)
        else:
            self._say(["No alert stands, so there is nothing to acknowledge."])

    def undo(self) -> None:
        """Strike the last line typed here that still counts. The strike can be struck in turn.

        Another terminal's lines are somebody else's: they are named and left alone.
        """
        last = next((entry for entry in self._undoable() if entry.id in self._mine), None)
        if last is None:
            self._say(self._nothing_of_mine())
            return
        line = self._mine[last.id]
        of_it = [entry for entry in self._undoable() if self._mine.get(entry.id) == line]
        beside: list[str] = []
        for entry in of_it:
            beside += self._beside
            written = self._write(f"strike {entry.id} {_UNDO}", accept=True)
            if written is None or written.unread is not None:
                return
        strikes = [f"strike {entry.id}" for entry in self.here.entries[-len(of_it) :]]
        back = ", ".join(strikes)
        told = ", ".join(clean(entry.text) for entry in reversed(of_it))
        numbers = str(last.id) if len(of_it) == 1 else f"{of_it[-1].id} to {last.id}"
        took = [f"Took back {numbers}: {told}", f"      To bring it back type: {back}"]
        self._say([*beside, *took], "trouble" if beside else "said")

    def holds(self, line: str) -> bool:
        """Whether what is typed behind this line is no part of it: it was entered already."""
        return self._held is not None and line.strip() == self._held.line

    def drop(self) -> None:
        """Let the line go that was entered and is in the input still: it was not meant."""
        self._held = None
        self._say([])

    def set_aside(self) -> None:
        """Take the line out of the input that was entered: whoever types on begins another one.

        One that was asked about was not answered: it is kept as a note, and the next answer says
        so once more, with what to type. One that cannot be stored waits until it can be.
        """
        held, self._held = self._held, None
        if held is None:
            return
        written = None
        if not held.unstored:
            written = self._write(held.line, accept=False, keep=True, at=held.typed)
        if written is None:
            self._held = None
            self._waiting.append(Waiting(held.line, held.typed))
        else:
            danger = [f"      {one}" for one in written.if_meant]
            self._beside += [*only_notes([held.line]), *danger]

    @property
    def waiting(self) -> tuple[str, ...]:
        """The lines that were entered and could not be stored yet."""
        return tuple(line for line, _ in self._waiting)

    def catch_up(self) -> None:
        """Store what waits, each line as of when it was typed; what still cannot be goes on so."""
        stored: list[str] = []
        while self._waiting:
            line, then = self._waiting[0]
            said, held = (self._message, self.mood, self._said_at), self._held
            written = self._write(line, accept=False, keep=True, at=then)
            self._held = held
            if written is None:
                self._message, self.mood, self._said_at = said
                break
            del self._waiting[0]
            stored.append(sentences.STORED_NOW.format(clean(line)))
        self._beside += stored

    def changed(self, line: str) -> None:
        """The input changed: what was entered before is edited, and no question stands about it."""
        if self._held is not None and line.strip() != self._held.line:
            self._held = None
            self._say([])

    def refuse_question(self, instead: str) -> None:
        """A question stands about a line that cannot be kept in the input: say what to do."""
        if self.mood == "question":
            self._say([*self._message[:-1], instead], "trouble")

    def add(self, lines: list[str]) -> None:
        """Say more beside what was just said; an open question stays open."""
        self._message = [*self._message, *lines]

    def say(self, lines: list[str]) -> None:
        """Show something that is no answer to a line, such as help."""
        self._say(lines)

    def _write(
        self, text: str, *, accept: bool, keep: bool = False, at: datetime | None = None
    ) -> Written | None:
        if self.holds(text):
            self._held = None
        # By the watch that the prompt shows: what is written now must not lie before what was.
        now = at or self._steady.now()
        try:
            written = write(self.here, text, now, by=self.by, accept=accept, keep=keep)
        except DoubtfulError as error:
            self._held = Held(text, now)
            self._say([*str(error).splitlines(), _ENTER_OR], "question")
            return None
        except RefusedError as error:
            self._say(str(error).splitlines(), "trouble")
            return None
        except JournalError as error:
            self._held = Held(text, now, unstored=True)
            told = [f"NOT STORED: {clean(one)}" for one in (*self.waiting, text)]
            self._say([*told, *str(error).splitlines(), sentences.ON_PAPER], "trouble")
            return None
        self._answer(written)
        return written

    def _answer(self, written: Written) -> None:
        line = written.entries[0].id
        self._mine.update((one.id, line) for one in written.entries)
        self._reload()
        beside, self._beside = self._beside, []
        lines = [*beside, *answer_lines(written, self.here.zone), *after_lines(written)]
        self._say(lines, "trouble" if written.unread or beside else "said")

    def _reload(self) -> None:
        self.here.refresh()

    def _undoable(self) -> Iterator[Entry]:
        """The entries that still count, newest first; the opening and earlier undos left out."""
        withdrawn = struck(self.here.entries)
        for entry in reversed(self.here.entries[1:]):
            undo = isinstance(entry.what, Strike) and entry.what.why == _UNDO
            if entry.id not in withdrawn and not undo:
                yield entry

    def _nothing_of_mine(self) -> list[str]:
        other = next(self._undoable(), None)
        if other is None:
            return ["There is nothing to take back."]
        return [
            "Nothing typed here is left to take back.",
            f"To withdraw {other.id} ({typed_words(other)}): strike {other.id} and why.",
        ]

    def _notice_jump(self) -> None:
        """Tell the person when the clock has leapt: a laptop that slept, or a clock set anew."""
        now, steady = self._clock(), self._monotonic()
        leap = (now - self._ticked[0]) - timedelta(seconds=steady - self._ticked[1])
        self._ticked = (now, steady)
        if leap > _JUMP:
            words = (
                f"The clock has moved on by {in_words(leap)}: the computer slept, or was set. "
                "The clocks count real time. What has she done meanwhile?"
            )
            self._say([words])
        elif leap < -_JUMP:
            words = (
                f"The computer's clock has been set back by {in_words(-leap)}. This console goes "
                "on by its own watch, at the top right: a line without a time gets that time. "
                "If that watch is wrong, put the right time first in each line."
            )
            self._say([words], "trouble")

    def _say(self, lines: list[str], mood: Mood = "said") -> None:
        self._message, self.mood, self._said_at = lines, mood, self._monotonic()

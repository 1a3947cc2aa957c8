"""Whatever is typed, pressed and pasted: each line is in the record, or kept with a reason."""

from pathlib import Path
from tempfile import TemporaryDirectory

from hypothesis import HealthCheck, settings
from hypothesis import strategies as st
from hypothesis.stateful import invariant, precondition, rule

from boxlamp.attend.keys import ONE_KEYS, OneKey
from boxlamp.desk.writing import DoubtfulError, RefusedError, write
from boxlamp.language.text import visible
from boxlamp.model.entry import Entry
from boxlamp.model.happenings import Strike
from boxlamp.model.order import struck
from support.boxes import Watch, seated
from support.consoles import CODES, Seat
from support.effort import effort
from support.machines import CountedMachine, say_figures

LINES = st.sampled_from(
    ["push", "rest", "pup", "pup dog 312g red", "pup 9000g", "afterbirth", "milk 1", "part head",
     "-5m push", "23:59 pup", "~01:30 waters green", "dam collapsed", "temp 40.1", "ack",
     "strike 2 x", "strike 3", "amend 2 01:10", "finished", "state 1 limp", "why is she so quiet?",
     "limit part-showing go 3h by X; y", "died 1", "set zone Asia/Tokyo", "set dam \u72ac", "sac",
     "expect 4 xray", "discharge black", "note caf\u00e9", "zzz", "strike last"]
)  # fmt: skip
PIECES = st.sampled_from(["pu", "p", "9", "000g", " ", "red", "weigh red 3", "02:1", "\u72ac", ";"])
COMMANDS = st.sampled_from(["undo", "help", "?", "sheet", "quit", "", "   "])
HOSTILE = st.sampled_from(
    ["\x1b]0;evil\x07 push", "pu\x1b[5nsh", "\x1bcrest", "\x9b5n", "note \u202egnp", "\x00\x01\x7f",
     "[bold]x[/bold]", "\t\tpush", "push" * 400, "a\u0301" * 30]
)  # fmt: skip
EDITING = st.sampled_from(
    ["left", "right", "up", "down", "home", "end", "delete", "backspace", "tab", "page up",
     "page down"]
)  # fmt: skip
CONTROLS = st.sampled_from([1, 2, 5, 6, 7, 8, 11, 12, 14, 16, 18, 19, 20, 21, 23, 25, 31]).map(chr)
TAKES_BACK = "taken back with undo"


class AtTheKeys(CountedMachine):
    """A night at the console, key by key."""

    def __init__(self) -> None:
        super().__init__()
        self.folder = TemporaryDirectory()
        self.path, self.watch = Path(self.folder.name) / "journal.db", Watch()
        self.seat = Seat(self.path, self.watch)
        self.kept = self.record()
        self.own: list[int] = []

    def teardown(self) -> None:
        """Leave."""
        self.seat.close()
        self.folder.cleanup()

    def record(self) -> list[Entry]:
        """The journal as it now is."""
        here = self.seat.sitting.here
        return [*here.journal.entries(here.litter)]

    def new(self) -> list[Entry]:
        """What was written since this was last asked; it is the person's own."""
        record = self.record()
        assert record[: len(self.kept)] == self.kept
        new, self.kept = record[len(self.kept) :], record
        self.own += [entry.id for entry in new]
        return new

    def written(self) -> list[str]:
        """The texts of what was written."""
        return [entry.text for entry in self.new()]

    def come_back(self) -> None:
        """Who has left comes back, and finds the line that was half typed."""
        if self.seat.left:
            half = " ".join(self.seat.text.split())
            self.seat.close()
            self.seat = Seat(self.path, self.watch)
            self.own = []
            assert self.seat.text == half
            assert not half or "Half typed" in self.seat.sitting.message[0]

    # Typing

    @rule(text=LINES | PIECES)
    def type(self, text: str) -> None:
        """Text goes to the cursor; behind a line that was asked about it begins another one."""
        seat, buffer = self.seat, self.seat.console.input
        before, place = buffer.text, buffer.cursor_position
        asked = seat.sitting.holds(before) and place == len(before)
        seat.send(text)
        if asked:
            assert (self.written(), seat.text) == ([visible(before.strip())], text)
        else:
            assert (self.written(), seat.text) == ([], before[:place] + text + before[place:])

    @rule(line=LINES | COMMANDS)
    def type_a_line(self, line: str) -> None:
        """A whole line, and Enter; the way a night goes."""
        self.type(line) if line else None
        self.enter()

    @rule()
    def enter(self) -> None:
        """The line is in the record and the input empty; or it stays, and the screen says why."""
        seat = self.seat
        text, asked = seat.text, seat.sitting.pending == seat.text.strip()
        command = text.strip().lower()
        last = self.last_own()
        seat.press("enter")
        if command in {"", "help", "?", "sheet", "quit"}:
            assert (self.written(), seat.text) == ([], "")
            assert seat.left == (command == "quit")
            self.come_back()
        elif command == "undo":
            self.took_back(last)
            assert seat.text == ""
        else:
            written = self.written()
            assert written in ([], [visible(text.strip())])
            assert seat.text == ("" if written else text)
            assert written or seat.sitting.mood in {"question", "trouble"}
            assert written or not asked or seat.sitting.mood == "trouble"
            assert seat.sitting.message or not written

    @rule(key=EDITING | CONTROLS)
    def edit(self, key: str) -> None:
        """Moving, erasing and completing write nothing down."""
        self.seat.send(key) if len(key) == 1 else self.seat.press(key)
        assert self.written() == []

    @rule(lines=st.lists(LINES | HOSTILE, max_size=4), rest=LINES | PIECES | st.just(""))
    def paste(self, lines: list[str], rest: str) -> None:
        """Each pasted line is in the record, or in the input, or the screen says it is neither."""
        seat, buffer = self.seat, self.seat.console.input
        before, place = buffer.text, buffer.cursor_position
        if seat.sitting.holds(before) and place == len(before) and any([*lines, rest]):
            first = [visible(before.strip())]  # typing on has begun another line
            before, place = "", 0
        else:
            first = []
        whole = [before[:place] + [*lines, rest][0] + before[place:], *[*lines, rest][1:]]
        seat.paste("\n".join([*lines, rest]))
        written = self.written()
        assert written[: len(first)] == first
        done = len(written) - len(first)
        assert written[len(first) :] == [visible(line.strip()) for line in whole[:done]]
        assert seat.text == whole[done]
        if done < len(lines):
            assert seat.sitting.mood in {"question", "trouble"}
            left = [line for line in whole[done + 1 :] if line.strip()]
            told = "pasted" in seat.sitting.message[-1]
            assert told == bool(left)

    # Keys

    @rule(key=st.sampled_from(ONE_KEYS))
    def one_key(self, key: OneKey) -> None:
        """A key writes its line and leaves the input alone; a question about it can be answered.

        A line that was asked about is no answer to it: it is kept as a note, and leaves the input.
        """
        seat = self.seat
        before, place = seat.text, seat.console.input.cursor_position
        asked = seat.sitting.holds(before) and place == len(before)
        seat.press(key.key)
        written = self.written()
        if asked:
            assert written.pop(0) == visible(before.strip())
            before = ""
        assert len(written) <= 1
        if written or "no pup is waiting" in seat.sitting.message[0]:
            assert seat.text == before
        elif before:
            assert seat.text == before
            assert seat.sitting.mood == "trouble"
        else:
            assert seat.sitting.mood == "trouble" or seat.sitting.holds(seat.text)

    def last_own(self) -> int | None:
        """The last line written here that still counts, undoing aside."""
        withdrawn = struck(self.kept)
        counting = (
            entry.id
            for entry in reversed(self.kept)
            if entry.id in self.own
            and entry.id not in withdrawn
            and not (isinstance(entry.what, Strike) and entry.what.why == TAKES_BACK)
        )
        return next(counting, None)

    def took_back(self, last: int | None) -> None:
        """Exactly one's own last line was taken back, or nothing when there is none."""
        new = self.new()
        if last is None:
            assert new == []
            assert self.seat.sitting.message
        else:
            assert [entry.what for entry in new] == [Strike(target=last, why=TAKES_BACK)]
            assert any(f"Took back {last}:" in line for line in self.seat.sitting.message)

    @rule()
    def undo(self) -> None:
        """F8 takes back the last line typed here; one that is asked about goes first."""
        last, before = self.last_own(), self.seat.text
        place = self.seat.console.input.cursor_position
        asked = self.seat.sitting.holds(before) and place == len(before)
        self.seat.press("f8")
        if asked:
            assert (self.written(), self.seat.text) == ([], "")
        else:
            self.took_back(last)
            assert self.seat.text == before

    @rule()
    def heard(self) -> None:
        """F7 acknowledges what stands, or writes nothing."""
        before, alerts = self.seat.text, self.seat.sitting.verdict().alerts
        self.seat.press("f7")
        assert self.written() == (["ack"] if alerts else [])
        assert self.seat.text == before

    @rule(key=st.sampled_from(["f9", "f12"]))
    def look(self, key: str) -> None:
        """Help and the call sheet write nothing and leave the input alone."""
        before = self.seat.text
        self.seat.press(key)
        assert (self.written(), self.seat.text) == ([], before)

    @rule()
    def escape(self) -> None:
        """Esc drops the line that was asked about, or what was left over; nothing else."""
        before = self.seat.text
        self.seat.press("esc")
        assert (self.written(), self.seat.text in {before, ""}) == ([], True)
        assert self.seat.text == before or not self.seat.sitting.holds(before)

    @rule(keys=st.sampled_from(["\x1b[21~", "\x03", "\x04", "\x1b[21~\x1b[21~", "\x03\x03"]))
    def leave(self, keys: str) -> None:
        """Whoever leaves, or nearly, writes nothing and loses nothing."""
        self.seat.send(keys)
        assert self.written() == []
        self.come_back()

    # What happens around it

    @rule(columns=st.sampled_from([30, 40, 80, 120]), rows=st.sampled_from([10, 12, 24, 40]))
    def resize(self, columns: int, rows: int) -> None:
        """The window gets another size."""
        before = self.seat.text
        self.seat.resize(columns, rows)
        assert (self.written(), self.seat.text) == ([], before)

    @rule(line=LINES)
    def another_terminal(self, line: str) -> None:
        """Another terminal's lines are somebody else's, and leave the input alone."""
        before = self.seat.text
        with seated(self.path) as other:
            try:
                write(other, line, self.watch.now)
            except (DoubtfulError, RefusedError):
                return
        self.kept = self.record()
        self.seat.tick()
        assert (self.written(), self.seat.text) == ([], before)

    @rule(seconds=st.sampled_from([1, 1, 30, 60, 900, 7200, 700_000]))
    def time_goes_by(self, seconds: int) -> None:
        """The console ticks; what is half typed stays."""
        before = self.seat.text
        self.watch.later(seconds=seconds)
        self.seat.tick()
        assert (self.written(), self.seat.text) == ([], before)

    def shown(self) -> str:
        """The screen as lines."""
        return "\n".join(line.rstrip() for line in self.seat.screen.display)

    @precondition(lambda self: not self.seat.left)
    @invariant()
    def the_screen_is_whole(self) -> None:
        """The dam's name at the top, the input near the bottom, and no code from any text."""
        assert CODES.search(self.seat.sent) is None
        self.seat.sent = ""
        text = self.seat.text.strip()
        if text.isascii() and text.isprintable() and len(text) < 15 and text not in self.shown():
            self.seat.settle(0.1)  # a busy computer may draw a moment later
            assert text in self.shown()
        if self.seat.sitting.mood == "question":
            assert self.seat.sitting.holds(self.seat.text)


TestAtTheKeys = AtTheKeys.TestCase
TestAtTheKeys.settings = settings(
    max_examples=effort(6, nightly=80), stateful_step_count=effort(20, nightly=40), deadline=None,
    suppress_health_check=list(HealthCheck),
)  # fmt: skip


def teardown_module() -> None:
    """Say how much was tried."""
    say_figures(AtTheKeys)

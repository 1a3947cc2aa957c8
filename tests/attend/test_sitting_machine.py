from contextlib import ExitStack
from pathlib import Path
from tempfile import TemporaryDirectory

from hypothesis import HealthCheck, settings
from hypothesis import strategies as st
from hypothesis.stateful import invariant, rule

from boxlamp.attend.keys import ONE_KEYS, OneKey
from boxlamp.desk.writing import UNREADABLE, DoubtfulError, RefusedError, write
from boxlamp.language.text import visible
from boxlamp.model.entry import Entry
from boxlamp.view.layout import fitted
from boxlamp.view.text import clean
from support.boxes import Watch, seated, sitting_at
from support.effort import effort
from support.happenings import HOSTILE
from support.machines import CountedMachine, say_figures

SENSIBLE = st.sampled_from(
    ["push", "rest", "pup", "pup dog 312g red", "pup 9000g", "afterbirth", "milk 1", "part head",
     "-5m push", "23:59 pup", "~01:30 waters green", "dam collapsed", "temp 40.1", "ack", "undo",
     "strike 2 x", "strike 3", "amend 2 01:10", "amend 3 rest", "finished", "state 1 limp",
     "limit part-showing go 3h by X; y", "died 1", "set zone Asia/Tokyo", "set dam \u72ac", "sac",
     "expect 4 xray", "discharge black", "strike 5 taken back with undo"]
)  # fmt: skip
LINES = SENSIBLE | HOSTILE | st.tuples(SENSIBLE, HOSTILE).map("; ".join)
QUICK = settings(
    max_examples=effort(15, nightly=80), stateful_step_count=effort(20, nightly=40), deadline=None,
    suppress_health_check=list(HealthCheck),
)  # fmt: skip


class AtTheBox(CountedMachine):
    """A night at the console: anything typed and pressed, while time goes by in any manner."""

    def __init__(self) -> None:
        super().__init__()
        self.open = ExitStack()
        folder = Path(self.open.enter_context(TemporaryDirectory()))
        self.path, self.watch = folder / "journal.db", Watch()
        self.sitting = self.open.enter_context(sitting_at(self.path, self.watch))
        self.kept: list[Entry] = []

    def teardown(self) -> None:
        """Close the journal."""
        self.open.close()

    def record(self) -> list[Entry]:
        """The journal as it now is."""
        return [*self.sitting.here.journal.entries(self.sitting.here.litter)]

    def new(self) -> list[Entry]:
        """What has been added since this was last asked."""
        record = self.record()
        new, self.kept = record[len(self.kept) :], record
        return new

    def stored_or_told(self, line: str, *, stored: bool) -> None:
        """One new entry with the very text; or none, and the screen says why."""
        new = self.new()
        if stored:
            assert [entry.text for entry in new] == [visible(line.strip())]
        else:
            assert new == []
            assert self.sitting.mood in {"question", "trouble"}
            assert self.sitting.message

    @rule(line=LINES)
    def enter(self, line: str) -> None:
        """A line is stored as it was typed, or still in the input with a reason on the screen."""
        self.new()
        stored = self.sitting.enter(line)
        if not line.strip():
            assert stored
            assert self.new() == []
        elif line.strip().lower() != "undo":
            self.stored_or_told(line, stored=stored)

    @rule()
    def enter_again(self) -> None:
        """What was asked about is stored as it stands by another Enter, and only once."""
        asked = self.sitting.pending
        if asked is not None:
            self.new()
            self.stored_or_told(asked, stored=self.sitting.enter(asked))
            assert self.sitting.pending is None

    @rule(line=LINES)
    def change(self, line: str) -> None:
        """Typing on withdraws a question about another text."""
        self.sitting.changed(line)
        assert self.sitting.pending in {None, line.strip()}

    @rule(key=st.sampled_from(ONE_KEYS))
    def press(self, key: OneKey) -> None:
        """A key writes one line, or none and says why; what it asks about goes into the input."""
        self.new()
        asked = self.sitting.press(key)
        if asked:
            assert (asked, self.new()) == ("pup", [])
            assert (self.sitting.mood, self.sitting.pending) == ("question", "pup")
        else:
            assert len(self.new()) == 1 or "no pup is waiting" in self.sitting.message[0]

    @rule()
    def undo(self) -> None:
        """Undo adds a strike of an entry that still counted, or nothing."""
        self.new()
        self.sitting.undo()
        assert [entry.what.kind for entry in self.new()] in (["strike"], [])

    @rule()
    def heard(self) -> None:
        """Heard adds an acknowledgement, or nothing when nothing stands."""
        self.new()
        alerts = self.sitting.verdict().alerts
        self.sitting.heard()
        assert [entry.what.kind for entry in self.new()] == (["ack"] if alerts else [])

    @rule(line=SENSIBLE)
    def another_terminal(self, line: str) -> None:
        """Lines of another terminal are taken in with the next tick."""
        with seated(self.path) as other:
            try:
                entry = write(other, line, self.watch.now).entry
            except (DoubtfulError, RefusedError):
                return
        self.sitting.tick()
        assert self.sitting.here.entries[-1] == entry

    @rule(seconds=st.sampled_from([1, 1, 1, 30, 60, 900, 7200]))
    def time_goes_by(self, seconds: int) -> None:
        """The clocks tick."""
        self.watch.later(seconds=seconds)
        self.sitting.tick()

    @rule(minutes=st.sampled_from([-1500, -60, -1, 1, 60, 1500]))
    def the_clock_leaps(self, minutes: int) -> None:
        """The computer slept, or somebody set the clock: the person is told."""
        steady = self.watch.steady
        self.watch.later(minutes=minutes)
        self.watch.steady = steady + 1
        self.sitting.tick()
        assert "clock" in self.sitting.message[0]

    @invariant()
    def nothing_is_ever_removed_or_changed(self) -> None:
        """What was in the journal is in the journal."""
        assert self.record()[: len(self.kept)] == self.kept

    @invariant()
    def the_board_can_always_be_drawn(self) -> None:
        """Within the screen and without anything that moves a cursor."""
        lines = fitted(self.sitting.board(), 60, 20)
        assert len(lines) <= 20
        for line in lines:
            for _, text in line:
                assert clean(text) == text
        assert all(clean(line) == line for line in self.sitting.message)
        assert UNREADABLE not in " ".join(self.sitting.message)


TestAtTheBox = AtTheBox.TestCase
TestAtTheBox.settings = QUICK


def teardown_module() -> None:
    """Say how much was tried."""
    say_figures(AtTheBox)

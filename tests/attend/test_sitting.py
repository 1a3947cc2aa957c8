from pathlib import Path

import pytest

from boxlamp.attend.keys import ONE_KEYS, OneKey
from boxlamp.attend.sitting import Sitting
from boxlamp.desk.writing import write
from boxlamp.journal import Journal
from boxlamp.journal.errors import DiskFullError
from boxlamp.model.happenings import Contraction, Note, Step, Strike
from boxlamp.model.levels import Level
from boxlamp.model.order import corrected
from support.boxes import Watch, seated

KEYS = {key.key: key for key in ONE_KEYS}
MILK = KEYS["f6"]


class Disk:
    """The disk of the journal: it can be full for a while."""

    def __init__(self, sitting: Sitting, patch: pytest.MonkeyPatch) -> None:
        self._sitting, self._patch, self._stored = sitting, patch, Journal.record_many

    def fill(self) -> None:
        """Let nothing be stored any more."""

        def full(*_args: object, **_more: object) -> None:
            raise DiskFullError.about(self._sitting.here.journal.path)

        self._patch.setattr(Journal, "record_many", full)

    def clear(self) -> None:
        """Make room again."""
        self._patch.setattr(Journal, "record_many", self._stored)


@pytest.fixture
def full_disk(sitting: Sitting, monkeypatch: pytest.MonkeyPatch) -> Disk:
    """The disk under the sitting."""
    return Disk(sitting, monkeypatch)


def texts(sitting: Sitting) -> list[str]:
    """The lines written down, the opening left out."""
    return [entry.text for entry in sitting.here.journal.entries(sitting.here.litter)][1:]


def counting(sitting: Sitting) -> list[str]:
    """The lines that still count."""
    return [entry.text for entry in corrected(sitting.here.entries) if entry.id > 1]


def test_a_line_is_kept_and_answered(sitting: Sitting, watch: Watch) -> None:
    """True means that the input may be emptied; the answer has the entry's number and meaning."""
    assert sitting.enter("  pup dog 312g ")

    assert texts(sitting) == ["pup dog 312g"]
    assert sitting.here.entries[-1].by == "Jana"
    assert sitting.here.entries[-1].recorded == watch.now
    assert sitting.message[0].startswith("   2  02:00")
    assert sitting.mood == "said"
    assert sitting.board().pups[0].weight == "312 g"


@pytest.mark.parametrize("line", ["", "   ", "\t"])
def test_an_empty_line_is_nothing(sitting: Sitting, line: str) -> None:
    """Enter on an empty input writes nothing."""
    assert sitting.enter(line)
    assert not texts(sitting)


def test_a_line_not_understood_is_kept_and_said(sitting: Sitting) -> None:
    """It is a note now; the message stands out."""
    assert sitting.enter("frobnicate")

    assert sitting.here.entries[-1].what == Note(words="frobnicate", unread=True)
    assert sitting.mood == "trouble"
    assert "NOT UNDERSTOOD" in sitting.message[0]


def test_undo_takes_lines_back_one_after_the_other(sitting: Sitting) -> None:
    """By strikes, from the last line on; nothing is removed, undone lines are not undone again."""
    for line in ("push", "rest", "pup"):
        sitting.enter(line)
    sitting.undo()
    assert counting(sitting) == ["push", "rest"]
    assert sitting.message[0] == "Took back 4: pup"
    assert sitting.enter("UNDO")
    assert counting(sitting) == ["push"]
    sitting.undo()
    assert counting(sitting) == []
    assert texts(sitting)[:3] == ["push", "rest", "pup"]
    assert len(texts(sitting)) == 6

    sitting.undo()
    assert sitting.message == ["There is nothing to take back."]
    assert len(texts(sitting)) == 6


def test_a_line_about_several_pups_is_undone_as_one(sitting: Sitting) -> None:
    """What was typed once is taken back once, and the answer says how to bring each back."""
    for line in ("pup", "pup 2", "push", "milk all"):
        sitting.enter(line)
    assert sitting.message[0].startswith("5 to 6")
    sitting.undo()

    assert sorted(counting(sitting)) == ["pup", "pup 2", "push"]
    assert sitting.message[0] == "Took back 5 to 6: milk 1, milk 2"
    assert sitting.enter(sitting.message[1].split("type: ")[1])
    assert counting(sitting)[-2:] == ["milk 1", "milk 2"]


def test_a_new_line_after_an_undo_is_undone_first(sitting: Sitting) -> None:
    """Undo always means the last line that still counts."""
    for line in ("push", "rest", "undo", "pup", "undo", "undo"):
        sitting.enter(line)

    assert counting(sitting) == []


def test_a_strike_brings_an_undone_line_back(sitting: Sitting) -> None:
    """The message of an undo names the line to type, and that line works."""
    sitting.enter("pup dog 312g")
    sitting.undo()
    assert not sitting.board().pups
    line = sitting.message[1].split("type: ")[1]
    assert sitting.enter(line)

    assert sitting.board().pups[0].weight == "312 g"


def test_undo_takes_a_typed_strike_back(sitting: Sitting) -> None:
    """A strike that a person typed is a line like any other."""
    for line in ("push", "strike 2 wrong", "undo"):
        sitting.enter(line)

    assert counting(sitting) == ["push"]
    assert sum(isinstance(entry.what, Strike) for entry in sitting.here.entries) == 2


@pytest.mark.parametrize("key", [key for key in ONE_KEYS if "{pup}" not in key.line])
def test_one_key_writes_one_line(sitting: Sitting, key: OneKey) -> None:
    """Each key writes what its row in the table says, and it is understood."""
    assert sitting.press(key) == ""

    assert texts(sitting) == [key.line]
    assert sitting.mood == "said"


def test_the_push_keys_tell_strong_from_weak(sitting: Sitting) -> None:
    """F1 is a strong push, F2 a weak one."""
    sitting.press(KEYS["f1"])
    sitting.press(KEYS["f2"])

    assert [entry.what for entry in sitting.here.entries[1:]] == [
        Contraction(strength="strong"),
        Contraction(strength="weak"),
    ]


def test_milk_goes_to_the_pup_waiting_longest(sitting: Sitting, watch: Watch) -> None:
    """In order of birth; dead pups and fed ones are passed over."""
    for line in ("pup", "pup dead", "pup", "pup"):
        sitting.enter(line)
        watch.later(minutes=2)
    sitting.enter("milk 3")
    sitting.press(MILK)
    sitting.press(MILK)

    fed = [e.what.pup for e in sitting.here.entries if isinstance(e.what, Step)]
    assert fed == [3, 1, 4]
    assert sitting.press(MILK) == ""
    assert "no pup is waiting" in sitting.message[0]
    assert len(texts(sitting)) == 7


def test_a_birth_key_pressed_twice_makes_one_pup(sitting: Sitting, watch: Watch) -> None:
    """The second press asks, in the input, and a minute and a second later it is a new pup."""
    born = KEYS["f4"]
    assert sitting.press(born) == ""
    watch.later(seconds=1)
    assert sitting.press(born) == "pup"
    assert (sitting.mood, texts(sitting)) == ("question", ["pup"])
    assert sitting.message[0].startswith(
        "Is this another pup (then Enter, or --yes), or pup 1 again?"
    )

    sitting.changed("")
    watch.later(seconds=60)
    assert sitting.press(born) == ""
    assert texts(sitting) == ["pup", "pup"]


def test_enter_again_takes_a_questioned_line(sitting: Sitting) -> None:
    """The first Enter asks and writes nothing; the second writes it as it stands."""
    assert not sitting.enter("pup 9000g")
    assert (sitting.mood, sitting.pending) == ("question", "pup 9000g")
    assert not texts(sitting)

    assert sitting.enter("pup 9000g")
    assert texts(sitting) == ["pup 9000g"]
    assert sitting.pending is None


def test_a_changed_line_withdraws_the_question(sitting: Sitting) -> None:
    """Another text is asked about anew; spaces around it change nothing."""
    sitting.enter("pup 9000g")
    sitting.changed("pup 9000g ")
    assert sitting.pending == "pup 9000g"
    sitting.changed("pup 900g")
    assert sitting.pending is None
    assert sitting.message == []

    assert not sitting.enter("pup 9000g")
    assert not texts(sitting)


def test_a_line_left_unanswered_is_kept_as_a_note(sitting: Sitting) -> None:
    """Whoever types on loses nothing: the line asked about stands in the record, unread."""
    sitting.enter("pup 9000g")
    assert sitting.holds("pup 9000g ")
    sitting.set_aside()
    assert not sitting.holds("pup 9000g")
    assert texts(sitting) == ["pup 9000g"]
    assert isinstance(sitting.here.entries[-1].what, Note)

    sitting.set_aside()  # nothing stands to be kept
    assert texts(sitting) == ["pup 9000g"]


@pytest.mark.parametrize("between", ["key", "heard", "undo", "help", "jump"])
def test_a_question_off_the_screen_is_asked_again(
    sitting: Sitting, watch: Watch, between: str
) -> None:
    """Whatever replaces the question on the screen also takes away what Enter would confirm."""
    sitting.enter("pup 9000g")
    if between == "key":
        sitting.press(KEYS["f1"])
    elif between == "heard":
        sitting.heard()
    elif between == "undo":
        sitting.undo()
    elif between == "help":
        sitting.say(["words"])
    else:
        watch.now = watch.now.replace(hour=4)
        sitting.tick()

    assert sitting.pending is None
    assert not sitting.enter("pup 9000g")
    assert "pup 9000g" not in texts(sitting)


def test_a_refused_limit_stays_in_the_input(sitting: Sitting) -> None:
    """Enter again refuses again."""
    line = "limit part-showing go 3h by Dr X; because"
    for _ in range(2):
        assert not sitting.enter(line)
        assert sitting.mood == "trouble"
    assert not texts(sitting)


def test_heard_acknowledges_what_stands(sitting: Sitting, watch: Watch) -> None:
    """The sound rests, the display stays and says when it was heard."""
    sitting.heard()
    assert not texts(sitting)
    sitting.enter("part head")
    watch.later(seconds=20)
    sitting.heard()

    assert texts(sitting) == ["part head", "ack"]
    [line] = [line for line in sitting.board().alerts if line.rule == "part-showing"]
    assert (line.quiet, line.heard) == (True, "02:00")


def test_lines_from_another_terminal_appear_with_a_tick(
    sitting: Sitting, watch: Watch, tmp_path: Path
) -> None:
    """The other terminal's entry is on the board, its alert sounds, its pup number is taken."""
    assert sitting.tick() is None
    with seated(tmp_path / "journal.db") as other:
        write(other, "pup", watch.now)
        write(other, "dam collapsed", watch.now)
    assert sitting.tick() is Level.GO
    assert sitting.board().entries[-1].text == "dam collapsed"

    assert not sitting.enter("pup")  # it may be the one that the other terminal wrote down
    assert "Is this another pup (then Enter, or --yes), or pup 1 again?" in sitting.message[0]
    assert sitting.enter("pup")
    assert [pup.number for pup in sitting.board().pups] == [1, 2]


def test_a_computer_that_slept_is_noticed(sitting: Sitting, watch: Watch) -> None:
    """The clocks went on meanwhile: the board has the alerts and the person is told."""
    sitting.enter("push")
    sitting.tick()
    watch.now = watch.now.replace(hour=3)
    watch.steady += 1

    assert sitting.tick() is Level.GO
    assert "The clock has moved on by 1 h 59 min" in sitting.message[0]
    watch.later(seconds=1)
    sitting.enter("rest")
    sitting.tick()
    assert "moved on" not in sitting.message[0]


def test_a_clock_set_back_is_noticed(sitting: Sitting, watch: Watch) -> None:
    """Once, and as trouble."""
    watch.now = watch.now.replace(hour=0)
    sitting.tick()

    assert "clock has been set back by 1 h 00 min" in sitting.message[0]
    assert sitting.mood == "trouble"


def test_ordinary_seconds_are_no_jump(sitting: Sitting, watch: Watch) -> None:
    """A slow tick or two says nothing."""
    before = sitting.message
    for _ in range(5):
        watch.later(seconds=7)
        watch.steady += 3
        sitting.tick()

    assert sitting.message == before


def test_a_line_that_cannot_be_stored_stays(
    sitting: Sitting, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The person reads NOT STORED and why; Enter tries again and then it is kept."""

    def full(*_args: object, **_more: object) -> None:
        raise DiskFullError.about(sitting.here.journal.path)

    with monkeypatch.context() as patch:
        patch.setattr(Journal, "record_many", full)
        assert not sitting.enter("pup dog 312g")
        assert sitting.message[0] == "NOT STORED: pup dog 312g"
        assert "The disk is full" in " ".join(sitting.message)
        assert sitting.mood == "trouble"
    assert not texts(sitting)
    assert sitting.enter("pup dog 312g")
    assert texts(sitting) == ["pup dog 312g"]


def test_a_key_that_cannot_be_stored_gives_its_line_to_the_input(
    sitting: Sitting, full_disk: Disk
) -> None:
    """There Enter tries it again."""
    full_disk.fill()
    assert sitting.press(KEYS["f1"]) == "contraction strong"
    full_disk.clear()
    assert sitting.enter("contraction strong")

    assert texts(sitting) == ["contraction strong"]


def test_what_cannot_be_stored_waits_and_is_stored_as_of_its_own_time(
    sitting: Sitting, watch: Watch, full_disk: Disk
) -> None:
    """Whoever types on glues nothing to it; each line is kept as of when it was typed."""
    sitting.enter("pup dog 312g")
    full_disk.fill()
    assert not sitting.enter("1 limp")
    assert sitting.holds("1 limp")
    sitting.set_aside()
    watch.later(seconds=20)
    assert not sitting.enter("push")
    assert sitting.message[:2] == ["NOT STORED: 1 limp", "NOT STORED: push"]
    sitting.set_aside()
    assert sitting.waiting == ("1 limp", "push")
    watch.later(seconds=20)
    full_disk.clear()

    assert sitting.press(KEYS["f3"]) == ""
    assert not sitting.waiting
    assert texts(sitting) == ["pup dog 312g", "1 limp", "push", KEYS["f3"].line]
    limp, push, rest = sitting.here.entries[-3:]
    assert [(one.at - limp.at).total_seconds() for one in (push, rest)] == [20, 40]
    assert sitting.message[:2] == [
        "Stored now, as of when it was typed: 1 limp",
        "Stored now, as of when it was typed: push",
    ]


def test_what_waits_is_tried_again_while_nobody_types(
    sitting: Sitting, watch: Watch, full_disk: Disk
) -> None:
    """Every ten seconds, and quietly while it fails; a question is left to stand."""
    sitting.enter("pup")
    full_disk.fill()
    sitting.enter("1 limp")
    sitting.set_aside()
    said = sitting.message
    watch.later(seconds=11)
    sitting.tick()
    assert (sitting.waiting, sitting.message) == (("1 limp",), said)
    full_disk.clear()
    watch.later(seconds=9)
    sitting.tick()
    assert sitting.waiting == ("1 limp",)
    sitting.mood = "question"
    watch.later(seconds=2)
    sitting.tick()
    assert len(sitting.waiting) == 1
    sitting.mood = "said"
    sitting.tick()

    assert not sitting.waiting
    assert texts(sitting)[-1] == "1 limp"
    assert "limp" in sitting.message[0]


def test_a_line_left_unanswered_waits_when_it_cannot_be_kept(
    sitting: Sitting, full_disk: Disk
) -> None:
    """Typing on over a full disk neither ends the console nor loses the line asked about."""
    sitting.enter("pup 9000g")
    full_disk.fill()
    sitting.set_aside()
    assert sitting.message[0] == "NOT STORED: pup 9000g"
    assert sitting.waiting == ("pup 9000g",)
    full_disk.clear()
    sitting.catch_up()

    assert texts(sitting) == ["pup 9000g"]


def test_a_question_that_was_typed_over_is_told_with_the_next_answer(sitting: Sitting) -> None:
    """Its own answer stood for a blink. What it says of a danger is said again, once."""
    for line in ("pup red", "pup blue"):
        sitting.enter(line)
        sitting.enter(line)
    assert not sitting.enter("red and blue limp")
    sitting.set_aside()
    sitting.enter("push")

    told = sitting.message
    assert told[0] == "Kept ONLY as a note, no clock runs for it: red and blue limp"
    assert "limp" in told[1]
    assert "type:" in told[1]
    assert sitting.mood == "trouble"
    sitting.enter("rest")
    assert "red and blue" not in " ".join(sitting.message)


def test_a_disk_that_cannot_be_read_does_not_end_the_night(
    sitting: Sitting, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A tick that cannot look says so and goes on with what it knows."""
    sitting.enter("dam collapsed")
    sitting.tick()

    def gone(_journal: Journal) -> int:
        raise DiskFullError("The disk is gone.")

    monkeypatch.setattr(Journal, "data_version", gone)
    sitting.tick()
    assert sitting.message == ["The disk is gone."]
    assert sitting.board().alerts


def test_an_answer_shrinks_and_a_question_stays(sitting: Sitting, watch: Watch) -> None:
    """After a while the board gets its room back, unless something is being asked."""
    sitting.enter("pup")
    assert len(sitting.message) > 1
    watch.later(seconds=91)
    assert len(sitting.message) == 1
    sitting.enter("pup 9000g")
    watch.later(seconds=600)
    assert sitting.message[-1].startswith("Enter: ")


def test_a_danger_that_was_not_read_stays_in_view(sitting: Sitting, watch: Watch) -> None:
    """It is a note only, no clock runs; what to type does not shrink away."""
    sitting.enter("something dark at vulva")
    watch.later(minutes=10)

    first, typed, ring = sitting.message
    assert "A note ONLY, no clock runs for it" in first
    assert typed.strip() == "If a discharge is black or dark green, type: discharge black"
    assert "Ring the vet" in ring
    assert sitting.mood == "trouble"


def test_a_note_without_a_word_is_asked_about(sitting: Sitting) -> None:
    """A slip of the key `n` writes nothing down by itself."""
    assert not sitting.enter("n")
    assert sitting.mood == "question"
    assert len(sitting.here.entries) == 1


def test_undo_leaves_another_terminals_line_alone(
    sitting: Sitting, watch: Watch, tmp_path: Path
) -> None:
    """Only what was typed here is taken back; the other line is named, with how to withdraw it."""
    with seated(tmp_path / "journal.db") as other:
        write(other, "pup f 290g green", watch.now)
    sitting.tick()
    sitting.undo()

    assert counting(sitting) == ["pup f 290g green"]
    assert sitting.message[0] == "Nothing typed here is left to take back."
    assert "strike" in sitting.message[1]


def test_a_key_that_quietens_leaves_the_line_asked_about_to_stand_alone(sitting: Sitting) -> None:
    """F7 over a question: the question is off the screen, and nothing is glued to its line."""
    sitting.enter("dam collapsed")
    assert not sitting.enter("pup 9000g")
    sitting.heard()

    assert sitting.pending is None
    assert sitting.holds("pup 9000g")
    sitting.set_aside()
    assert texts(sitting) == ["dam collapsed", "ack", "pup 9000g"]

from collections.abc import Iterator
from datetime import timedelta
from pathlib import Path
from zoneinfo import ZoneInfo

import pytest

from boxlamp.desk import writing
from boxlamp.desk.answer import after_lines, answer_lines
from boxlamp.desk.session import Session, UsageError, moment_of, session
from boxlamp.desk.writing import UNREADABLE, DoubtfulError, RefusedError, write
from boxlamp.model.happenings import Birth, Note
from support.boxes import TWO, begin, seated

PRAGUE = ZoneInfo("Europe/Prague")


@pytest.fixture
def here(tmp_path: Path) -> Iterator[Session]:
    """A session at a new litter."""
    with seated(tmp_path / "journal.db") as session_here:
        yield session_here


def test_a_line_is_recorded_and_echoed(here: Session) -> None:
    """The entry is in the journal before the echo is given back, with who typed it."""
    written = write(here, "-5m pup dog 312g", TWO, by="Jana")

    assert here.journal.entries(here.litter)[-1] == written.entry == here.entries[-1]
    assert (written.entry.by, written.entry.text) == ("Jana", "-5m pup dog 312g")
    assert written.entry.at == TWO - timedelta(minutes=5)
    assert written.echo.startswith("01:55")
    assert "this is pup 1" in written.echo
    assert written.unread is None


def test_what_a_line_ended_is_told(here: Session) -> None:
    """The alerts that stood before and stand no longer, and no others."""
    write(here, "part head", TWO)
    write(here, "dam collapsed", TWO)
    later = TWO + timedelta(minutes=1)
    written = write(here, "pup", later)

    assert [alert.rule.id for alert in written.cleared] == ["part-showing"]
    assert "dam-collapse" in {alert.rule.id for alert in written.verdict.alerts}


@pytest.mark.parametrize(("pushed", "over"), [(19, ["contraction-no-pup"]), (21, []), (31, [])])
def test_what_another_alert_goes_on_with_is_not_over(
    here: Session, pushed: int, over: list[str]
) -> None:
    """A rest after long pushing ends nothing that mattered: nobody is told that it is over."""
    write(here, "contraction strong", TWO)
    written = write(here, "rest", TWO + timedelta(minutes=pushed))

    assert [alert.rule.id for alert in written.cleared] == over
    assert [alert.rule.id for alert in written.raised] == ([] if over else ["rest-no-pup"])


def test_a_line_about_several_pups_is_an_entry_for_each(here: Session) -> None:
    """All or none are written, under numbers of their own, each in the words of one pup."""
    for line in ("pup dog", "pup 2 bitch red"):
        write(here, line, TWO)
    written = write(here, "01:59 milk all; both strong", TWO, by="Jana")

    assert [one.text for one in written.entries] == [
        "01:59 milk 1; both strong", "01:59 milk 2; both strong",
    ]  # fmt: skip
    assert here.entries[-2:] == written.entries
    assert {one.by for one in written.entries} == {"Jana"}
    first, last = (one.id for one in written.entries)
    answer = next(iter(answer_lines(written, PRAGUE)))
    assert answer == f"{first} to {last}  01:59  milk 1, milk 2; both strong"


def test_a_question_about_one_of_several_is_asked_before_any_is_kept(here: Session) -> None:
    """A time hours ahead is doubted once, and nothing is written down until it is answered."""
    for line in ("pup dog", "pup 2 bitch red"):
        write(here, line, TWO)
    before = here.journal.entries(here.litter)
    with pytest.raises(DoubtfulError) as asked:
        write(here, "05:59 milk all", TWO)

    assert len(asked.value.doubts) == 1
    assert here.journal.entries(here.litter) == before
    assert len(write(here, "05:59 milk all", TWO, accept=True).entries) == 2


def test_a_birth_prompts_what_comes_first(here: Session) -> None:
    """What helps at this moment is one paragraph."""
    lines = list(after_lines(write(here, "pup", TWO)))

    assert lines[0].startswith("Now: Open the sac")
    assert not list(after_lines(write(here, "note quiet", TWO)))


def test_a_line_that_means_nothing_is_kept(here: Session) -> None:
    """As a note, whole; the answer says why and what would have worked."""
    written = write(here, "frobnicate 3", TWO)

    assert written.entry.what == Note(words="frobnicate 3", unread=True)
    assert written.unread is not None
    first, *rest = answer_lines(written, PRAGUE)
    assert first == "   2  02:00  NOT UNDERSTOOD, kept as a note: frobnicate 3"
    assert any("frobnicate" in line for line in rest)


def test_a_fault_in_the_reader_keeps_the_line(
    here: Session, monkeypatch: pytest.MonkeyPatch
) -> None:
    """When the program itself fails at a line, it is kept whole as a note and that is said."""

    def broken(*_args: object) -> None:
        raise ZeroDivisionError

    monkeypatch.setattr(writing, "heard", broken)
    written = write(here, "-5m pup dog 312g", TWO)

    assert written.entry.what == Note(words="-5m pup dog 312g", unread=True)
    assert written.entry.at == TWO - timedelta(minutes=5)
    assert any(
        f"{UNREADABLE} (ZeroDivisionError)" in line for line in answer_lines(written, PRAGUE)
    )


@pytest.mark.parametrize("line", ["03:30 pup", "pup 9000g", "pup head"])
def test_a_doubtful_line_records_nothing(here: Session, line: str) -> None:
    """It is asked about first; accepted, it is written down as it stands."""
    with pytest.raises(DoubtfulError) as asked:
        write(here, line, TWO)

    assert len(here.journal.entries(here.litter)) == 1
    assert asked.value.line == line
    assert str(asked.value)
    written = write(here, line, TWO, accept=True)
    assert written.entry.text == line
    assert len(here.journal.entries(here.litter)) == 2


def test_a_refused_limit_records_nothing(here: Session) -> None:
    """Not even when doubts are accepted; typed as an amend neither."""
    line = "limit part-showing go 3h by Dr X; because"
    for accept in (False, True):
        with pytest.raises(RefusedError, match="never relaxed"):
            write(here, line, TWO, accept=accept)
    assert len(here.journal.entries(here.litter)) == 1
    write(here, "limit gap-more-expected call 3h by Dr X; because", TWO)
    with pytest.raises(RefusedError, match="never relaxed"):
        write(here, f"amend 2 {line}", TWO)
    assert len(here.journal.entries(here.litter)) == 2


def test_a_stricter_limit_is_taken(here: Session) -> None:
    """A rule that is never relaxed may come sooner."""
    written = write(here, "limit part-showing go 2min by Dr X; short legs", TWO)

    assert written.entry.what.kind == "limit"


def test_two_sessions_give_different_numbers(tmp_path: Path) -> None:
    """A pup is counted from the journal as it is, not from what this terminal last read."""
    path = tmp_path / "journal.db"
    begin(path)
    with seated(path) as one, seated(path) as other:
        found = [
            write(session_here, "pup", TWO, accept=True).entry for session_here in (one, other, one)
        ]

    assert [entry.id for entry in found] == [2, 3, 4]
    assert [entry.what.pup for entry in found if isinstance(entry.what, Birth)] == [1, 2, 3]


def test_the_zone_is_the_last_one_written_down(
    here: Session, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Else this computer's."""
    assert here.zone_name == "Europe/Prague"
    write(here, "set zone America/New_York", TWO)
    assert here.zone_name == "America/New_York"
    monkeypatch.setattr("boxlamp.outside.local_zone", lambda: "Australia/Lord_Howe")
    assert Session(here.journal, here.litter, ()).zone_name == "Australia/Lord_Howe"


def test_a_session_needs_a_litter(tmp_path: Path) -> None:
    """An empty journal says how to open one."""
    with (
        pytest.raises(UsageError, match="boxlamp new --dam NAME"),
        session(tmp_path / "journal.db"),
    ):
        pytest.fail("there is no litter to sit at")


@pytest.mark.parametrize(
    ("text", "minutes"),
    [("01:45", -15), ("-1h", -60), ("yesterday 23:50", -130), ("2026-03-02 02:30", 30),
     ("~01:45", -15), ("0145", -15)],
)  # fmt: skip
def test_a_moment_is_read_like_the_time_of_a_line(
    here: Session, monkeypatch: pytest.MonkeyPatch, text: str, minutes: int
) -> None:
    """Every form of time that a line may begin with names a moment."""
    monkeypatch.setattr("boxlamp.outside.now", lambda: TWO)

    assert moment_of(text, here, pytest.fail) == TWO + timedelta(minutes=minutes)
    assert moment_of(None, here, pytest.fail) == TWO


@pytest.mark.parametrize("text", ["", "soon", "pup", "01:45 pup", "01:45; x", "99:99", "note"])
def test_what_is_no_moment_is_refused(
    here: Session, monkeypatch: pytest.MonkeyPatch, text: str
) -> None:
    """The sentence shows how to write one."""
    monkeypatch.setattr("boxlamp.outside.now", lambda: TWO)
    with pytest.raises(UsageError, match="this is no moment"):
        moment_of(text, here, pytest.fail)


def test_the_rules_run_once_per_reading(here: Session) -> None:
    """The same record is not assessed twice; a new line makes it new."""
    first = here.assess()
    assert here.assess() is first
    here.refresh()
    write(here, "push", TWO)
    assert here.assess() is not first

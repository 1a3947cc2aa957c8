"""A line about a pup that is written down as dead: it is alive, or the record is said."""

from datetime import datetime, timedelta

import pytest

from boxlamp.language import Context, Doubt, NotUnderstood, if_meant, read_line
from boxlamp.model.entry import Draft
from boxlamp.model.happenings import Birth, Death, PupState, Step, What
from support.happenings import NOW


def box(dead_for: timedelta = timedelta(minutes=8), *, died: bool = False) -> Context:
    """Pup 1 (red) is dead; pup 2 (blue), born later, lives; pup 3 died as well."""
    gone = NOW - dead_for
    lines: list[tuple[datetime, What]] = [
        (gone, Birth(pup=1, mark="red", state=None if died else "dead")),
        (gone, Birth(pup=2, mark="blue")),
    ]
    if died:
        lines += [(gone, Death(pup=1, why="found cold")), (gone, Death(pup=1))]
    return Context.of(
        [Draft(at=when, what=what).numbered(number, "night", when)
         for number, (when, what) in enumerate(lines, start=1)],
        NOW, "Europe/Prague",
    )  # fmt: skip


def living(mark: str) -> Context:
    """One pup, and it lives."""
    born = Draft(at=NOW, what=Birth(pup=1, mark=mark)).numbered(1, "night", NOW)
    return Context.of([born], NOW, "Europe/Prague")


ALIVE = ("pup 1 alive", "1 alive", "alive 1", "pup 1 revived", "pup 1 breathing", "1 breathing",
         "red alive", "pup 1 is alive", "pup 1 is alive!", "red has come back to life",
         "pup 1 started breathing", "pup 1 isn't dead", "pup 1 is alive after all",
         "alive pup 1", "revived: red", "pup red revived and crying", "breathing 1 again",
         "pup one is alive", "1 came back", "02:13 pup 1 alive", "1 alive 2 min ago")  # fmt: skip


@pytest.mark.parametrize("died", [False, True])
@pytest.mark.parametrize("line", ALIVE)
def test_that_it_is_alive_is_read_as_that_it_breathes(line: str, died: bool) -> None:  # noqa: FBT001 - a case
    """However it is said; and it is said how the death is taken now."""
    heard = read_line(line, box(died=died))
    assert heard.draft.what == Step(step="breathing", pup=1)
    assert heard.doubts == ()
    entry, taken = (4, "not breathing") if died else (1, "limp at birth")
    assert f"alive after all: entry {entry}, 02:06" in heard.echo
    assert f"is now taken as {taken}. Not breathing? state 1 not-breathing" in heard.echo


@pytest.mark.parametrize("line", ["alive 2", "2 alive", "blue is alive"])
def test_of_a_pup_that_is_not_dead_it_starts_and_stops_nothing(line: str) -> None:
    """A heartbeat is no breath: a clock must not stop because a limp pup is alive."""
    with pytest.raises(NotUnderstood) as refused:
        read_line(line, box())
    assert refused.value.nearest == "breathing 2"


def test_a_number_that_is_taken_by_a_living_pup_keeps_its_own_answer() -> None:
    """``pup 2 alive`` reads as a birth whose number is taken, as it always did."""
    with pytest.raises(NotUnderstood, match="Pup 2 is already written down"):
        read_line("pup 2 alive", box())


def test_alive_alone_asks_which_pup() -> None:
    """The one that is written down as dead is offered, where there is one."""
    with pytest.raises(NotUnderstood) as refused:
        read_line("alive", box())
    assert str(refused.value) == "Which pup? Written down as dead: 1 (red). Try: alive N"
    with pytest.raises(NotUnderstood, match="not a word"):
        read_line("alive", Context(NOW))
    with pytest.raises(NotUnderstood, match="not a word"):
        read_line("alive 9", Context(NOW))


def test_a_pup_alive_soon_after_a_death_may_be_a_new_one() -> None:
    """So it is asked; within the hour of a death only."""
    assert _asked("pup alive", box()) == [
        Doubt("another-pup", "A new pup, or is pup 1 alive after all?", "Pup 1: alive 1")
    ]
    assert isinstance(read_line("pup alive", box()).draft.what, Birth)
    assert _asked("pup alive", box(timedelta(hours=1))) != []
    assert _asked("pup alive", box(timedelta(hours=1, seconds=1))) == []
    assert _asked("pup 3 alive", box()) == []


@pytest.mark.parametrize(
    ("after", "asked"), [(timedelta(hours=1), False), (timedelta(hours=1, seconds=1), True)]
)
def test_long_after_the_death_it_is_asked(after: timedelta, asked: bool) -> None:  # noqa: FBT001 - a case
    """A day later nobody is rubbed back to life: it is another pup, or the line was wrong."""
    doubts = _asked("breathing 1", box(after))
    assert bool(doubts) == asked
    if asked:
        assert doubts[0].fix == "If that line was wrong from the first: amend 1 pup 1 alive"
    died = _asked("breathing 1", box(after, died=True))
    assert [doubt.fix for doubt in died] == (
        ["If that line was wrong from the first: strike 4"] if asked else []
    )


@pytest.mark.parametrize(
    "line",
    ["milk 1", "to-teat 1", "weigh 1 300g", "state 1 crying", "1 cold", "feed 1 3ml tube",
     "temp pup 1 35.5", "score 1 2 2 2 2 2", "reflex 1 suckle 2", "round 1 300 2 310",
     "eyes-open 1"],
)  # fmt: skip
def test_what_only_the_living_do_is_asked_about(line: str) -> None:
    """The record is told, and the line that says it is alive."""
    (doubt,) = [one for one in _asked(line, box()) if one.code == "gone"]
    assert doubt.sentence == (
        "Pup 1 (red) is written down as dead (entry 1, 02:06:05). Is it another pup?"
    )
    assert doubt.fix == "If it is alive, first type: alive 1"


@pytest.mark.parametrize("line", ["state 1 limp", "1 gasping", "pup 1 not breathing", "blue 1"])
def test_a_sign_of_need_is_taken_at_once_and_the_record_is_told(line: str) -> None:
    """Its clock must not wait for an answer."""
    if line == "blue 1":
        line = "state 1 blue"
    heard = read_line(line, box())
    assert isinstance(heard.draft.what, PupState)
    assert heard.doubts == ()
    assert "is written down as dead; if it is alive, type: alive 1" in heard.echo


@pytest.mark.parametrize("line", ["sex 1 dog", "dried 1", "airway 1", "palate 1 cleft", "died 1"])
def test_what_may_be_said_of_a_dead_pup_is_taken_and_the_record_told(line: str) -> None:
    """Nobody is kept from rubbing a pup, or from noting what it was."""
    heard = read_line(line, box())
    assert heard.doubts == ()
    assert "is written down as dead; if it is alive, type: alive 1" in heard.echo


@pytest.mark.parametrize("line", ["milk 2", "-9m milk 1", "amend 1 sex 1 dog", "afterbirth of 1"])
def test_of_the_living_and_of_what_came_before_nothing_is_said(line: str) -> None:
    """A line about the time before the death is as good as any; so is a correction."""
    heard = read_line(line, box())
    assert heard.doubts == ()
    assert "written down" not in heard.echo


def test_what_was_seen_at_the_second_of_the_death_is_asked_about() -> None:
    """From the second of the death on; one second before, nothing is."""
    context = box(timedelta(minutes=8, seconds=5))
    assert _asked("02:06:00 milk 1", context)
    assert not _asked("02:05:59 milk 1", context)


def _asked(line: str, context: Context) -> list[Doubt]:
    return [*read_line(line, context).doubts]


def test_a_hint_about_how_a_pup_is_names_no_pup() -> None:
    """Where the line named none, the number is left open: a wrong one might be copied."""
    lines: list[What] = [Birth(pup=1), Birth(pup=2, state="dead")]
    context = Context.of(
        [Draft(at=NOW, what=what).numbered(number, "night", NOW)
         for number, what in enumerate(lines, start=1)], NOW
    )  # fmt: skip
    assert if_meant("one looks weak", context) == (
        "If a pup is weak (N: its number), type: state N weak",
    )
    with pytest.raises(NotUnderstood) as refused:
        read_line("limp", context)
    assert refused.value.nearest == "state N limp"
    only = Context.of([Draft(at=NOW, what=Birth(pup=1, state="dead")).numbered(1, "n", NOW)], NOW)
    assert if_meant("one looks weak", only)[0].endswith("state N weak")


@pytest.mark.parametrize(
    ("line", "note"),
    [
        ("red lost his collar", "note pup 1 lost his collar"),
        ("red lost weight", "note pup 1 lost weight"),
        ("red lost 20g", "note pup 1 lost 20g"),
        ("1 lost the ribbon", "note pup 1 lost the ribbon"),
        ("red lost consciousness", "note pup 1 lost consciousness"),
    ],
)
def test_a_pup_that_lost_something_has_not_died(line: str, note: str) -> None:
    """What it lost is offered as a note, beside the line of a death."""
    with pytest.raises(NotUnderstood) as answer:
        read_line(line, living("red"))
    assert answer.value.nearest == f"{note}\ndied 1"


@pytest.mark.parametrize("line", ["red lost", "lost red", "lost red his heart stopped", "lost 1"])
def test_a_pup_that_is_lost_has_died(line: str) -> None:
    """Whatever is told behind it."""
    what = read_line(line, living("red")).draft.what

    assert isinstance(what, Death)
    assert what.pup == 1

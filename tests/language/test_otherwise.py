"""A line that is not read is answered with the line that is plainly meant, and ends nothing."""

from datetime import timedelta

import pytest

from boxlamp.language import Context, NotUnderstood, if_meant, read_line, say
from boxlamp.model.entry import Draft
from boxlamp.model.happenings import Birth, PupState, Step, VetContact, Weight, What
from support.happenings import NOW


def box(*marks: str | None, then: tuple[What, ...] = ()) -> Context:
    """Pups with these marks, born two hours ago, and what was seen one hour ago."""
    first = NOW - timedelta(minutes=120 + len(marks))
    said: list[Draft] = [
        Draft(at=first + timedelta(minutes=place), what=Birth(pup=place, mark=mark))
        for place, mark in enumerate(marks, start=1)
    ]
    said += [
        Draft(at=NOW - timedelta(minutes=60 - place), what=what) for place, what in enumerate(then)
    ]
    return Context.of(
        [one.numbered(number, "night", NOW) for number, one in enumerate(said, start=1)],
        NOW,
        "Europe/Prague",
    )


THREE = box("red", "blue", "green")
LIMP = (PupState(pup=2, signs=("limp",)),)
ONE_LIMP = box("red", "blue", "green", then=LIMP)


def nearest(line: str, context: Context = THREE) -> str:
    with pytest.raises(NotUnderstood) as refused:
        read_line(line, context)
    return refused.value.nearest


@pytest.mark.parametrize(
    ("line", "typed"),
    [
        ("put a blue string on him", "mark N blue"),
        ("put a blue collar on red", "mark 1 blue"),
        ("put a blue mark on him", "mark N blue"),
        ("pup 2 dog 380g yellow collar", "weigh 2 380g"),
        ("put a yellow ribbon on pup 3", "mark 3 yellow"),
        ("pup 1 isnt red hes blue", "mark 1 blue"),
    ],
)
def test_a_colour_that_is_worn_is_a_mark(line: str, typed: str) -> None:
    """And no pup that suffocates, whoever is in the box."""
    assert nearest(line) == typed
    worn = "isnt" not in line
    assert not worn or "state" not in str(if_meant(line, box(None)))


def test_a_colour_that_may_be_a_mark_or_a_danger_is_told_as_both() -> None:
    """Where no pup is marked blue, the pup itself may be."""
    told = if_meant("pup 1 isnt red hes blue", box("red"))
    assert [one.rsplit("type: ", 1)[1] for one in told] == ["mark 1 blue", "state 1 blue"]
    assert if_meant("green stuff on her collar", box("red")) != ()


@pytest.mark.parametrize(
    ("line", "typed"),
    [
        ("blue has milk coming out of nose", "state 2 milk-at-nose"),
        ("red has milk coming out his nose", "state 1 milk-at-nose"),
        ("02:05 red has milk coming out of his nose", "02:05 state 1 milk-at-nose"),
        ("green and blue arent sucking", "state 3 not-suckling\nstate 2 not-suckling"),
        ("green and blue are sucking hard", "note green and blue are sucking hard"),
        ("red isnt really feeding tonight", "state 1 not-suckling"),
        ("red feeding blue not", "note red feeding blue not"),
    ],
)
def test_a_sign_of_the_log_is_named_as_the_log_names_it(line: str, typed: str) -> None:
    """Not kept as a note that runs no clock."""
    assert nearest(line) == typed


@pytest.mark.parametrize(
    ("line", "typed"),
    [
        ("he cried!!", "breathing 2"),
        ("hes pink and breathing now", "breathing 2"),
        ("02:05 hes pink and breathing now", "02:05 breathing 2"),
        ("blue pink and crying", "breathing 2"),
        ("ive rubbed him and he gasped", "state 2 gasping"),
    ],
)
def test_the_one_pup_in_trouble_is_meant_by_a_recovery(line: str, typed: str) -> None:
    """The exact line is offered; nothing is ended by a guess, and by a gasp least of all."""
    assert nearest(line, ONE_LIMP) == typed


@pytest.mark.parametrize(
    "context",
    [
        THREE,
        box("red", "blue", then=(*LIMP, PupState(pup=1, signs=("limp",)))),
        box("red", "blue", then=(*LIMP, Step(step="breathing", pup=2))),
    ],
)
def test_nobody_is_guessed_where_none_or_two_are_in_trouble(context: Context) -> None:
    """Also where it was written down already that it breathes."""
    assert nearest("hes pink and breathing now", context) == "breathing N"


@pytest.mark.parametrize("line", ["hes barely breathing", "pink but gone limp", "not crying"])
def test_what_is_no_recovery_is_offered_none(line: str) -> None:
    """One doubtful word is enough."""
    assert nearest(line, ONE_LIMP) != "breathing 2"


@pytest.mark.parametrize(
    ("line", "typed"),
    [
        ("green is actually a boy", "sex 3 dog"),
        ("red is a girl not a boy", "sex 1 bitch"),
        ("red isnt a boy its a girl", "sex 1 bitch"),
        ("the red one was 310g not 300", "weigh 1 310g"),
        ("sorry that was pup 1 not 2", "amend 4 state 1 limp"),
        ("scratch that", "strike 4 typed by mistake"),
    ],
)
def test_a_correction_in_plain_words_gets_its_line(line: str, typed: str) -> None:
    """It is kept as a note, and the record stays as it is until the line is typed."""
    assert nearest(line, ONE_LIMP) == typed


def test_a_correction_of_another_entry_is_left_open() -> None:
    """The last entry is of neither pup, or is a birth: its number is not guessed."""
    last = (Weight(pup=3, grams=300),)
    assert nearest("sorry that was pup 1 not 2", box(None, None, None, then=last)) == "amend N ..."
    assert nearest("sorry that was pup 1 not 2", box(None, None)) == "amend N ..."


@pytest.mark.parametrize(
    ("line", "typed"),
    [
        ("temp was 36.9 last nite", "HH:MM temp 36.9"),
        ("had 2 pups", "HH:MM pup"),
        ("were in the car", "left for vet"),
        ("were back", "note home"),
        ("were at the vet", "at the vet"),
    ],
)
def test_what_was_meant_stands_in_the_answer(line: str, typed: str) -> None:
    """With or without pups in the box, and with the time that was typed."""
    assert nearest(line) == typed
    assert nearest(line, Context.of([], NOW, "Europe/Prague")) == typed


@pytest.mark.parametrize(
    "line", ["temp red 35.2 cold", "temp pup 2 was only 35.1", "temp him 35.2"]
)
def test_the_temperature_of_a_pup_is_never_offered_as_hers(line: str) -> None:
    """It would hide that the pup is cold."""
    assert "temp 35" not in nearest(line)
    assert "temp 35" not in nearest(line, Context.of([], NOW, "Europe/Prague"))


@pytest.mark.parametrize(
    ("line", "said"),
    [
        ("can see a bubble", "sac"), ("can see feet", "part feet"),
        ("home from the vet", "note home"), ("back from vets", "note home"),
        ("got home", "note home"), ("were home again", "note home"),
        ("arrived at vet", "vet arrived"), ("25 min ago arrived at vet", "vet arrived"),
    ],
)  # fmt: skip
def test_what_is_plain_is_read(line: str, said: str) -> None:
    """``can`` and ``were`` begin no question where nothing is asked."""
    assert say(read_line(line, THREE).draft.what) == said


@pytest.mark.parametrize(
    "line",
    [
        "can i see her",
        "can see a bubble?",
        "were all pups breathing",
        "had 2 many",
        "were there more",
    ],
)
def test_a_question_is_still_one(line: str) -> None:
    """Whatever else begins like it."""
    with pytest.raises(NotUnderstood) as refused:
        read_line(line, THREE)
    assert "question" in refused.value.why


def test_who_got_there_was_on_the_way() -> None:
    """``got there`` is the vet's after she left for it, and nothing else."""
    driving = box("red", then=(VetContact(contact="left-for"),))
    assert nearest("got there", driving) == "at the vet"
    assert nearest("got there") == ""

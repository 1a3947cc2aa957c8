"""A pup that is written down is not counted a second time unasked."""

from datetime import timedelta
from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from boxlamp.language import Context, Doubt, NotUnderstood, read_line
from boxlamp.language.say import say
from boxlamp.model.entry import Draft, Entry
from boxlamp.model.happenings import Birth, Caesarean, Contraction, PupState, Step, What
from boxlamp.model.seen import BirthState, Sex
from support.happenings import NOW

ASKED = "Is this another pup (then Enter, or --yes), or pup 1 again?"
SECOND = timedelta(seconds=1)
MINUTE = timedelta(minutes=1)
PLAIN = Birth(pup=1)
KNOWN = Birth(pup=1, sex="dog", weight=Decimal(300), mark="red")


def box(*rows: tuple[timedelta, What]) -> Context:
    """02:14:05 in Prague, with these facts so long ago."""
    entries: list[Entry] = [
        Draft(at=NOW - ago, what=what).numbered(number, "night", NOW)
        for number, (ago, what) in enumerate(rows, start=1)
    ]
    return Context.of(entries, NOW, "Europe/Prague")


def asked(line: str, *rows: tuple[timedelta, What]) -> list[Doubt]:
    doubts = read_line(line, box(*rows)).doubts
    return [doubt for doubt in doubts if doubt.code == "another-pup"]


@pytest.mark.parametrize(
    ("line", "another", "again"),
    [
        ("pup", "pup 2", "leave this line out"),
        ("pup born", "pup 2", "leave this line out"),
        ("02:14 pup", "02:14 pup 2", "leave this line out"),
        ("~02:14 pup", "~02:14 pup 2", "leave this line out"),
        ("pup 02:14", "02:14 pup 2", "leave this line out"),
        ("2:14am: pup boy red", "2:14am pup 2 dog red", "`sex 1 dog`, `mark 1 red`"),
        ("pup 300g girl", "pup 2 bitch 300g", "`sex 1 bitch`, `weigh 1 300g`"),
        ("its a boy, red collar, 380 grams", "pup 2 dog 380g red collar",
         "`sex 1 dog`, `mark 1 red collar`, `weigh 1 380g`"),
        ("stillborn", "pup 2 dead", "`died 1`"),
        ("02:14 pup dead", "02:14 pup 2 dead", "`02:14 died 1`"),
        ("pup alive", "pup 2 alive", "`breathing 1`"),
        ("pup head first in sac", "pup 2 head first in sac",
         "`amend 1 pup 1 head first in sac`"),
    ],
)  # fmt: skip
def test_a_birth_beside_another_is_asked_about_with_both_lines(
    line: str, another: str, again: str
) -> None:
    """Nothing of what was typed is lost in either of them, and the time least of all."""
    fix = f"Another: `{another}`. Pup 1 again: {again}."
    assert asked(line, (SECOND, PLAIN)) == [Doubt("another-pup", ASKED, fix)]


@pytest.mark.parametrize(
    "line",
    ["pup", "2:14am: pup boy red", "pup 300g girl", "boy, red collar, 380g", "stillborn",
     "pup alive", "pup head first in sac", "pup breathing", "02:14 pup dead"],
)  # fmt: skip
def test_every_line_that_a_question_offers_is_read_unasked(line: str) -> None:
    """Whoever copies one of them is not asked again, and it says what was typed."""
    context = box((SECOND, PLAIN))
    (doubt,) = read_line(line, context).doubts
    another, *again = doubt.fix.split("`")[1::2]
    heard = read_line(another, context)
    assert heard.doubts == ()
    assert heard.draft.what == read_line(line, context).draft.what
    assert heard.draft.at == read_line(line, context).draft.at
    for offered in again:
        assert read_line(offered, context).doubts == ()


@pytest.mark.parametrize("apart", [-MINUTE, -SECOND, 0 * SECOND, SECOND, MINUTE])
def test_a_minute_before_and_after_is_beside(apart: timedelta) -> None:
    """By the time of each birth, whichever was typed first; a second more is another pup."""
    there = NOW - timedelta(minutes=5)
    typed = f"{there + apart:%Y-%m-%d %H:%M:%SZ} pup"
    assert len(asked(typed, (NOW - there, PLAIN))) == 1
    further = apart + (SECOND if apart > 0 * SECOND else -SECOND)
    typed = f"{there + further:%Y-%m-%d %H:%M:%SZ} pup"
    assert len(asked(typed, (NOW - there, PLAIN))) == (abs(further) <= MINUTE)


@pytest.mark.parametrize(
    "line",
    ["pup 2", "second pup", "another pup", "next pup born", "one more pup", "another girl",
     "one more puppy 300g", "next boy limp"],
)  # fmt: skip
def test_who_says_that_it_is_another_is_not_asked(line: str) -> None:
    """A number, ``another`` or ``one more`` is the answer already."""
    assert read_line(line, box((SECOND, PLAIN))).doubts == ()
    assert read_line(line, box((SECOND, PLAIN))).draft.what.kind == "birth"


def test_a_correction_is_not_asked_about_and_another_is_no_number_in_it() -> None:
    """The entry that it names says which pup it is."""
    for line in ("amend 1 pup", "amend 1 another pup"):
        assert asked(line, (SECOND, PLAIN)) == []
        assert "this is" not in read_line(line, box((SECOND, PLAIN))).echo


@pytest.mark.parametrize("line", ["one more", "another sac", "one more push", "next feed"])
def test_one_more_of_something_else_is_no_pup(line: str) -> None:
    """Only of a pup does it count one."""
    with pytest.raises(NotUnderstood):
        read_line(line, box((SECOND, PLAIN)))


def test_a_pup_marked_otherwise_is_another() -> None:
    """The mark is how they are told apart; the same mark, or none, tells nothing."""
    assert asked("pup blue", (SECOND, KNOWN)) == []
    assert len(asked("pup red", (SECOND, KNOWN))) == 1
    assert len(asked("pup", (SECOND, KNOWN))) == 1
    (doubt,) = asked("pup girl 300g red", (SECOND, KNOWN))
    assert doubt.fix.endswith("Pup 1 again: `sex 1 bitch`.")


def test_the_nearest_of_several_is_named() -> None:
    """Of two born at once, the one with the lower number is not guessed at."""
    rows = ((40 * SECOND, PLAIN), (10 * SECOND, Birth(pup=2)))
    assert (
        asked("pup", *rows)[0].sentence
        == "Is this another pup (then Enter, or --yes), or pup 2 again?"
    )
    assert asked("-38s pup", *rows)[0].sentence == ASKED
    rows = ((SECOND, PLAIN), (SECOND, Birth(pup=2)))
    assert (
        asked("pup", *rows)[0].sentence
        == "Is this another pup (then Enter, or --yes), or pup 2 again?"
    )


def test_by_caesarean_only_a_key_pressed_twice_is_asked_about() -> None:
    """There pups come within a minute; two lines within two seconds nobody types."""
    cut = (timedelta(minutes=5), Caesarean())
    assert len(asked("pup", cut, (2 * SECOND, PLAIN))) == 1
    assert asked("pup", cut, (3 * SECOND, PLAIN)) == []
    assert asked("02:14:05 pup", cut, (SECOND, PLAIN)) == []
    assert asked("pup 1 s ago", cut, (SECOND, PLAIN)) == []
    assert len(asked("-6m pup", cut, (timedelta(minutes=6), PLAIN))) == 1, "before it was begun"


@pytest.mark.parametrize(
    ("line", "known", "question"),
    [
        ("boy", PLAIN, True),
        ("boy 380g", PLAIN, True),
        ("a girl, red", PLAIN, True),
        ("boy alive", PLAIN, True),
        ("boy dead", PLAIN, True),
        ("boy red", Birth(pup=1, mark="Red"), True),
        ("boy 300g", KNOWN, False),
        ("girl", KNOWN, False),
        ("boy 310g", Birth(pup=1, weight=Decimal(300)), False),
        ("girl blue", Birth(pup=1, mark="red"), False),
        ("boy born", PLAIN, False),
        ("pup boy", PLAIN, False),
        ("boy head first", PLAIN, False),
        ("boy in sac", PLAIN, False),
        ("boy 2", PLAIN, False),
        ("stillborn", PLAIN, False),
    ],
)
def test_a_line_that_only_describes_is_asked_about(
    line: str, known: Birth, *, question: bool
) -> None:
    """Where the last pup lacks some of it and has nothing against it, it may be that pup."""
    assert bool(asked(line, (5 * MINUTE, known))) == question


@pytest.mark.parametrize("ago", [15 * MINUTE, 15 * MINUTE + SECOND, timedelta(hours=5)])
@pytest.mark.parametrize("line", ["boy 380g", "its a girl", "a girl, red"])
def test_a_description_is_asked_about_however_long_ago_the_pup_was_born(
    line: str, ago: timedelta
) -> None:
    """A pup that never was would end the clock of her straining, whatever was typed between."""
    push = (SECOND, Contraction())
    [doubt] = asked(line, (ago, PLAIN), push)
    assert doubt.sentence == ASKED
    assert doubt.fix.startswith("Another: `pup 2 ")
    assert "Pup 1 again: `sex 1 " in doubt.fix


def test_a_description_of_a_pup_that_was_not_born_by_then_is_a_birth() -> None:
    """From the second of its birth on it may be that pup."""
    there = NOW - timedelta(minutes=20)
    for apart, question in ((-61 * SECOND, False), (61 * SECOND, True)):
        typed = f"{there + apart:%Y-%m-%d %H:%M:%SZ} boy 380g"
        assert bool(asked(typed, (NOW - there, PLAIN))) == question


def test_a_description_may_be_of_any_pup_that_lacks_it() -> None:
    """The newest that it may be of is named; where it is of none, it is a birth."""
    hours = [timedelta(hours=4 - hour) for hour in range(4)]
    dog = Birth(pup=3, sex="dog", weight=Decimal(300), mark="red")
    rows = [(hours[0], PLAIN), (hours[1], Birth(pup=2)), (hours[2], dog)]
    assert "pup 2 again" in asked("its a girl", *rows)[0].sentence
    rows[1] = (hours[1], Birth(pup=2, sex="bitch"))
    assert "pup 1 again" in asked("its a girl", *rows)[0].sentence
    assert "pup 2 again" in asked("its a girl, blue", *rows)[0].sentence
    rows[0] = (hours[0], Birth(pup=1, sex="dog"))
    assert asked("its a girl", *rows) == []


@pytest.mark.parametrize(
    "line", ["girl out", "a girl is here", "girl born", "girl arrived 310g", "pup girl", "girl 2"]
)
def test_long_after_a_birth_who_says_that_one_came_is_not_asked(line: str) -> None:
    """A word of birth, or a number, tells of one more."""
    assert asked(line, (16 * MINUTE, PLAIN), (SECOND, Contraction())) == []
    assert isinstance(read_line(line, box((16 * MINUTE, PLAIN))).draft.what, Birth)


def test_the_first_pup_of_the_night_is_not_asked_about() -> None:
    """There is none that it could be."""
    assert asked("girl 310g") == asked("girl 310g", (SECOND, Contraction())) == []


def test_a_description_right_behind_a_birth_is_asked_about_however_old_it_is() -> None:
    """Who catches up types the birth of an hour ago, and then what it is."""
    assert len(asked("its a girl", (90 * MINUTE, PLAIN))) == 1
    assert asked("pup girl", (90 * MINUTE, PLAIN)) == []


LIMP = "if this is pup 1 again, strike this line and type: state 1 limp"


@pytest.mark.parametrize("line", ["pup limp", "girl limp"])
def test_a_limp_pup_is_asked_about_only_where_the_clock_of_one_runs(line: str) -> None:
    """Else it is taken at once, so that its clock runs, and the echo says what to do."""
    limp, breath = Birth(pup=1, state="limp"), Step(step="breathing", pup=1)
    runs: list[list[tuple[timedelta, What]]] = [
        [(30 * SECOND, limp)],
        [(30 * SECOND, PLAIN), (SECOND, PupState(pup=1, signs=("limp",)))],
        [(30 * SECOND, PLAIN), (SECOND, PupState(pup=1, signs=("not-breathing",)))],
    ]
    for rows in runs:
        assert len(asked(line, *rows)) == 1, rows
    others: list[list[tuple[timedelta, What]]] = [
        [(30 * SECOND, PLAIN)],
        [(30 * SECOND, limp), (SECOND, breath)],
        [(30 * SECOND, Birth(pup=1, state="dead"))],
    ]
    for rows in others:
        heard = read_line(line, box(*rows))
        assert heard.doubts == (), rows
        assert isinstance(heard.draft.what, Birth)
        assert heard.draft.what.state == "limp"
        assert LIMP in heard.echo


@given(
    st.sampled_from([None, "dog", "bitch"]),
    st.sampled_from([None, Decimal(290), Decimal("310.5")]),
    st.sampled_from([None, "red", "blue band", "Luna"]),
    st.sampled_from([None, "alive", "limp", "dead"]),
    st.integers(-90, 90),
)
def test_a_birth_written_back_is_read_unasked(
    sex: Sex | None, weight: Decimal | None, mark: str | None, state: BirthState | None, apart: int
) -> None:
    """However near another is: in its own words a birth has its number."""
    birth = Birth(pup=2, sex=sex, weight=weight, mark=mark, state=state)
    heard = read_line(say(birth), box((apart * SECOND, PLAIN)))
    assert heard.draft.what == birth
    assert heard.doubts == ()

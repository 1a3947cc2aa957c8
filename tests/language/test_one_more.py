"""One more of something, several at once, and what is no sign: asked, or answered with a line."""

from datetime import timedelta

import pytest

from boxlamp.language import Context, Doubt, NotUnderstood, if_meant, read_line
from boxlamp.language.several import heard
from boxlamp.model.entry import Draft
from boxlamp.model.happenings import Birth, Contraction, Death, Details, PupState, Step, What
from support.happenings import NOW

MINUTE = timedelta(minutes=1)


def box(*last: What, pups: int = 2) -> Context:
    """02:14:05 in Prague; so many pups, the first red, the last of them twenty minutes old."""
    said: list[What] = [
        *(Birth(pup=pup, mark="red" if pup == 1 else None) for pup in range(1, pups + 1)), *last,
    ]  # fmt: skip
    first = NOW - 20 * MINUTE * max(len(said), 1)
    return Context.of(
        [
            Draft(at=first + 20 * MINUTE * place, what=what).numbered(place + 1, "night", NOW)
            for place, what in enumerate(said)
        ],
        NOW,
        "Europe/Prague",
    )


def refused(line: str, context: Context) -> NotUnderstood:
    with pytest.raises(NotUnderstood) as found:
        heard(line, context)
    return found.value


@pytest.mark.parametrize("pups", [0, 2])
@pytest.mark.parametrize(
    ("line", "time"),
    [
        ("another one", ""), ("and another", ""), ("another one out", ""), ("another is out", ""),
        ("its another one", ""), ("one more out", ""), ("next one is here", ""),
        ("02:10 another one", "02:10 "), ("another one at 02:10", "02:10 "),
        ("~02:10 and another one", "~02:10 "),
    ],
)  # fmt: skip
def test_another_one_is_asked_with_a_line_for_each(line: str, time: str, pups: int) -> None:
    """It may be a pup, a push or an afterbirth; each line keeps the time and is read unasked."""
    context = box(Contraction(), pups=pups)
    one = read_line(line, context)

    fix = (
        f"A pup: `{time}pup {pups + 1}`. A push: `{time}contraction`. "
        f"An afterbirth: `{time}afterbirth`."
    )
    assert one.doubts == (
        Doubt(
            "another-pup",
            "Another what? A pup that is out (then Enter, or --yes), or something else?",
            fix,
        ),
    )
    assert one.draft.what == Birth(pup=pups + 1)
    for offered in fix.split("`")[1::2]:
        again = read_line(offered, context)
        assert (again.doubts, again.draft.at) == ((), one.draft.at)


def test_who_says_born_is_not_asked() -> None:
    """Then it is a pup."""
    one = read_line("another one born", box())
    assert (one.draft.what, one.doubts) == (Birth(pup=3), ())


@pytest.mark.parametrize(
    "line",
    ["one more", "next one", "another one coming", "another one soon", "no other", "another push",
     'another "one"', "amend 2 another one", "another one?"],
)  # fmt: skip
def test_what_may_be_anything_is_no_birth(line: str) -> None:
    """What is still to come, what is denied, what nobody named."""
    assert "pup" not in refused(line, box()).nearest


def test_in_a_night_file_nobody_can_be_asked() -> None:
    """So there no pup is counted by it."""
    with pytest.raises(NotUnderstood):
        read_line("another one", Context(NOW, "Europe/Prague", after=NOW))


@pytest.mark.parametrize(
    ("line", "hint"),
    [
        ("twins", "HH:MM pup"), ("2 pups", "HH:MM pup"), ("two pups born", "HH:MM pup"),
        ("3 more puppies", "HH:MM pup"), ("two pups are out now", "HH:MM pup"),
        ("02:10 2 pups", "02:10 pup"), ("2 pups at 02:10", "02:10 pup"),
    ],
)  # fmt: skip
def test_several_pups_at_once_need_a_line_each(line: str, hint: str) -> None:
    """Each has its own time; how many there are is not guessed at."""
    answer = refused(line, box())
    assert answer.why == (
        "No pup was counted by this: each pup that is born is a line of its own, with its time."
    )
    assert answer.nearest == hint


@pytest.mark.parametrize("line", ["1 pups", "0 pups", "21 pups", "2 pups limp", "100 pups", "2"])
def test_what_counts_no_births_is_answered_as_before(line: str) -> None:
    """A pup by its number, and more than a litter."""
    assert "with its time" not in refused(line, box()).why


@pytest.mark.parametrize(
    ("line", "all_well", "hint"),
    [
        ("both warm", "both well", "temp pup N ..."), ("all warm", "all well", "temp pup N ..."),
        ("all breathing and warm", "all well", "all breathing"),
        ("both breathing and warm", "both well", "both breathing"),
        ("1 and 2 warm", "1 and 2 well", "temp pup 1 ...\ntemp pup 2 ..."),
    ],
)  # fmt: skip
def test_warm_to_the_hand_is_no_temperature_of_several(line: str, all_well: str, hint: str) -> None:
    """The answer says what to type if all is well with them, and it is read of each."""
    answer = refused(line, box())
    assert answer.why.endswith(f"If all is well with them: {all_well}.")
    assert answer.nearest == hint
    assert [one.draft.what for one in heard(all_well, box())] == [
        PupState(pup=1, signs=("well",)), PupState(pup=2, signs=("well",)),
    ]  # fmt: skip
    if "breathing" in hint:
        assert [one.draft.what for one in heard(hint, box())] == [
            Step(step="breathing", pup=1), Step(step="breathing", pup=2),
        ]  # fmt: skip


def test_both_of_three_are_not_known() -> None:
    """Then the number is left open."""
    for line in ("both warm", "both breathing and warm"):
        answer = refused(line, box(pups=3))
        assert answer.why.endswith("If all is well with them: state N well.")
        assert answer.nearest == "temp pup N ..."


@pytest.mark.parametrize("line", ["all warm but 2", "both warm except red", "not all warm"])
def test_who_is_taken_out_is_not_well(line: str) -> None:
    """Nothing is offered that says it of all."""
    assert "well" not in str(refused(line, box()))


def test_better_is_not_yet_well() -> None:
    """It ends no alarm; the answer says what would."""
    assert refused("1 perked up", box()).why.endswith(
        "Better is not yet well. If it breathes: breathing 1. All well: state 1 well."
    )
    for line in ("perked up", "shes perked up"):
        assert "Who is better?" in refused(line, box()).why
    assert refused("2 perked up", box(Death(pup=2))).nearest == "alive 2"
    assert "Better is" not in refused("1 breathing better", box()).why
    assert "Better is" not in refused("better breathing 1 now", box()).why
    assert "Who is better" not in refused("perked up since the new milk", box()).why


@pytest.mark.parametrize(
    ("line", "pups"),
    [("red collar", 1), ("red collar", 2), ("green collar", 2), ("light green ribbon", 2)],
)
def test_a_mark_alone_is_asked_whose_it_is(line: str, pups: int) -> None:
    """Whether or not one is marked so already; copied with its N it marks nobody."""
    context = box(pups=pups)
    answer = refused(line, context)
    assert answer.why.endswith("Which pup?")
    assert answer.nearest == f"mark N {line}"
    refused(answer.nearest, context)
    mended = read_line(answer.nearest.replace("N", "1"), context).draft.what
    assert mended == Step(step="marked", pup=1, finding=line)


def test_without_a_pup_there_is_none_to_mark() -> None:
    """And a mark without its words is asked for them."""
    assert refused("red collar", box(pups=0)).nearest == ""
    assert refused("1 collar", box()).why == "Which mark?"
    assert if_meant("red collar", box()) == ()


@pytest.mark.parametrize(("age", "question"), [("25", False), ("26", True), ("2019", True)])
def test_a_year_of_birth_is_no_age(age: str, question: bool) -> None:  # noqa: FBT001 - a row
    """It is asked about; an age keeps its meaning."""
    one = read_line(f"set age {age}", box())
    assert isinstance(one.draft.what, Details)
    assert [doubt.code for doubt in one.doubts] == (["implausible"] if question else [])


@pytest.mark.parametrize("line", ["undo", "boxlamp undo", "log undo", "undo that"])
def test_undo_says_which_entry_would_be_taken_back(line: str) -> None:
    """However it is typed."""
    answer = refused(line, box(Contraction()))
    assert answer.why.startswith("That changes nothing in the record. The last entry that counts")
    assert answer.nearest == "strike 3 typed by mistake"


@pytest.mark.parametrize(
    ("line", "tried"),
    [
        ("2 dead pups", "died N"),
        ("2 pups dead", "died N"),
        ("two pups died", "died N"),
        ("2 pups limp", "state N limp"),
        ("2 limp pups", "state N limp"),
        ("the 2 pups are limp", "state N limp"),
        ("3 pups cold", "state N cold"),
        ("2 more pups limp", "state N limp"),
        ("02:10 2 pups limp", "02:10 state N limp"),
        ("2 pups limp 4 min ago", "4 min ago state N limp"),
    ],
)
def test_so_many_pups_are_no_pup_of_that_number(line: str, tried: str) -> None:
    """It is asked which, and for the dead also what tells of one that was born dead."""
    for pups in (2, 3):
        no = refused(line, box(pups=pups))
        assert "Which pups? That is how many, and names none" in no.why
        assert no.nearest == tried
        assert ("`pup dead`" in no.why) == tried.startswith("died")
        assert ("started no clock" in no.why) == (not tried.startswith("died"))


@pytest.mark.parametrize(
    ("line", "tried"),
    [
        ("another one limp", "pup limp\nstate N limp"),
        ("another limp pup", "pup limp\nstate N limp"),
        ("one more limp", "pup limp\nstate N limp"),
        ("another one not breathing", "pup limp\nstate N not-breathing"),
        ("another one gasping", "pup\nstate N gasping"),
        ("02:10 another one limp", "02:10 pup limp\n02:10 state N limp"),
        ("another one is dead", "pup dead\ndied N"),
        ("another dead pup", "pup dead\ndied N"),
    ],
)
def test_another_one_in_need_is_a_birth_or_one_that_is_out(line: str, tried: str) -> None:
    """Both lines are offered, with the time that was typed."""
    no = refused(line, box())
    assert "Was another pup born so, or is one so that is out?" in no.why
    assert no.nearest == tried


@pytest.mark.parametrize(
    "line", ["another stillborn", "another stillborn pup", "one more stillborn"]
)
def test_another_stillborn_is_a_birth(line: str) -> None:
    """Nothing else can be stillborn."""
    (one,) = heard(line, box())
    assert (one.draft.what, one.doubts) == (Birth(pup=3, state="dead"), ())

"""The vet, the way home, and how a pup is, in the words of the night."""

from datetime import timedelta

import pytest

from boxlamp.language import Context, NotUnderstood, if_meant, read_line
from boxlamp.model.entry import Draft
from boxlamp.model.happenings import (
    Birth,
    Caesarean,
    Contraction,
    Death,
    Note,
    Part,
    PupState,
    Step,
    VetContact,
    What,
)
from boxlamp.model.litter import fold, says_home
from boxlamp.model.story import Story
from support.happenings import NOW


def box(*last: What) -> Context:
    """Four pups of an hour ago, the third dead, and what was written down since."""
    said: list[What] = [*(Birth(pup=number) for number in range(1, 5)), Death(pup=3), *last]
    return Context.of(
        [
            Draft(at=NOW - timedelta(minutes=60 - place), what=what).numbered(place, "night", NOW)
            for place, what in enumerate(said, start=1)
        ],
        NOW,
        "Europe/Prague",
    )


def what(line: str, context: Context | None = None) -> What:
    return read_line(line, context or box()).draft.what


def refused(line: str) -> NotUnderstood:
    with pytest.raises(NotUnderstood) as found:
        read_line(line, box())
    return found.value


@pytest.mark.parametrize(
    ("line", "contact", "said"),
    [
        ("ringing vet", "called", ""), ("ringing the vet", "called", ""),
        ("vet on way", "called", "on way"), ("vet coming", "called", "coming"),
        ("vet not coming", "called", "not coming"), ("vet can't come", "called", "can't come"),
        ("the vet is on the way", "called", "on the way"),
        ("vet coming; 20 minutes", "called", "coming"), ("vet called", "called", ""),
        ("on way to vet", "left-for", ""), ("on our way to the vet", "left-for", ""),
        ("on the way to the vet", "left-for", ""), ("left for vet", "left-for", ""),
    ],
)  # fmt: skip
def test_the_vet_is_rung_and_driven_to(line: str, contact: str, said: str) -> None:
    """A vet who comes was rung, and has advised nothing: advice would end alerts."""
    assert what(line) == VetContact.model_validate({"contact": contact, "said": said})


@pytest.mark.parametrize("line", ["vet left", "vet has left", "vet leaving", "vet gone"])
def test_who_left_is_asked(line: str) -> None:
    """She may be on her way to the vet, or the vet on the way home: both lines are offered."""
    answer = refused(line)
    assert str(answer).endswith("is so: Try: left for vet or note the vet left")
    assert answer.why.startswith("Did you leave for the vet, or has the vet left?")
    assert [what(one) for one in answer.nearest.split("\n")] == [
        VetContact(contact="left-for"), Note(words="the vet left"),
    ]  # fmt: skip


def test_an_operation_has_its_own_line() -> None:
    """What the vet does is the caesarean, and no talk with the vet."""
    assert what(refused("vet doing c section now").nearest) == Caesarean()
    assert what("c section now") == Caesarean()


@pytest.mark.parametrize("line", ["back home", "turned back", "came home again", "we are home",
                                  "home", "02:10 home again"])  # fmt: skip
def test_home_again_ends_the_way_to_the_vet(line: str) -> None:
    """And it is said that it does; the line stays as it was typed."""
    away = box(VetContact(contact="left-for"))
    heard = read_line(line, away)
    assert isinstance(heard.draft.what, Note)
    assert says_home(heard.draft.what)
    assert "home: no longer with the vet, nor on the way there" in heard.echo
    assert heard.draft.text == line
    known = [*away.entries.values()] if away.entries else []
    back = heard.draft.model_copy(update={"at": NOW}).numbered(99, "night", NOW)
    assert fold(Story((*known, back))).left_for_vet is None


def test_home_changes_nothing_where_nobody_was_away() -> None:
    """Then nothing is said; a note that is typed as one keeps its words."""
    assert "no longer" not in read_line("back home", box()).echo
    heard = read_line("note back home; all fine", box(VetContact(contact="arrived")))
    assert heard.draft.what == Note(words="back home; all fine")
    assert "no longer" in heard.echo
    assert "no longer" not in read_line("note odd", box(VetContact(contact="arrived"))).echo


@pytest.mark.parametrize(
    ("line", "found"),
    [
        ("shes still pushing hard nothing", Contraction(strength="strong")),
        ("pushing hard and nothing", Contraction(strength="strong")),
        ("still pushing", Contraction()), ("1:40 feet sticking out", Part(part="feet")),
        ("tail hanging out", Part(part="tail")), ("well 2", PupState(pup=2, signs=("well",))),
        ("breathing 3", Step(step="breathing", pup=3)),
    ],
)  # fmt: skip
def test_what_is_sure_is_read(line: str, found: What) -> None:
    """As it is said."""
    assert what(line) == found


@pytest.mark.parametrize("line", ["pushing nothing", "ok 2", "well fine 2", "2 well or so"])
def test_what_is_not_sure_is_not(line: str) -> None:
    """No push that may be none, and no all-clear in other words."""
    refused(line)


@pytest.mark.parametrize(
    ("line", "said", "hint"),
    [
        ("2 warm", "Warm to the hand is no temperature", "temp pup 2 ..."),
        ("1 warm now", "state 1 well", "temp pup 1 ..."),
        ("1 moving", "If it breathes: breathing 1. All well: state 1 well.", ""),
        ("wait 3 is moving", "written down as dead", "alive 3"),
        ("3 warm again", "written down as dead", "alive 3"),
        ("hes alive", "Written down as dead: 3.", "alive N"),
        ("1 and 2 moving", "is not a word", "note 1 and 2 moving"),
        ("4 not moving much", "what did not happen", ""),
    ],
)  # fmt: skip
def test_signs_that_the_log_has_not_say_what_to_write(line: str, said: str, hint: str) -> None:
    """Warm is no temperature, moving no breath; of one that was given up it is that it lives."""
    if "not moving" in line:
        assert if_meant(line, box()) == ("If pup 4 is limp, type: state 4 limp",)
        return
    answer = refused(line)
    assert said in answer.why
    assert answer.nearest == hint


def test_a_death_says_how_to_take_it_back() -> None:
    """Once, in one sentence; a correction of it says nothing more."""
    assert "(if it comes back, type: alive 2)" in read_line("pup 2 dead", box()).echo
    assert "comes back" not in read_line("amend 5 died 3 found cold", box()).echo


@pytest.mark.parametrize(
    ("line", "typed"),
    [
        ("nothing for 2 hours", ["contraction"]), ("cant get it out", ["part head"]),
        ("she's fallen over", ["dam collapsed"]),
        ("pulled pup out", ["pup", "pup limp", "part head"]),
        ("everyone fine apart from 4", ["state 4 not-breathing", "state 4 limp", "state 4 weak"]),
        ("all breathing except 4", ["state 4 not-breathing", "state 4 limp", "state 4 weak"]),
        ("all but one fine", []), ("fine except 4", []),
        ("feet sticking out not moving", ["part feet"]), ("head half hanging out", ["part head"]),
        ("3 and 4 dead", ["died 3", "died 4"]), ("both limp", ["state N limp"]),
        ("she pulled it", []),
    ],
)  # fmt: skip
def test_each_danger_says_what_to_type(line: str, typed: list[str]) -> None:
    """For every pup that is named, and for none that is not; what shows is no birth."""
    refused(line)
    assert [one.rsplit("type: ", 1)[1] for one in if_meant(line, box())] == typed

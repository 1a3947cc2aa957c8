"""A pup that breathes after it was written down as dead was not dead."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from boxlamp.engine import assess, history_as_known
from boxlamp.model.entry import Entry
from boxlamp.model.happenings import Amend, Birth, Death, PupState, Step, Strike, What
from boxlamp.model.litter import fold
from boxlamp.model.order import corrected
from boxlamp.model.revived import returns
from boxlamp.model.story import Story, as_known
from support.made import STREAMS, at, entry, told
from support.nights import DEFAULT

BREATH = Step(step="breathing", pup=1)
LIMP = PupState(pup=1, signs=("not-breathing",))
LINES: list[What] = [
    Birth(pup=1, state="dead"), Birth(pup=1), Birth(pup=2, state="dead"), Death(pup=1),
    Death(pup=2), BREATH, Step(step="breathing", pup=2), Step(step="milk", pup=1),
]  # fmt: skip
NIGHTS = st.lists(st.tuples(st.integers(0, 9), st.sampled_from(LINES)), max_size=9)


def said(*lines: tuple[float, What]) -> list[What]:
    return [one.what for one in Story(told(*lines)).entries]


def test_a_pup_born_dead_that_breathes_was_born_limp() -> None:
    """It lives from its birth, with everything else that its birth said."""
    birth = Birth(pup=1, sex="dog", mark="red", state="dead")
    assert said((0, birth), (8, BREATH)) == [birth.model_copy(update={"state": "limp"}), BREATH]
    pup = fold(Story(told((0, birth), (8, BREATH)))).pups[1]
    assert (pup.alive, pup.died, pup.state, pup.mark) == (True, None, "limp", "red")


def test_a_death_before_a_breath_was_a_breath_missed() -> None:
    """It is told as what was seen; the breath ends it."""
    assert said((0, Birth(pup=1)), (5, Death(pup=1, why="cold")), (8, BREATH)) == [
        Birth(pup=1), LIMP, BREATH,
    ]  # fmt: skip


def test_a_death_after_the_breath_stands() -> None:
    """Who comes back may still die, and then it died at that moment."""
    litter = fold(Story(told((0, Birth(pup=1, state="dead")), (8, BREATH), (20, Death(pup=1)))))
    assert (litter.pups[1].state, litter.pups[1].died) == ("limp", at(20))


def test_another_pups_breath_and_another_step_bring_nobody_back() -> None:
    """Only that it breathes shows that a pup lives."""
    for line in (Step(step="breathing", pup=2), Step(step="dried", pup=1)):
        litter = fold(Story(told((0, Birth(pup=1, state="dead")), (1, Birth(pup=2)), (8, line))))
        assert not litter.pups[1].alive


def test_the_lines_stay_as_they_were_typed() -> None:
    """The record says what was believed; only whoever reads a story hears what it was."""
    entries = told((0, Birth(pup=1, state="dead")), (8, BREATH))
    assert [one.what for one in corrected(entries)] == [Birth(pup=1, state="dead"), BREATH]
    assert not fold(as_known(entries, at(7))).pups[1].alive
    assert fold(as_known(entries, at(8))).pups[1].alive


def test_a_breath_that_is_struck_brings_nobody_back() -> None:
    """The death is then what it was before."""
    entries = (*told((0, Birth(pup=1)), (5, Death(pup=1)), (8, BREATH)),
               entry(9, 9, Strike(target=3)))  # fmt: skip
    assert fold(Story(entries)).pups[1].died == at(5)


@given(NIGHTS)
def test_nobody_breathes_after_a_death(lines: list[tuple[int, What]]) -> None:
    """Told the slow way, each death asks all that comes after it up to a birth of that number."""
    before, now = corrected(told(*lines)), Story(told(*lines)).entries
    for place, (old, new) in enumerate(zip(before, now, strict=True)):
        dead = isinstance(old.what, Death) or getattr(old.what, "state", None) == "dead"
        back = dead and _breathes_later(before[place + 1 :], getattr(old.what, "pup", None))
        assert (old.what != new.what) == back
        assert (old.id, old.at) == (new.id, new.at)


def _breathes_later(later: tuple[Entry, ...], pup: object) -> bool:
    for one in later:
        if isinstance(one.what, Birth) and one.what.pup == pup:
            return False
        if isinstance(one.what, Step) and one.what.step == "breathing" and one.what.pup == pup:
            return True
    return False


@given(STREAMS)
def test_a_story_without_such_a_breath_is_told_as_it_reads(night: tuple[Entry, ...]) -> None:
    """Nothing else is changed by it."""
    if not returns(night):
        story = Story(night)
        assert len(story) >= len(corrected(night))
        assert [one for one in corrected(night) if isinstance(one.what, Birth | Death)] == [
            *story.of(Birth, Death)
        ]


def test_what_may_bring_a_pup_back_is_found_in_corrections_too() -> None:
    """Also where only an amend tells the death, or the breath."""
    dead = Amend(target=1, what=Birth(pup=1, state="dead"))
    entries = (entry(1, 0, Birth(pup=1)), entry(2, 1, dead), entry(3, 2, BREATH),
               entry(4, 3, Amend(target=3, retimed=True)),
               entry(5, 4, Amend(target=3, what=BREATH)),
               entry(6, 5, Step(step="breathing", pup=2)))  # fmt: skip
    assert returns(entries) == {3, 5}
    assert returns(entries[:1]) == frozenset()


def test_a_breath_before_a_death_brings_nobody_back() -> None:
    """Most pups breathe first; only where a correction moves a line may the order be another."""
    for apart, found in ((-1, set()), (0, {2}), (1, {2})):
        lines = (entry(1, 10, Death(pup=1)), entry(2, 10 + apart, BREATH))
        assert returns(lines) == found
        moved = entry(3, 20, Amend(target=1, retimed=True))
        assert returns((*lines, moved)) == {2}


@pytest.mark.parametrize(
    ("birth", "struck", "found"),
    [(9, False, True), (10, False, True), (11, False, False), (15, False, False),
     (16, False, True), (11, True, True)],
)  # fmt: skip
def test_a_birth_between_them_keeps_a_death_apart(
    birth: float,
    struck: bool,  # noqa: FBT001 a row of the table
    found: bool,  # noqa: FBT001 a row of the table
) -> None:
    """The breath is that of the pup born then; unless a correction is about that birth."""
    lines = [entry(1, 10, Death(pup=1)), entry(2, birth, Birth(pup=1)), entry(3, 15, BREATH)]
    if struck:
        lines.append(entry(4, 20, Strike(target=2, why="wrong")))
    assert (3 in returns(lines)) is found


def test_what_the_screen_showed_before_the_breath_is_not_rewritten() -> None:
    """Two born dead were a call until one of them breathed; with hindsight there was none."""
    entries = told((0, Birth(pup=1, state="dead")), (10, Birth(pup=2, state="dead")), (15, BREATH))
    losses = [
        (step.at, step.change)
        for step in history_as_known(entries, DEFAULT, at(30))
        if step.rule.id == "litter-losses"
    ]
    assert losses == [(at(10), "raised"), (at(15), "cleared")]
    hindsight = assess(Story(entries), DEFAULT).history(at(30))
    assert all(step.rule.id != "litter-losses" for step in hindsight)

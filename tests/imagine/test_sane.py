"""What every night keeps to, normal or troubled."""

from collections import Counter
from datetime import datetime, timedelta
from itertools import pairwise
from zoneinfo import ZoneInfo

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from boxlamp.imagine import SIZES, TROUBLES, Imagined, Size, imagine
from boxlamp.imagine.kennel import BREEDS
from boxlamp.model.happenings import (
    Afterbirth,
    Birth,
    Caesarean,
    Death,
    Details,
    Finished,
    Note,
    Round,
    Step,
    Treatment,
    VetContact,
    Weight,
)
from boxlamp.model.litter import fold
from boxlamp.model.story import Story

SPREAD = {breed.name: (breed.grams, breed.spread) for breed in BREEDS}
MANY = settings(max_examples=150, deadline=None)
seeds = st.integers(min_value=0, max_value=2**40)
any_night = st.builds(
    imagine, seeds, size=st.sampled_from((None, *SIZES)), trouble=st.sampled_from(TROUBLES)
)
normal_night = st.builds(
    imagine, seeds, size=st.sampled_from((None, *SIZES)), trouble=st.just("none")
)


def births(night: Imagined) -> list[Birth]:
    return [entry.what for entry in night.entries if isinstance(entry.what, Birth)]


@MANY
@given(any_night | normal_night)
def test_one_line_after_the_other(night: Imagined) -> None:
    """Numbers count from 1, lines follow the clock, pups are numbered as they come."""
    lines = [entry for entry in night.entries if entry.certainty != "day"]

    assert [entry.id for entry in night.entries] == list(range(1, len(night.entries) + 1))
    assert all(one.at <= next_.at for one, next_ in pairwise(lines))
    assert [one.pup for one in births(night)] == list(range(1, len(births(night)) + 1))
    assert night.ended <= lines[-1].at + timedelta(minutes=1)


@MANY
@given(any_night)
def test_a_trouble_begins_before_it_ends(night: Imagined) -> None:
    """It begins and runs its course, and until then nobody drives to the vet or helps her."""
    assert night.troubled is not None
    assert night.troubled < night.ended
    assert night.trouble in TROUBLES
    helped = [
        entry.at for entry in night.entries
        if isinstance(entry.what, Caesarean | Treatment)
        or (isinstance(entry.what, VetContact) and entry.what.contact in {"left-for", "arrived"})
    ]  # fmt: skip
    assert all(at >= night.ended - timedelta(minutes=1) for at in helped)


@MANY
@given(normal_night)
def test_a_normal_night_counts_out(night: Imagined) -> None:
    """All is born at home, no debt is left open, every live pup breathes and has had milk."""
    assert night.trouble is None
    assert night.troubled is None
    kinds = Counter(type(entry.what) for entry in night.entries)
    litter = fold(Story(night.entries))
    done = {(entry.what.step, entry.what.pup) for entry in night.entries
            if isinstance(entry.what, Step)}  # fmt: skip

    assert kinds[Caesarean] == 0
    assert kinds[Finished] == 1
    assert sum(one.count for one in _afterbirths(night)) == len(births(night))
    assert not litter.ledger.owed
    assert not litter.ledger.surplus
    for birth in births(night):
        alive = birth.state != "dead"
        assert (("breathing", birth.pup) in done) == alive
        assert (("milk", birth.pup) in done) == alive
        assert not birth.in_sac or ("sac-open", birth.pup) in done


def _afterbirths(night: Imagined) -> list[Afterbirth]:
    return [entry.what for entry in night.entries if isinstance(entry.what, Afterbirth)]


@MANY
@given(normal_night)
def test_each_pup_is_weighed_once_and_weighs_what_its_breed_does(night: Imagined) -> None:
    """Within four standard deviations of the published mean of the breed."""
    dam = next(entry.what for entry in night.entries if isinstance(entry.what, Details))
    mean, spread = SPREAD[str(dam.breed)]
    weights = [(one.pup, one.weight) for one in births(night) if one.weight is not None]
    weights += [(entry.what.pup or 0, entry.what.grams) for entry in night.entries
                if isinstance(entry.what, Weight)]  # fmt: skip

    assert sorted(pup for pup, _ in weights) == [one.pup for one in births(night)]
    assert all(abs(float(grams) - mean) < 4 * spread for _, grams in weights)


@MANY
@given(normal_night)
def test_steps_come_after_their_birth(night: Imagined) -> None:
    """Nothing is done to a pup that is not there yet, and no afterbirth comes before its pup."""
    born: set[int] = set()
    afterbirths = 0
    for entry in night.entries:
        match entry.what:
            case Birth(pup=pup):
                born.add(pup)
            case Step(pup=pup) | Weight(pup=int(pup)):
                assert pup in born
            case Afterbirth(count=count):
                afterbirths += count
                assert afterbirths <= len(born)
            case _:
                pass


_LOST = [("none", 75), ("not-breathing", 100545), ("stuck-in-sac", 100612)]
"""Nights in which something was once said that a dead litter does not do."""


@pytest.mark.parametrize("trouble", ["none", *TROUBLES])
def test_nothing_is_said_of_the_dead_that_only_the_living_do(trouble: str) -> None:
    """Over 120 nights of each trouble and of none: no word, no step and no weight after a death."""
    seeds = [*range(120), *(seed for name, seed in _LOST if name == trouble)]
    for seed in seeds:
        _holds_true_of_the_dead(imagine(seed, trouble=trouble))


@MANY
@given(any_night | normal_night)
def test_nor_in_any_other_night(night: Imagined) -> None:
    """The same in whatever night is drawn."""
    _holds_true_of_the_dead(night)


def _holds_true_of_the_dead(night: Imagined) -> None:
    living: set[int] = set()
    dead: set[int] = set()
    drunk: set[int] = set()
    for entry in night.entries:
        match entry.what:
            case Birth(pup=pup, state=state):
                (dead if state == "dead" else living).add(pup)
            case Death(pup=pup):
                assert pup in living
                living.remove(pup)
                dead.add(pup)
            case Step(pup=pup, step=step):
                assert pup in living, entry.text
                drunk |= {pup} if step == "milk" else set()
            case Weight(pup=int(pup)):
                assert pup in living or _dead_at_birth(night, pup), entry.text
            case Round(weights=weights):
                assert {one.pup for one in weights} <= living, entry.text
            case VetContact(said=said):
                assert not dead or "all well" not in said, entry.text
            case Note(words=words) if not words.startswith("told the vet"):
                assert len(living) > 1 or "the pups" not in words, entry.text
                assert living & drunk or "nurses" not in words, entry.text
            case _:
                pass


def _dead_at_birth(night: Imagined, pup: int) -> bool:
    """Such a pup may be weighed once, for the record of its birth."""
    return any(one.pup == pup and one.state == "dead" for one in births(night))


@pytest.mark.parametrize("trouble", TROUBLES)
def test_the_vet_is_not_given_words_that_the_caller_said(trouble: str) -> None:
    """Behind ``vet called`` stands what the vet answered; what was told has a line of its own."""
    answers = {"", "come in now", "a check agreed for tomorrow",
               "all well, a check agreed for tomorrow"}  # fmt: skip
    for seed in range(30):
        entries = imagine(seed, trouble=trouble).entries
        for entry, follows in pairwise(entries):
            if isinstance(entry.what, VetContact) and entry.what.contact == "called":
                assert entry.what.said in answers
                if "agreed" not in entry.what.said:
                    assert isinstance(follows.what, Note)
                    assert follows.what.words.startswith("told the vet: ")


def test_the_clock_never_changes_in_a_night() -> None:
    """No night is near a change of the clocks, so that each clock time says one instant."""
    for seed in range(400):
        entries = imagine(seed, trouble="low-calcium" if seed % 2 else "overdue").entries
        lines = [entry for entry in entries if entry.certainty != "day"]
        offsets = {_offset(entry.at, entry.zone) for entry in (lines[0], lines[-1])}
        assert len(offsets) == 1


def _offset(at: datetime, zone: str) -> timedelta | None:
    return at.astimezone(ZoneInfo(zone)).utcoffset()


@pytest.mark.parametrize("size", SIZES)
def test_the_size_asked_for_is_the_size_of_the_dam(size: Size) -> None:
    """Her breed and her weight fit it."""
    breeds = {breed.name for breed in BREEDS if breed.size == size}
    for seed in range(30):
        night = imagine(seed, size=size)
        dam = next(entry.what for entry in night.entries if isinstance(entry.what, Details))
        assert night.size == size
        assert dam.breed in breeds

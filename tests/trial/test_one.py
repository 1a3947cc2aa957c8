"""One night under one protocol, counted by hand."""

from datetime import timedelta

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from boxlamp.engine import history_as_known
from boxlamp.imagine import TROUBLES
from boxlamp.model.happenings import Limit
from boxlamp.model.levels import Level
from boxlamp.rules.registry import BY_ID
from boxlamp.trial import one
from boxlamp.trial.one import Flag, Outcome, Raised, Side, outcome, with_limits
from boxlamp.trial.plan import BrokenNight, Nights
from support.nights import DEFAULT
from support.trials import MADE, STRICT, USUAL, changed, handmade

GAP, WATERS = "gap-more-expected", "waters-no-pup"
PUSH, QUIET = "contraction-no-pup", "log-quiet"
WATCH, CALL, GO = Level.WATCH, Level.CALL, Level.GO

BY_HAND = {
    0: Outcome(()),
    1: Outcome(
        (Raised(PUSH, WATCH, 1), Raised(PUSH, CALL, 1), Raised(PUSH, GO, 1),
         Raised(QUIET, WATCH, 1)),
        Flag(PUSH, after=20, before=20),
        told=20,
    ),
    2: Outcome((Raised(PUSH, WATCH, 1),)),
    3: Outcome((), missed=True),
    4: Outcome((Raised(PUSH, WATCH, 1), Raised(PUSH, CALL, 1), Raised(QUIET, WATCH, 1))),
    5: Outcome(
        (Raised(PUSH, WATCH, 1), Raised(PUSH, CALL, 1), Raised(PUSH, GO, 1),
         Raised(QUIET, WATCH, 1)),
        already=True,
        told=0,
    ),
}  # fmt: skip


@pytest.mark.parametrize("number", BY_HAND)
def test_a_night_is_counted_as_by_hand(number: int) -> None:
    """Every level that came, the flag to its minute, and a call that only still stood."""
    assert outcome(handmade(number), USUAL) == BY_HAND[number]


def test_a_stricter_limit_catches_the_short_night() -> None:
    """Eight minutes in, four before its end."""
    assert outcome(handmade(3), STRICT).flag == Flag(PUSH, after=8, before=4)


def test_a_call_in_the_last_second_is_too_late() -> None:
    """What is raised when the trouble has run its course flags nothing."""
    just = Side("own", DEFAULT, (changed("watch", 5), changed("call", 12)))
    before = Side("own", DEFAULT, (changed("watch", 5), changed("call", 11.9)))

    assert outcome(handmade(3), just).flag is None
    assert outcome(handmade(3), before).flag == Flag(PUSH, after=11, before=0)


def test_a_call_in_the_first_second_counts() -> None:
    """What is raised at the moment at which the trouble begins is raised in it."""
    night = handmade(5)
    go = Side("own", DEFAULT, (changed("go", 32, "weak-contraction-no-pup"),))
    early = night._replace(troubled=night.entries[-1].at)

    assert outcome(early, go).flag == Flag(PUSH, after=20, before=16)


def test_a_vets_limit_is_in_force_as_the_record_would_have_it() -> None:
    """It stands in the night from the beginning, and a rule that is never relaxed keeps its own."""
    slow = Side("own", DEFAULT, (changed("call", 60), changed("go", 90)))

    assert outcome(handmade(1), slow) == outcome(handmade(1), USUAL)
    entries = with_limits(handmade(1).entries, STRICT.limits)
    assert [entry.what for entry in entries if isinstance(entry.what, Limit)] == [*STRICT.limits]
    assert len({entry.id for entry in entries}) == len(entries)


def test_a_watch_is_no_flag_but_no_silence_either() -> None:
    """A trouble that is over after 18 minutes had its watch at 15; after 15 it had none."""
    longer, just = (
        handmade(3)._replace(ended=handmade(3).ended + timedelta(minutes=more)) for more in (6, 3)
    )

    assert outcome(longer, USUAL) == Outcome((Raised(PUSH, WATCH, 1),), missed=True, watched=True)
    assert not outcome(just, USUAL).watched


def test_a_rule_that_fails_is_no_alert(monkeypatch: pytest.MonkeyPatch) -> None:
    """At the box a failing rule is a loud finding; a trial ends with the night's name instead."""
    rule = BY_ID[PUSH]

    def failing(entries: object, protocol: object, until: object) -> object:
        steps = history_as_known(entries, protocol, until)  # type: ignore[arg-type]
        spoilt = steps[0].spell._replace(clock="failure", detail="KeyError: 3")
        return [steps[0]._replace(spell=spoilt, rule=rule)]

    monkeypatch.setattr(one, "history_as_known", failing)
    with pytest.raises(BrokenNight, match=r"--seed 1 --trouble stuck"):
        outcome(handmade(1), USUAL)


SOONER = {
    "contraction-no-pup": (changed("watch", 3), changed("call", 6)),
    "gap-more-expected": (changed("watch", 20, GAP), changed("call", 40, GAP)),
    "waters-no-pup": (changed("watch", 10, WATERS), changed("call", 20, WATERS)),
}


@pytest.mark.parametrize("rule", SOONER)
def test_a_sooner_limit_never_misses_more_of_any_trouble(rule: str) -> None:
    """Sooner than the default even where a risk tightens that: no imagined night is lost."""
    sooner = Side("own", DEFAULT, SOONER[rule])
    for index in range(1, 2 * len(TROUBLES), 2):
        night = Nights(3)(index)

        strict, usual = outcome(night, sooner), outcome(night, USUAL)
        assert not strict.missed or usual.missed
        assert usual.told is None or (strict.told is not None and strict.told <= usual.told)


@settings(deadline=None)
@given(st.integers(0, len(MADE) - 1), st.integers(0, 30), st.integers(0, 30))
def test_a_stricter_limit_never_misses_more(number: int, one_: int, other: int) -> None:
    """With a sooner call nobody is told to ring later, and no night is missed that was not."""
    night = handmade(number)
    sooner, later = (
        outcome(
            night,
            Side("own", DEFAULT, (changed("watch", 0), changed("call", at), changed("go", 30))),
        )
        for at in sorted((one_, other))
    )
    assert not sooner.missed or later.missed
    if later.told is not None:
        assert sooner.told is not None
        assert sooner.told <= later.told

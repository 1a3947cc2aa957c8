"""When anybody is to be rung, the screen says so and gives the number, whatever else stands."""

from datetime import UTC, datetime, timedelta
from typing import get_args

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from boxlamp.engine import Verdict, assess
from boxlamp.imagine import TROUBLES, imagine
from boxlamp.language import read_night
from boxlamp.model.entry import Entry
from boxlamp.model.levels import Level
from boxlamp.model.seen import DamSign, PupSign
from boxlamp.model.story import Story
from boxlamp.view.alert_lines import by_hand
from boxlamp.view.board import Board, board
from boxlamp.view.layout import fitted
from boxlamp.view.said import changed_lines
from boxlamp.view.words import to_the_vet
from support.nights import DEFAULT

DAY, NIGHT = "01234 567890", "+420 601 123 456"
VET = f"Dr Novak night {NIGHT} day {DAY}, 25 min away"
SCREENS = ((80, 24), (80, 20), (60, 20), (40, 15))
BIRTHS = timedelta(minutes=5)
BEGUN = datetime(2026, 3, 2, 1, 0, tzinfo=UTC)


def drawn(verdict: Verdict, entries: tuple[Entry, ...]) -> Board:
    """The board, with a vet to ring unless the vet is with her."""
    model = board(verdict, entries, UTC)
    return model._replace(vet="" if verdict.litter.with_vet(verdict.at) else VET)


def check(model: Board) -> None:
    """On every screen the gravest alert says whom to ring or that one must leave, and a number."""
    worst = max((alert.level for alert in model.alerts), default=Level.WATCH)
    if worst < Level.CALL:
        return
    gravest = [one for one in model.alerts if one.level is worst]
    steps = [step for one in gravest for step in one.do if to_the_vet(step)]
    for width, height in SCREENS:
        lines = ["".join(part for _, part in line) for line in fitted(model, width, height)]
        words = " ".join(" ".join(lines).split())
        assert any(step in words for step in steps), (width, lines)
        assert any(line.lstrip().startswith(f"{worst.mark} ") for line in lines), (width, lines)
        assert not model.vet or any(DAY in line or NIGHT in line for line in lines)
        if by_hand(model.alerts[0]):
            assert model.alerts[0].do[0] in words


@settings(max_examples=60, deadline=None)
@given(seed=st.integers(0, 2**40), trouble=st.sampled_from(TROUBLES), share=st.floats(0, 1))
def test_on_imagined_nights(seed: int, trouble: str, share: float) -> None:
    """At any moment of a troubled night."""
    night = imagine(seed, trouble=trouble)
    begun = night.troubled or night.entries[0].at
    at = (begun + share * (night.ended + timedelta(hours=2) - begun)).replace(microsecond=0)
    story = Story(night.entries).until(at)

    check(drawn(assess(story, DEFAULT).verdict(at), story.entries))


TOLD = st.tuples(
    st.integers(1, 14), st.sets(st.sampled_from(get_args(PupSign)), min_size=1, max_size=2)
)


@settings(max_examples=120, deadline=None)
@given(
    pups=st.integers(1, 14),
    told=st.lists(TOLD, max_size=8),
    dam=st.sets(st.sampled_from(get_args(DamSign)), max_size=2),
    heard=st.booleans(),
    later=st.integers(0, 90),
)
def test_in_large_litters(
    pups: int, told: list[tuple[int, set[PupSign]]], dam: set[DamSign], *, heard: bool, later: int
) -> None:
    """However many pups are ill at once, and whatever the dam shows."""
    lines = [f"{BEGUN + BIRTHS * n:%H:%M} pup {300 + n}g" for n in range(pups)]
    last = BEGUN + BIRTHS * pups
    lines += [f"{last:%H:%M} state {pup} {' '.join(sorted(signs))}" for pup, signs in told
              if pup <= pups]  # fmt: skip
    if heard:
        lines.append(f"{last:%H:%M} ack")
    lines += [f"{last + timedelta(minutes=1):%H:%M} dam {sign}" for sign in sorted(dam)]
    night = read_night("\n".join(["dam: Ash", "date: 2026-03-02", "zone: UTC", "", *lines, ""]))
    at = last + timedelta(minutes=1, seconds=later * 20)

    check(drawn(assess(Story(night.entries), DEFAULT).verdict(at), night.entries))


@pytest.mark.parametrize("screen", SCREENS)
def test_five_to_be_helped_stand_above_a_call(screen: tuple[int, int]) -> None:
    """What hands do at once is said first, then the call with its number; the rest is counted."""
    lines = [f"{BEGUN + BIRTHS * n:%H:%M} pup {300 + n}g" for n in range(12)]
    lines += ["03:00 state 1 limp", *(f"03:01 state {pup} not-breathing" for pup in range(7, 12))]
    night = read_night("\n".join(["dam: Ash", "date: 2026-03-02", "zone: UTC", "", *lines, ""]))
    verdict = assess(Story(night.entries), DEFAULT).verdict(BEGUN + timedelta(hours=2, minutes=1))
    model = drawn(verdict, night.entries)
    words = " ".join("".join(part for _, part in line).strip() for line in fitted(model, *screen))

    assert [alert.level for alert in model.alerts[:6]] == [Level.WATCH] * 5 + [Level.CALL]
    assert words.index("Help pup 10 breathe") < words.index("Head low: clear the mouth")
    assert words.index("Head low: clear the mouth") < words.index("Limp for 1 min: pup 1.")
    assert words.index("Limp for 1 min: pup 1.") < words.index("Ring the vet now.")
    assert NIGHT in words


def test_what_to_do_is_kept_where_it_is_said_once_for_several() -> None:
    """Of two alike the upper one may be heard; its steps, said for both, stay on the screen."""
    night = read_night("dam: Ash\ndate: 2026-03-02\nzone: UTC\n\n01:00 dam collapsed\n")
    model = drawn(assess(Story(night.entries), DEFAULT).verdict(BEGUN), night.entries)
    upper = model.alerts[0]._replace(heard="01:00")
    lower = upper._replace(do=(), heard="")
    watches = [upper._replace(level=Level.WATCH, message=f"Title {n}.") for n in range(12)]

    check(model._replace(alerts=(upper, lower, *watches)))


def test_the_answer_to_a_line_says_whom_to_ring_too() -> None:
    """A call that stood before keeps what to do below the pup that hands must help now."""
    lines = ["02:00 pup", "02:05 pup", "03:30 state 1 limp", "03:31 state 2 not-breathing"]
    night = read_night("\n".join(["dam: Ash", "date: 2026-03-02", "zone: UTC", "", *lines, ""]))
    verdict = assess(Story(night.entries), DEFAULT).verdict(night.entries[-1].at)
    raised = [one for one in verdict.alerts if one.rule.id == "not-breathing"]
    told = [line.strip() for line in changed_lines(verdict, raised, UTC)]

    assert told[0].startswith("! WATCH 03:31 Help pup 2 breathe now")
    call = next(place for place, line in enumerate(told) if line.startswith("!! CALL"))
    assert told[call + 1].startswith("Ring the vet now.")
    assert list(changed_lines(verdict._replace(alerts=()), [], UTC)) == []

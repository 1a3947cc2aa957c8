"""The balance of births and afterbirths on paper."""

import pytest
from hypothesis import given, settings

from boxlamp.model.entry import Entry
from boxlamp.paper.account.afterbirths import afterbirths_of
from boxlamp.paper.account.models import Afterbirths
from boxlamp.paper.account.pups import pups_of
from support.accounts import matter_of
from support.made import STREAMS
from support.short_nights import judged

THREE = "02:00 pup\n02:10 pup\n02:20 pup\n"


def balance(pups: int, passed: int, owed_by: tuple[int, ...] = (), **more: object) -> Afterbirths:
    """A balance with nothing else to say unless it is given."""
    return Afterbirths.model_validate(
        {"pups": pups, "passed": passed, "owed_by": owed_by, "not_seen_of": (), **more}
    )


@pytest.mark.parametrize(
    ("lines", "expected"),
    [
        (THREE, balance(3, 0, (1, 2, 3))),
        (f"{THREE}02:30 afterbirth x2\n", balance(3, 2, (3,))),
        (f"{THREE}02:30 afterbirth of 2 eaten\n", balance(3, 1, (1, 3))),
        (f"{THREE}02:30 afterbirth of 2 not seen\n", balance(3, 0, (1, 3), not_seen_of=(2,))),
        ("02:00 pup\n02:10 afterbirth x2\n", balance(1, 2, surplus=1)),
        ("02:00 push\n02:10 afterbirth\n02:20 pup\n", balance(1, 1)),
        ("02:00 pup dead\n", balance(1, 0, (1,))),  # a stillborn pup owes one too
        ("02:00 pup\n03:00 caesarean\n03:05 pup\n", balance(2, 0, with_caesarean=(1, 2))),
        ("03:00 caesarean\n03:05 pup\n03:06 afterbirth\n", balance(1, 1, with_caesarean=(1,))),
        ("02:00 rest\n", balance(0, 0)),
    ],
)
def test_the_balance(lines: str, expected: Afterbirths) -> None:
    """Seen and eaten ones have passed; what was not seen is answered; the rest is owed."""
    assert afterbirths_of(judged(lines)) == expected


def test_pups_stand_in_order_of_birth() -> None:
    """A pup that was added later stands where it was born."""
    lines = "02:00 pup\n03:00 pup\n2026-03-02 02:30 pup\n"
    assert afterbirths_of(judged(lines)).owed_by == (1, 3, 2)


@settings(max_examples=80, deadline=None)
@given(STREAMS)
def test_the_balance_agrees_with_the_pups(entries: tuple[Entry, ...]) -> None:
    """Whoever owes by the balance owes by the pup's own account, and likewise the others."""
    matter = matter_of(entries)
    found, pups = afterbirths_of(matter), pups_of(matter)
    for answer, numbers in (
        ("owed", found.owed_by),
        ("not-seen", found.not_seen_of),
        ("caesarean", found.with_caesarean),
    ):
        assert numbers == tuple(one.number for one in pups if one.afterbirth == answer)
    settled = sum(one.afterbirth in {"seen", "eaten"} for one in pups)
    assert found.pups == len(pups)
    assert settled <= found.passed

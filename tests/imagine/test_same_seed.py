"""The same seed is the same night, everywhere and always."""

import ast
import pickle
from hashlib import sha256
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

import boxlamp.imagine
from boxlamp.imagine import SIZES, TROUBLES, Size, imagine
from boxlamp.imagine.dice import Dice

ROOM = Path(str(boxlamp.imagine.__file__)).parent
PINNED = {
    (1, "small", "none"): "514ba7e25e802f8a",
    (7, "large", "long-gap"): "b9c50cd6c7ef83e2",
    (42, "giant", "low-calcium"): "4c57c45326fc29bc",
    (2026, "medium", "overdue"): "e235957ebc2ec60d",
}


@pytest.mark.parametrize("drawn", PINNED)
def test_these_nights_stay_as_they_are(drawn: tuple[int, str, str]) -> None:
    """A night that somebody has drilled or quoted by its seed does not change unseen."""
    seed, size, trouble = drawn
    night = imagine(seed, size=_size(size), trouble=trouble)
    # What a night teaches may be told in better words; the night itself stays.
    told = "\n".join(line for line in night.text.split("\n") if not line.startswith("lesson: "))

    assert sha256(told.encode()).hexdigest()[:16] == PINNED[drawn]


def _size(name: str) -> Size:
    return next(size for size in SIZES if size == name)


@settings(deadline=None)
@given(st.integers(min_value=0, max_value=2**70))
def test_what_is_drawn_anyway_may_as_well_be_asked_for(seed: int) -> None:
    """The size and the trouble at the top of a night give the same night again."""
    night = imagine(seed)

    assert imagine(seed, size=night.size, trouble=night.trouble or "none") == night


@settings(deadline=None)
@given(st.integers(min_value=0, max_value=10**6), st.sampled_from((*TROUBLES, "none")))
def test_a_night_can_be_handed_to_another_process(seed: int, trouble: str) -> None:
    """Pickled and unpickled it is the same night."""
    night = imagine(seed, trouble=trouble)

    assert pickle.loads(pickle.dumps(night)) == night  # noqa: S301 - our own bytes


def test_other_seeds_are_other_nights() -> None:
    """No two of a thousand nights are the same."""
    assert len({imagine(seed).entries for seed in range(1000)}) == 1000


@pytest.mark.parametrize(
    ("seed", "size", "trouble", "told"),
    [
        (-1, None, None, "A seed is 0 or more, not -1."),
        (1, "tiny", None, "There is no size 'tiny'"),
        (1, None, "bad-luck", "There is no trouble 'bad-luck'"),
    ],
)
def test_what_cannot_be_drawn_is_refused(
    seed: int, size: str | None, trouble: str | None, told: str
) -> None:
    """In a sentence that says what there is."""
    with pytest.raises(ValueError, match=told):
        imagine(seed, size=size, trouble=trouble)  # type: ignore[arg-type]


class TestDice:
    """Every draw is made of plain numbers between 0 and 1, and no others."""

    def test_a_share_is_that_share(self) -> None:
        """Of 20,000 draws, within four standard errors."""
        dice = Dice(5)
        assert sum(dice.chance(0.16) for _ in range(20_000)) / 20_000 == pytest.approx(
            0.16, abs=4 * (0.16 * 0.84 / 20_000) ** 0.5
        )

    def test_weights_and_ends(self) -> None:
        """Each choice by its weight; whole numbers reach both ends."""
        dice = Dice(6)
        drawn = [dice.weighted((("a", 3.0), ("b", 1.0), ("c", 0.0))) for _ in range(8000)]
        assert drawn.count("a") / 8000 == pytest.approx(0.75, abs=4 * (0.75 * 0.25 / 8000) ** 0.5)
        assert "c" not in drawn
        assert {dice.whole(2, 5) for _ in range(500)} == {2, 3, 4, 5}

    def test_weights_are_summed_alike_everywhere(self) -> None:
        """No float is summed by ``sum``, which rounds one way in Python 3.11, another in 3.12."""
        calls = [
            node
            for path in ROOM.rglob("*.py")
            for node in ast.walk(ast.parse(path.read_text(encoding="utf-8")))
            if isinstance(node, ast.Call) and isinstance(node.func, ast.Name)
        ]

        assert calls
        assert not [call for call in calls if getattr(call.func, "id", "") == "sum"]

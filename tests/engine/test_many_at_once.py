"""Many spells of one rule that stand at once: the gravest explains, whatever their number."""

from datetime import datetime, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from boxlamp.engine.life import lives
from boxlamp.engine.standing import Standing
from boxlamp.model.levels import ALERTS
from boxlamp.rules.spell import Spell
from support.made import at

_SOME = st.lists(
    st.tuples(
        st.sampled_from(ALERTS), st.integers(0, 8), st.none() | st.integers(0, 5), st.integers(0, 2)
    ),
    max_size=12,
)
"""Level, minute of the start, minutes until the end, and how grave the clock is."""


def standing(place: int, level: int, start: float, lasts: float | None, rank: int) -> Standing:
    """One standing, told from the others by the number of its entry."""
    begin, end = at(start), None if lasts is None else at(start + lasts)
    spell = Spell("x", "dam", str(rank), begin, begin, end, (place,))
    return Standing(spell, ALERTS[level], begin, end, timedelta(0))


@given(_SOME)
def test_at_every_moment_the_gravest_explains_it(
    told: list[tuple[int, int, int | None, int]],
) -> None:
    """The highest level; of one level the gravest clock, then the newest, then the first told."""
    mine = [
        standing(place, ALERTS.index(level), start, lasts, rank)
        for place, (level, start, lasts, rank) in enumerate(told)
    ]

    def expected(now: datetime) -> Standing | None:
        stand = [own for own in mine if own.holds(now)]
        return max(
            stand, key=lambda own: (own.level, -int(own.spell.clock), own.start), default=None
        )

    found = lives(mine, [], lambda spell: int(spell.clock))
    for half in range(30):
        now = at(half / 2)
        top = expected(now)
        level = found[0].level_at(now) if found else None
        assert level == (top.level if top else None)
        if top is not None:
            assert found[0].stretch_at(now).cause_at(now) is top


def test_the_work_grows_with_their_number_and_not_with_its_square(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    """Each is looked at a few times, however many still stand beside it."""
    holds, looks = Standing.holds, 0

    def counted(own: Standing, now: datetime) -> bool:
        nonlocal looks
        looks += 1
        return holds(own, now)

    monkeypatch.setattr(Standing, "holds", counted)
    mine = [standing(place, 1, place, None, 0) for place in range(500)]
    ended = [standing(place, 0, place, 700 - place, 0) for place in range(500)]
    lives([*mine, *ended], [])

    assert 0 < looks <= 4 * 1000

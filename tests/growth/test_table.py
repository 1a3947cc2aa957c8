"""The weight table: what each row says, against plain arithmetic."""

from datetime import UTC, datetime
from decimal import Decimal

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from boxlamp.growth.latest import Gain, latest
from boxlamp.growth.table import PupGrowth, WeightTable
from boxlamp.model.happenings import Birth, Death, Milestone, What
from support.growing import BRAMBLE, born, bramble, made, table_of, weighed
from support.made import at

DAY = 24 * 60
GRAMS = st.decimals(Decimal(60), Decimal(2000), places=1)
SERIES = st.lists(st.tuples(st.integers(0, 60_000), GRAMS), min_size=1, max_size=12,
                  unique_by=lambda line: line[0])  # fmt: skip


def row(table: WeightTable, pup: int) -> PupGrowth:
    """One pup's row."""
    [found] = [each for each in table.pups if each.number == pup]
    return found


@settings(deadline=None)
@given(SERIES)
def test_growth_agrees_with_a_plain_calculation(series: list[tuple[int, Decimal]]) -> None:
    """Growth and gains are what floats give, reckoned anew from the numbers themselves."""
    found = made((0, born(1)), *((minutes, weighed(1, float(g))) for minutes, g in series))
    pup, ordered = row(found, 1), sorted((minutes, float(g)) for minutes, g in series)
    (_, first), (last_minute, newest) = ordered[0], ordered[-1]

    assert pup.latest is not None
    assert float(pup.latest.since_birth) == pytest.approx((newest / first - 1) * 100, abs=1e-9)
    assert pup.latest.late == (ordered[0][0] > 720)
    assert pup.birth == (None if pup.latest.late else Decimal(str(first)))
    earlier = [line for line in ordered if last_minute - line[0] >= 360]
    _agrees(pup.pace, earlier, ordered[-1])
    window = [line for line in ordered if 18 * 60 <= last_minute - line[0] <= 42 * 60]
    _agrees(pup.latest.day, window, ordered[-1])


def _agrees(gain: Gain | None, before: list[tuple[int, float]], last: tuple[int, float]) -> None:
    if not before:
        assert gain is None
        return
    assert gain is not None
    days = (last[0] - before[-1][0]) / DAY
    assert gain.grams_per_day == pytest.approx((last[1] - before[-1][1]) / days)
    grown = before[-1][1] * (1 + gain.percent_per_day / 100) ** days
    assert grown == pytest.approx(last[1], rel=1e-6)


def test_where_each_pup_stands() -> None:
    """The small call for a board: newest weight, growth since birth, gain of about a day."""
    stands = latest(made((0, born(1, 400)), (DAY, weighed(1, 384)), (5, born(2))).verdict)

    assert stands.keys() == {1}
    assert stands[1].grams == 384
    assert stands[1].since_birth == -4
    assert not stands[1].late
    assert stands[1].day is not None
    assert stands[1].day.grams == -16
    assert stands[1].day.percent_per_day == pytest.approx(-4)


def test_the_invented_litter() -> None:
    """Seven rows in order of birth; ten rounds; the figures of the newest one."""
    table = bramble()

    assert [pup.number for pup in table.pups] == [1, 2, 3, 4, 5, 6, 7]
    assert [column.days for column in table.columns] == [0, 1, 2, 3, 3, 4, 5, 6, 7, 8, 9]
    red = row(table, 1)
    assert red.latest is not None
    assert red.pace is not None
    assert float(red.latest.since_birth) == pytest.approx(100 * 570 / 312 - 100)
    assert red.pace.grams == 42
    assert red.days == 9
    assert table.spread is not None
    assert table.spread.total == 570 + 493 + 665 + 563 + 305
    assert table.births is not None
    assert table.births.total == 312 + 298 + 341 + 268 + 305 + 222


def test_a_pup_that_died_keeps_its_row() -> None:
    """Its weights stay, its age stands still, and it counts in no round after its death."""
    table = bramble()
    green = row(table, 4)

    assert green.gone == datetime(2026, 3, 5, 19, 10, tzinfo=UTC)
    assert green.days == 2
    assert len(green.weighings) == 4
    before, after = table.columns[2], table.columns[3]
    assert before.spread is not None
    assert after.spread is not None
    assert (before.spread.weighed, before.spread.of) == (6, 6)
    assert (after.spread.weighed, after.spread.of) == (5, 5)


def test_a_pup_born_dead_has_its_weight_and_no_growth() -> None:
    """It is in the table with its birth weight; it is in no mean and has no growth."""
    table = bramble()
    last = row(table, 7)

    assert last.birth == 190
    assert last.latest is None
    assert table.births is not None
    assert table.births.of == 6


def test_the_table_at_an_earlier_moment() -> None:
    """Only what had happened by then is in it."""
    table = bramble(datetime(2026, 3, 4, 12, tzinfo=UTC))

    assert len(table.columns) == 2
    assert [len(pup.weighings) for pup in table.pups] == [3, 3, 3, 3, 3, 3, 0]


def test_nothing_weighed() -> None:
    """A litter without weights has rows and says so; one without pups has no rows."""
    assert not made((0, born(1)), (5, born(2))).weighed
    assert made((0, born(1, 400))).weighed
    text = BRAMBLE[: BRAMBLE.index("23:10")]
    assert table_of(text, datetime(2026, 3, 2, 23, tzinfo=UTC)).pups == ()


@pytest.mark.parametrize("end", [Death(pup=1), Milestone(milestone="left-home", pup=1)])
def test_a_weight_after_the_end_is_not_counted(end: What) -> None:
    """A pup that died or left home is on no scale; a weight typed after that changes nothing."""
    table = made((0, born(1, 400)), (DAY, end), (2 * DAY, weighed(1, 500)))

    assert len(row(table, 1).weighings) == 1
    assert row(table, 1).gone == at(DAY)


def test_pups_at_the_scale_in_the_same_minute() -> None:
    """Two weights at one instant: the one typed later is the newest, and no gain is made of it."""
    table = made((0, born(1, 400)), (DAY, weighed(1, 410)), (DAY, weighed(1, 420)))
    pup = row(table, 1)

    assert pup.latest is not None
    assert pup.latest.grams == 420
    assert pup.pace is not None
    assert pup.pace.start.grams == 400


def test_birth_order_and_numbers() -> None:
    """Rows stand in order of birth, whatever their numbers."""
    table = made((0, Birth(pup=2)), (-30, Birth(pup=1)), (-60, Birth(pup=3)))

    assert [pup.number for pup in table.pups] == [3, 1, 2]

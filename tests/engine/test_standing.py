"""A clock against a limit: half-open spells, and the one comparison."""

from collections.abc import Iterable, Mapping
from datetime import datetime, timedelta

from hypothesis import given
from hypothesis import strategies as st

from boxlamp.engine.standing import Standing, reached, runs, standings
from boxlamp.model.levels import Level
from boxlamp.protocol.book import BEGINNING, Book, Page
from boxlamp.rules.spell import Spell
from support.made import at
from support.nights import DEFAULT, SECOND

KEY = ("slow", "main")
Limits = Mapping[Level, float]
"""Minutes by level."""


def book(*pages: tuple[datetime, Limits]) -> Book:
    """Limits as they changed over time."""
    return Book(
        DEFAULT,
        tuple(
            Page(
                start,
                {KEY: {level: timedelta(minutes=span) for level, span in limits.items()}},
                (),
            )
            for start, limits in pages
        ),
    )


def spell(
    start: float,
    end: float | None = None,
    *,
    since: float | None = None,
    level: Level | None = None,
) -> Spell:
    """A spell from one minute to another."""
    return Spell(
        *("slow", "dam", "main"),
        since=at(start if since is None else since),
        start=at(start),
        end=None if end is None else at(end),
        opened=(1,),
        level=level,
    )


def told(found: Iterable[Standing]) -> list[tuple[Level, datetime, datetime | None]]:
    return sorted((own.level, own.start, own.end) for own in found)


ALL_NIGHT = book((BEGINNING, {Level.WATCH: 10, Level.CALL: 20}))


def test_a_moment_comes_at_its_second() -> None:
    """Not one second before, and still one second after."""
    assert [reached(at(10) + offset, at(10)) for offset in (-SECOND, SECOND * 0, SECOND)] == [
        False, True, True
    ]  # fmt: skip


def test_a_spell_is_half_open() -> None:
    """It runs at its start and no longer at its end."""
    own = spell(0, 10)
    assert [runs(own, at(minute)) for minute in (0, 5, 10)] == [True, True, False]
    assert not runs(own, at(0) - SECOND)
    assert runs(spell(0), at(100_000))


def test_a_level_is_raised_at_start_and_limit() -> None:
    """And stands until the spell ends."""
    assert told(standings(spell(0, 60), ALL_NIGHT)) == [
        (Level.WATCH, at(10), at(60)),
        (Level.CALL, at(20), at(60)),
    ]
    (watch, _) = standings(spell(0, 60), ALL_NIGHT)
    assert [watch.holds(at(minute)) for minute in (9, 10, 59, 60)] == [False, True, True, False]


def test_an_end_in_the_second_of_the_limit_comes_in_time() -> None:
    """One second later it does not."""
    assert told(standings(spell(0, 10), ALL_NIGHT)) == []
    late = Spell("slow", "dam", "main", at(0), at(0), at(10) + SECOND, (1,))
    assert told(standings(late, ALL_NIGHT)) == [(Level.WATCH, at(10), at(10) + SECOND)]


def test_an_open_spell_stands_open() -> None:
    """Nothing ends it that has not been written down."""
    assert told(standings(spell(0), ALL_NIGHT))[0] == (Level.WATCH, at(10), None)


def test_a_clock_that_counts_from_earlier_raises_nothing_before_its_start() -> None:
    """What was long true when it came to matter stands at once, and not before."""
    assert told(standings(spell(15, 60, since=0), ALL_NIGHT)) == [
        (Level.WATCH, at(15), at(60)),
        (Level.CALL, at(20), at(60)),
    ]


def test_a_spell_of_no_length_raises_nothing() -> None:
    """Not even at a limit of zero, nor with a level of its own."""
    at_once = book((BEGINNING, {Level.WATCH: 0}))
    assert told(standings(spell(5, 5), at_once)) == []
    assert told(standings(spell(5, 5, level=Level.GO), at_once)) == []
    assert told(standings(spell(5, 6), at_once)) == [(Level.WATCH, at(5), at(6))]


def test_a_spell_with_its_own_level_needs_no_limit() -> None:
    """A reading out of band stands from its start to its end."""
    assert told(standings(spell(5, 9, level=Level.GO), ALL_NIGHT)) == [(Level.GO, at(5), at(9))]


def held(start: float, end: float | None = None) -> Spell:
    """A clock that counted from zero up to a minute, and is held there."""
    return spell(start, end, since=0)._replace(held=True)


def test_a_held_clock_keeps_the_level_it_had_reached_and_reaches_no_other() -> None:
    """From its start to its end; what comes after the start is not counted."""
    assert told(standings(held(15), ALL_NIGHT)) == [(Level.WATCH, at(15), None)]
    assert told(standings(held(25, 60), ALL_NIGHT)) == [
        (Level.WATCH, at(25), at(60)),
        (Level.CALL, at(25), at(60)),
    ]


def test_a_clock_held_in_the_second_of_a_limit_is_held_in_time() -> None:
    """One second later the level had stood."""
    assert told(standings(held(10), ALL_NIGHT)) == []
    late = held(10)._replace(start=at(10) + SECOND)
    assert told(standings(late, ALL_NIGHT)) == [(Level.WATCH, at(10) + SECOND, None)]


def test_a_held_clock_is_held_against_the_limits_in_force_just_before() -> None:
    """What changes in that second or after it neither raises nor lowers what stood."""
    for change, levels in (
        (11.9, [Level.WATCH, Level.CALL]),
        (12, [Level.WATCH]),
        (20, [Level.WATCH]),
    ):
        tighter = book(
            (BEGINNING, {Level.WATCH: 10, Level.CALL: 20}),
            (at(change), {Level.WATCH: 5, Level.CALL: 10}),
        )
        found = told(standings(held(12), tighter))
        assert [(level, start) for level, start, _ in found] == [
            (level, at(12)) for level in levels
        ]


def test_a_clock_nobody_gave_a_limit_raises_nothing() -> None:
    """The protocol knows no such clock."""
    assert told(standings(spell(0, 99), book((BEGINNING, {})))) == []


def test_a_limit_tightened_while_the_clock_runs_raises_at_the_change() -> None:
    """The clock had already run longer than the new limit allows."""
    changing = book((BEGINNING, {Level.WATCH: 30}), (at(12), {Level.WATCH: 5}))
    assert told(standings(spell(0, 60), changing)) == [(Level.WATCH, at(12), at(60))]


def test_a_limit_tightened_before_it_is_reached_is_the_one_that_counts() -> None:
    """Later than the change, at the new limit."""
    changing = book((BEGINNING, {Level.WATCH: 30}), (at(2), {Level.WATCH: 5}))
    assert told(standings(spell(0, 60), changing)) == [(Level.WATCH, at(5), at(60))]


def test_a_limit_loosened_while_an_alert_stands_clears_it_at_the_change() -> None:
    """And it comes back at the new limit."""
    changing = book((BEGINNING, {Level.WATCH: 10}), (at(12), {Level.WATCH: 30}))
    assert told(standings(spell(0, 60), changing)) == [
        (Level.WATCH, at(10), at(12)),
        (Level.WATCH, at(30), at(60)),
    ]


def test_a_change_that_leaves_an_alert_standing_does_not_break_it() -> None:
    """One alert, from its first moment to its last, held against the newest limit."""
    changing = book((BEGINNING, {Level.WATCH: 10}), (at(12), {Level.WATCH: 11}))
    (only,) = standings(spell(0, 60), changing)
    assert (only.start, only.end, only.limit) == (at(10), at(60), timedelta(minutes=11))


def test_a_level_taken_away_is_cleared_at_the_change() -> None:
    """From then on the protocol has no such level."""
    changing = book((BEGINNING, {Level.WATCH: 10}), (at(12), {}))
    assert told(standings(spell(0, 60), changing)) == [(Level.WATCH, at(10), at(12))]


MINUTES = st.integers(0, 90)


@given(
    start=MINUTES,
    length=st.none() | MINUTES,
    earlier=MINUTES,
    pages=st.lists(st.tuples(MINUTES, MINUTES), min_size=1, max_size=4),
    moment=st.integers(-10, 300),
)
def test_standings_agree_with_the_plainest_reading(
    start: int, length: int | None, earlier: int, pages: list[tuple[int, int]], moment: int
) -> None:
    """A level stands when the spell runs and has run as long as the limit of that moment."""
    own = spell(start, None if length is None else start + length, since=start - earlier)
    dated = dict(sorted(pages)[1:])
    limits = book(
        (BEGINNING, {Level.WATCH: min(pages)[1]}),
        *((at(from_), {Level.WATCH: limit}) for from_, limit in dated.items()),
    )
    now = at(moment)
    in_force = [page for page in limits.pages if page.start <= now][-1].spans[KEY][Level.WATCH]
    plainest = runs(own, now) and now - own.since >= in_force
    assert any(standing.holds(now) for standing in standings(own, limits)) == plainest

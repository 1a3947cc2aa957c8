from datetime import timedelta
from itertools import pairwise

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from syrupy.assertion import SnapshotAssertion

from boxlamp.language import read_night
from boxlamp.model.entry import Entry
from boxlamp.model.happenings import Birth, Contraction, Note
from boxlamp.model.levels import Level
from boxlamp.training.bar import Bar, bar_lines, bar_of
from boxlamp.training.screening import Screening, screen
from boxlamp.view.layout import FINE, PLAIN, Line
from boxlamp.view.text import width_of
from support.made import at, entry, told
from support.messy import MESSY
from support.nights import DEFAULT, DEMO


def demo(name: str) -> Screening:
    """A demo night, ready to be shown."""
    text = (DEMO / f"{name}.night").read_text(encoding="utf-8")
    return screen(read_night(text).entries, DEFAULT)


def texts(lines: list[Line]) -> list[str]:
    """What the lines say without any style."""
    return ["".join(part for _, part in line) for line in lines]


def drawn(bar: Bar, minutes: float, width: int = 71, rows: int = 3) -> list[str]:
    """The bar in plain characters, so many minutes after two."""
    return texts(bar_lines(bar, at(minutes), width, PLAIN, rows=rows))


@pytest.mark.parametrize("width", [40, 80, 120])
@pytest.mark.parametrize("name", ["stalled-labour", "fourteen-pups", "eight-weeks"])
def test_the_bar_as_it_looks(name: str, width: int, snapshot: SnapshotAssertion) -> None:
    """In three lines and in two, letter for letter, with now in the middle of it."""
    screening = demo(name)
    bar, now = bar_of(screening), screening.moments[len(screening.moments) // 2].at

    assert "\n".join(
        line for rows in (3, 2) for line in texts(bar_lines(bar, now, width, FINE, rows=rows))
    ) == snapshot  # fmt: skip


def test_everything_stands_at_its_time() -> None:
    """An hour over sixty cells: a cell a minute."""
    entries = told((0, Note()), (10, Contraction()), (28, Birth(pup=1)), (50, Birth(pup=2)))
    bar = bar_of(screen(entries, DEFAULT, until=at(60)))
    width = len("alerts ") + 60 + len(" 03:00")
    pups, alerts, line = drawn(bar, 28, width)

    cell = len("alerts ")
    assert (pups.index("1"), pups.index("2")) == (cell + 28, cell + 50)
    assert alerts[cell + 25] == "!"
    assert line == "02:00  " + "=" * 28 + "|" + "-" * 31 + " 03:00"


def test_pups_close_together_are_told_as_a_range() -> None:
    """No figure is lost, and none touches another."""
    entries = told((0, Note()), *((10 + number, Birth(pup=number)) for number in range(1, 12)))
    bar = bar_of(screen(entries, DEFAULT, until=at(1200)))
    pups, *_ = drawn(bar, 0)

    assert pups.split() == ["pups", "1-11"]


def test_of_alerts_close_together_the_worst_is_seen() -> None:
    """A call that comes a minute after a watch is a call on the bar."""
    entries = told((0, Note()), (100, Contraction()))
    screening = screen(entries, DEFAULT, until=at(2000))
    _, alerts, _ = drawn(bar_of(screening), 0)

    assert Level.GO in {level for _, level in screening.alerts}
    assert "!!!" in alerts


@settings(max_examples=60, deadline=None)
@given(MESSY, st.integers(20, 130), st.sampled_from((2, 3)), st.floats(-0.1, 1.1))
def test_it_fits_and_hides_no_highest_alert(
    entries: tuple[Entry, ...], width: int, rows: int, share: float
) -> None:
    """At any width, at any moment; the mark of the worst level is always there."""
    screening = screen(entries, DEFAULT)
    bar = bar_of(screening)
    now = screening.began + share * (screening.ended - screening.began)
    lines = texts(bar_lines(bar, now, width, PLAIN, rows=rows))

    assert len(lines) == rows
    assert all(width_of(line) <= width for line in lines)
    assert all(line.isascii() for line in lines)
    assert lines[-1].count("|") == 1
    if screening.alerts:
        worst = max(level for _, level in screening.alerts)
        assert worst.mark in lines[-2].split()


@settings(max_examples=60, deadline=None)
@given(MESSY)
def test_later_is_never_further_left(entries: tuple[Entry, ...]) -> None:
    """From 0 at the beginning to 1 at the end, however the quiet days are drawn."""
    screening = screen(entries, DEFAULT)
    bar = bar_of(screening)
    shares = [bar.share(moment.at) for moment in screening.moments]

    assert shares == sorted(shares)
    assert all(0 <= share <= 1 for share in shares)
    assert bar.share(screening.began - timedelta(days=1)) == 0
    assert bar.share(screening.ended) == 1


def test_the_quiet_weeks_leave_room_for_the_night() -> None:
    """The day of birth has a sixth of the bar, though it is one of a hundred and twenty."""
    screening = demo("eight-weeks")
    bar, births = bar_of(screening), screening.births
    day = timedelta(hours=12)
    share = bar.share(births[-1][0] + day) - bar.share(births[0][0] - day)

    assert share > 1 / 6
    assert bar.ends == ("8 Jan", "9 May")
    shares = [bar.share(moment) for moment in bar.moments]
    assert all(before <= after for before, after in pairwise(shares))


def test_a_night_of_one_moment() -> None:
    """Nothing to measure out: now is at its end."""
    bar = bar_of(screen((entry(1, 0, Note()),), DEFAULT, until=at(0)))
    assert drawn(bar, 0, 40)[2].count("|") == 1

from datetime import datetime, timedelta
from zoneinfo import ZoneInfo

import pytest
from hypothesis import given
from hypothesis import strategies as st
from syrupy.assertion import SnapshotAssertion

from boxlamp.engine import assess
from boxlamp.language import read_night
from boxlamp.model.story import Story
from boxlamp.view.temperatures import Temperatures, temperature_lines, temperatures
from boxlamp.view.text import width_of
from support.nights import CASES, DEFAULT, chapters

PRAGUE = ZoneInfo("Europe/Prague")
HEAD = "dam: Ash\nzone: Europe/Prague\ndate: 2026-02-25\n\n"
DAYS = """2026-02-25 08:00 temp 38.2
2026-02-25 20:00 temp 38.0
2026-02-26 08:00 temp 38.1
2026-02-26 20:00 temp 38.3
2026-02-27 08:00 temp 38.0
2026-02-27 20:00 temp 37.9
2026-02-28 08:00 temp 38.2
"""
DROP = f"{DAYS}2026-02-28 20:00 temp 37.1\n2026-02-28 21:00 temp 36.9\n"
AFTER = """2026-03-01 02:00 pup
2026-03-01 03:00 pup
2026-03-01 04:00 finished
2026-03-01 09:00 temp 38.9
2026-03-01 20:00 temp 39.1
2026-03-02 08:00 temp 38.6
"""
NIGHTS = {"waiting": DAYS, "a drop": DROP, "afterwards": DROP + AFTER}


def drawn(lines: str, at: str = "") -> Temperatures | None:
    """What is drawn an hour after the last line, or at a moment."""
    story = Story(read_night(HEAD + lines).entries)
    last = story.entries[-1].at + timedelta(hours=1)
    now = datetime.fromisoformat(at).replace(tzinfo=PRAGUE) if at else last
    found = assess(story.until(now), DEFAULT)
    return temperatures(found.story, found.litter, found.book, now, PRAGUE)


def text_of(curve: Temperatures | None, width: int = 80, *, fine: bool = True) -> str:
    assert curve is not None
    lines = temperature_lines(curve, width, fine=fine)
    return "\n".join("".join(part for _, part in line) for line in lines)


@pytest.mark.parametrize("fine", [True, False])
@pytest.mark.parametrize("name", NIGHTS)
def test_the_curve_as_it_looks(name: str, snapshot: SnapshotAssertion, *, fine: bool) -> None:
    """Day, time, value and bar, one under the other, and the sentence; also without Unicode."""
    assert text_of(drawn(NIGHTS[name]), fine=fine) == snapshot


@pytest.mark.parametrize(
    ("lines", "sentence"),
    [
        (DAYS, "her own mean 38.1 (7 readings, 3 d); a drop is 37.2 or less (1.0 under her"),
        (f"{DAYS}2026-02-28 20:00 temp 38.2\n", "(1.0 under her mean is 37.1)"),
        (DAYS.rpartition("2026-02-28")[0],
         "a drop is 37.2 or less; her own mean needs readings over 3 d (so far 6 over 60 h"),
        (DAYS.replace("temp 38", "temp 39").replace("37.9", "38.9"),
         "her own mean 39.1 (7 readings, 3 d); a drop is 38.1 or less for her (37.2 for any dam)"),
        (AFTER, "highest since the last pup 39.1 (3 readings)"),
    ],
)  # fmt: skip
def test_the_sentence(lines: str, sentence: str) -> None:
    """What is usual for her, what a drop would be, or how high it was since the birth."""
    curve = drawn(lines)

    assert curve is not None
    assert sentence in curve.sentence
    assert curve.sentence.startswith("Her temperature: ")


def test_low_readings_are_marked_as_the_rule_reads_them() -> None:
    """Below the fixed value, or far under her own mean."""
    warm = DAYS.replace("temp 38", "temp 39").replace("37.9", "38.9")
    under_her_own = f"{warm}2026-02-28 20:00 temp 38.1\n2026-02-28 22:00 temp 38.2\n"
    for lines, marks in (
        (DROP, [False] * 7 + [True] * 2),
        (under_her_own, [False] * 7 + [True, False]),
    ):
        curve = drawn(lines)
        assert curve is not None
        assert [one.low for one in curve.readings] == marks
    assert "* low." in text_of(drawn(DROP))
    assert "*" not in text_of(drawn(DAYS))


@pytest.mark.parametrize(
    ("lines", "at"),
    [
        ("2026-02-25 08:00 temp 38.2\n", ""),  # one reading is no curve
        ("2026-02-25 08:00 note quiet\n", ""),
        (f"{DROP}2026-03-01 01:00 push\n", ""),  # in labour the board has other things to show
        (f"{DAYS}{AFTER}", "2026-03-15 03:00:01"),  # two weeks and a second after the last pup
        (f"{DROP}2026-03-01 02:00 pup\n2026-03-01 04:00 finished\n", ""),
    ],
)
def test_when_there_is_nothing_to_draw(lines: str, at: str) -> None:
    """Too little, in labour, or long after it."""
    assert drawn(lines, at) is None


def test_two_weeks_after_it_is_still_drawn() -> None:
    """To the second."""
    assert drawn(DAYS + AFTER, "2026-03-15 03:00:00") is not None


def test_pups_and_the_box_are_not_the_dam() -> None:
    """Only her own readings are drawn."""
    curve = drawn(f"{DAYS}{AFTER}2026-03-02 09:00 temp box 29\n2026-03-02 09:00 temp pup 1 35.9\n")

    assert curve is not None
    assert [float(one.celsius) for one in curve.readings] == [38.9, 39.1, 38.6]


def test_the_published_course_falls_and_rises() -> None:
    """The means of 45 bitches: 38.0, 37.4, 37.0 and 37.4, the third marked low."""
    [case] = chapters(CASES / "published" / "REF-TEMP-PRE-before-whelping.night")
    before = [entry for entry in case.night.entries if entry.what.kind != "birth"]
    found = assess(Story(before), DEFAULT)
    curve = temperatures(found.story, found.litter, found.book, before[-1].at, PRAGUE)

    assert curve is not None
    assert [(float(one.celsius), one.low) for one in curve.readings] == [
        (38.0, False), (37.4, False), (37.0, True), (37.4, False)
    ]  # fmt: skip
    bars = text_of(curve).splitlines()[3].split()
    assert bars[0] > bars[1] == bars[3] > bars[2]


READINGS = st.lists(st.decimals("35.5", "41.5", places=1), min_size=2, max_size=30)


@given(READINGS, st.integers(20, 120), st.booleans())
def test_any_readings_fit_any_width(values: list[float], width: int, fine: bool) -> None:  # noqa: FBT001 - drawn
    """The latest are kept, no line is too wide, and a higher reading has no lower bar."""
    lines = "".join(
        f"2026-02-{10 + place // 24:02}T{place % 24:02}:00:00+01:00 temp {value}\n"
        for place, value in enumerate(values)
    )
    curve = drawn(lines)
    assert curve is not None
    told = text_of(curve, width, fine=fine).splitlines()
    ladder = "▁▂▃▄▅▆▇█" if fine else "_.:-=+%#"

    assert all(width_of(line) <= width for line in told)
    shown = curve.readings[-(width // 7) :]
    assert [cell.rstrip("*") for cell in told[2].split()] == [f"{r.celsius:.1f}" for r in shown]
    heights = [ladder.index(bar[0]) for bar in told[3].split()]
    for one, height in zip(shown, heights, strict=True):
        for other, above in zip(shown, heights, strict=True):
            assert one.celsius > other.celsius or height <= above
    assert fine or all(line.replace("°", "").isascii() for line in told)

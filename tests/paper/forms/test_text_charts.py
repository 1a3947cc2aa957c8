import re

import pytest
from hypothesis import given
from hypothesis import strategies as st

from boxlamp.paper.document import Curve, CurveChart
from boxlamp.paper.forms.text_charts import curves
from boxlamp.paper.forms.text_plot import plot

CALL = 39.7


def dam(*readings: float) -> CurveChart:
    """Readings of the dam a day apart, with the line from which to ring."""
    points = tuple((float(day), celsius) for day, celsius in enumerate(readings))
    return CurveChart("Temperature of the dam", "days", "°C", (Curve("dam", "o", points),),
                      ((CALL, "call from 39.7 °C"),))  # fmt: skip


def drawn(chart: CurveChart) -> tuple[list[str], str]:
    """The lines over the axis, and what the key says of the level."""
    lines = curves(chart, 70, fine=False)
    base = next(at for at, line in enumerate(lines) if re.fullmatch(r" *\|['-]+", line))
    [said] = [line for line in lines if line.startswith("... ")]
    return lines[1:base], said


@pytest.mark.parametrize(
    "readings", [(37.0, 39.6), (36.1, 38.0, 39.6, 38.5), (35.9, 39.6, 38.0), (39.6, 39.5)]
)
def test_a_reading_just_under_a_level_is_drawn_under_it(readings: tuple[float, ...]) -> None:
    """39.6 stands below the line of 39.7, and no word is needed to say so."""
    lines, said = drawn(dam(*readings))
    [level] = [at for at, line in enumerate(lines) if "..." in line]

    assert "o" not in lines[level]
    assert any("o" in line for line in lines[level + 1 :])
    assert said == "... call from 39.7 °C"


def test_what_cannot_be_drawn_apart_is_told() -> None:
    """Where 39.6 and 39.7 share a line, the points stay, and the key says which is below."""
    lines, said = drawn(dam(35.0, 39.6, 39.7, 42.0))
    [level] = [line for line in lines if "..." in line]

    assert level.count("o") == 2
    assert said == "... call from 39.7 °C (39.6, drawn on this line, is below it)"


@given(st.lists(st.integers(350, 420), min_size=1, max_size=12), st.integers(350, 420))
def test_no_reading_is_on_the_wrong_side_of_a_level(tenths: list[int], limit: int) -> None:
    """A reading below a drawn level is under its line, and no other one is, or it is told."""
    level = limit / 10
    points = [(float(day), value / 10) for day, value in enumerate(tenths)]
    made = plot([("o", points)], [level], 70, fine=False)
    if level not in made.drawn:
        return
    row = next(at for at, line in enumerate(made.lines) if "." in line.partition("|")[2])
    above = "".join(line.partition("|")[2] for line in made.lines[:row]).count("o")
    on_it = made.lines[row].partition("|")[2].count("o")

    reached = sum(value >= level for _, value in points)
    assert above <= reached
    assert level in made.touching or above + on_it == reached


def test_one_curve_needs_no_key() -> None:
    """What the title says already is not said again."""
    assert not any("o =" in line for line in curves(dam(38.0, 38.5), 70, fine=False))


def test_one_curve_that_the_title_does_not_name_has_a_key() -> None:
    """The weights of a single pup say whose they are."""
    curve = Curve("pup 1 (red)", "1", ((0.0, 300.0), (1.0, 320.0)))

    assert "1 = pup 1 (red)" in curves(CurveChart("Weights", "", "g", (curve,)), 60, fine=True)


@pytest.mark.parametrize(("width", "rows"), [(80, 5), (60, 7), (24, 14)])
def test_a_long_key_stands_in_columns(width: int, rows: int) -> None:
    """Fourteen names take up to three columns where there is room, and stay whole."""
    signs = "123456789ABCDE"
    many = tuple(
        Curve(f"pup {place} (dark green)", sign, ((0.0, 300.0), (1.0, 320.0 + place)))
        for place, sign in enumerate(signs, start=1)
    )
    key = [line for line in curves(CurveChart("Weights", "", "g", many), width, fine=False)
           if " = pup" in line]  # fmt: skip

    assert len(key) == rows
    assert all(len(line) <= width for line in key)
    for curve in many:
        if width > 24:
            assert f"{curve.sign} = {curve.name}" in "\n".join(key)

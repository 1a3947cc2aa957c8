from itertools import combinations, pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from boxlamp.paper.document import Bar, BarChart, Curve, CurveChart
from boxlamp.paper.forms.lettering import extent, folded, text_width
from boxlamp.paper.forms.plot import bar_picture, curve_picture
from boxlamp.paper.forms.scales import round_scale
from boxlamp.paper.forms.shapes import Box, Dot, Label, Picture, Shape, Stroke
from boxlamp.view.text import clean
from support.documents import bar_charts, curve_charts, texts

WIDTHS = st.floats(300, 700)
HAIR = 0.01


def covered(shape: Shape) -> tuple[float, float, float, float]:
    """What a shape covers: left, top, right, bottom."""
    match shape:
        case Label():
            return extent(shape)
        case Stroke(points=points):
            xs, ys = [x for x, _ in points], [y for _, y in points]
            return min(xs), min(ys), max(xs), max(ys)
        case Box(x=x, y=y, width=width, height=height):
            return x, y, x + width, y + height
        case Dot(x=x, y=y, radius=radius):
            return x - radius, y - radius, x + radius, y + radius


def assert_inside(picture: Picture) -> None:
    for shape in picture.shapes:
        left, top, right, bottom = covered(shape)
        assert left >= -HAIR, shape
        assert top >= -HAIR, shape
        assert right <= picture.width + HAIR, shape
        assert bottom <= picture.height + HAIR, shape


def assert_apart(picture: Picture) -> None:
    labels = [(extent(shape), shape) for shape in picture.shapes if isinstance(shape, Label)]
    for (a, one), (b, other) in combinations(labels, 2):
        apart = (
            a[2] <= b[0] + HAIR or b[2] <= a[0] + HAIR or a[3] <= b[1] + HAIR or b[3] <= a[1] + HAIR
        )
        assert apart, (one, other)


def words_in(picture: Picture) -> str:
    """All words of a picture, in the order in which they were drawn, without gaps."""
    return "".join(
        "".join(shape.text.split()) for shape in picture.shapes if isinstance(shape, Label)
    )


def squeezed(text: str) -> str:
    return "".join(clean(text).split())


@given(bar_charts(), WIDTHS)
def test_bars_stay_inside_and_apart(chart: BarChart, width: float) -> None:
    """Whatever a bar chart holds, nothing leaves the picture and no label covers another."""
    picture = bar_picture(chart, width)

    assert picture.width == width
    assert_inside(picture)
    assert_apart(picture)


@given(curve_charts(), WIDTHS, st.floats(60, 400))
def test_curves_stay_inside_and_apart(chart: CurveChart, width: float, height: float) -> None:
    """Whatever curves there are, nothing leaves the picture and no label covers another."""
    picture = curve_picture(chart, width, height)

    assert picture.width == width
    assert_inside(picture)
    assert_apart(picture)


@given(bar_charts())
def test_no_word_of_a_bar_chart_is_lost(chart: BarChart) -> None:
    """Labels, values and limits are all in the picture, whole, when there are bars."""
    said = words_in(bar_picture(chart, 500))

    for bar in chart.bars:
        assert squeezed(bar.label) in said
        assert squeezed(bar.words) in said
    for _, words in chart.limits if chart.bars else ():
        assert squeezed(words) in said


@given(curve_charts())
def test_every_curve_ends_in_its_sign(chart: CurveChart) -> None:
    """Each of several curves has its sign once, and its name stands whole in the legend."""
    picture = curve_picture(chart, 500, 200)
    drawn = [curve for curve in chart.curves if curve.points]
    signs = [s.text for s in picture.shapes if isinstance(s, Label) and s.role == "strong"]

    assert sorted(signs) == sorted(curve.sign for curve in drawn if len(drawn) > 1)
    for curve in drawn:
        assert len(drawn) == 1 or squeezed(curve.name) in words_in(picture)


def test_a_curve_alone_ends_with_its_last_reading() -> None:
    """One curve has no sign, no line after its last dot, and no key that repeats the title."""
    curve = Curve("dam", "o", ((0.0, 38.1), (1.0, 38.4), (2.0, 38.2)))
    picture = curve_picture(CurveChart("Temperature of the dam", "days", "°C", (curve,)), 400, 150)
    dots = [shape for shape in picture.shapes if isinstance(shape, Dot)]
    strokes = [s for s in picture.shapes if isinstance(s, Stroke) and s.role != "dim"]

    assert len(dots) == 3
    assert [stroke.points[-1] for stroke in strokes] == [(dots[-1].x, dots[-1].y)]
    assert not {"o", "dam", "o=dam"} & {s.text for s in picture.shapes if isinstance(s, Label)}
    assert max(x for s in picture.shapes if isinstance(s, Stroke) for x, _ in s.points) < 400


def test_a_curve_alone_is_named_where_the_title_does_not() -> None:
    """The weights of a single pup say whose they are."""
    curve = Curve("pup 1 (red)", "1", ((0.0, 300.0), (1.0, 320.0)))
    said = words_in(curve_picture(CurveChart("Weights", "days", "g", (curve,)), 400, 150))

    assert said.endswith("pup1(red)")
    assert "1=" not in said


def test_the_key_of_fourteen_pups_stands_in_columns() -> None:
    """Every name is whole in the key, several beside one another, each under the one above."""
    marks = ("red", "dark green", "lilac with a white tip", "blue") * 4
    curves = tuple(
        Curve(f"pup {n} ({mark})", "123456789ABCDE"[n - 1], ((0.0, 300.0 + n), (5.0, 500.0 + n)))
        for n, mark in enumerate(marks[:14], start=1)
    )  # fmt: skip
    picture = curve_picture(CurveChart("Weights", "days", "g", curves), 500, 190)
    key = [s for s in picture.shapes if isinstance(s, Label) and " = " in s.text]

    assert [label.text for label in key] == [f"{c.sign} = {c.name}" for c in curves]
    assert 2 <= len({label.x for label in key}) <= 6
    assert len({label.y for label in key}) <= 7


@given(st.floats(-50, 5000), st.floats(0, 5000), st.integers(1, 14), st.sampled_from(["g", "min"]))
def test_a_scale_holds_what_is_laid_on_it(low: float, span: float, most: int, unit: str) -> None:
    """A scale has few steps, holds both values, and keeps their order."""
    scale = round_scale(low, low + span, most, unit)

    assert scale.low <= low + 1e-6
    assert scale.high >= low + span - 1e-6
    assert 2 <= len(scale.ticks) <= most + 1
    assert all(one < other for one, other in pairwise(map(scale.at, scale.ticks)))


@pytest.mark.parametrize(
    ("high", "unit", "numbers"),
    [
        (96, "min", ["0", "15", "30", "45", "60", "75", "90", "105"]),
        (300, "min", ["0", "60", "120", "180", "240", "300"]),
        (96, "g", ["0", "20", "40", "60", "80", "100"]),
        (0.4, "°C", ["0.0", "0.1", "0.2", "0.3", "0.4"]),
    ],
)
def test_numbers_on_an_axis_are_round(high: float, unit: str, numbers: list[str]) -> None:
    """Numbers are those a person would choose; minutes go by the clock."""
    scale = round_scale(0, high, 8, unit)

    assert [scale.told(value) for value in scale.ticks] == numbers


def test_a_longer_bar_is_drawn_longer() -> None:
    """Bars keep the proportions of their values, and a limit stands where its value is."""
    bars = (Bar("a", 30, "30 min"), Bar("b", 90, "1 h 30 min", "watch"), Bar("c", 0, "0 min"))
    picture = bar_picture(BarChart("t", "min", bars, ((60, "watch: 1 h"),)), 400)
    short, long, none = [shape for shape in picture.shapes if isinstance(shape, Box)]
    [limit] = [shape for shape in picture.shapes if isinstance(shape, Stroke) and shape.dashed]

    assert long.width == pytest.approx(3 * short.width)
    assert none.width < 1
    assert limit.points[0][0] - short.x == pytest.approx(2 * short.width)


def test_a_heavier_pup_is_drawn_higher() -> None:
    """Up is more and right is later."""
    curves = (Curve("red", "1", ((0, 300), (2, 400))), Curve("blue", "2", ((0, 250), (2, 260))))
    picture = curve_picture(CurveChart("t", "days", "g", curves, ((330, "330 g"),)), 400, 150)
    red, blue = [
        shape
        for shape in picture.shapes
        if isinstance(shape, Stroke) and not shape.role and not shape.dashed
    ]

    assert red.points[1][1] < red.points[0][1] < blue.points[0][1]
    assert red.points[0][0] < red.points[1][0]
    assert picture.height == 150


def test_what_a_picture_shows_is_told() -> None:
    """A reader who cannot see it gets every bar and every curve in words."""
    bars = BarChart("Time between births", "min", (Bar("to pup 2", 38, "38 min"),), ((60, "1 h"),))
    curves = CurveChart("Weights", "days", "g", (Curve("red", "1", ((0, 300), (2, 345.0))),))

    assert bar_picture(bars, 400).told == "Time between births. to pup 2: 38 min (limits: 1 h)"
    assert curve_picture(curves, 400, 150).told == "Weights (g over days). red: from 300 to 345"


@given(texts(), st.floats(20, 300))
def test_folding_loses_nothing(text: str, width: float) -> None:
    """Folded words are all there, in order, and no line is wider than asked."""
    lines = folded(text, width, 7)

    assert "".join("".join(line.split()) for line in lines) == squeezed(text)
    assert all(text_width(line, 7) <= width for line in lines)

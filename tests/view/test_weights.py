"""The weight table and its charts as they look, and what holds for any weighings."""

from collections.abc import Iterator
from datetime import UTC, datetime
from zoneinfo import ZoneInfo

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from syrupy.assertion import SnapshotAssertion

from boxlamp.growth.curve import LAST_DAY, most
from boxlamp.growth.feeding import feeding_of
from boxlamp.growth.table import WeightTable
from boxlamp.model.happenings import Death, Details, Step, Temperature, What
from boxlamp.view.chart import FINE_STROKES, PLAIN_STROKES, SEVERAL, Reference, Series, chart
from boxlamp.view.feeding_lines import feeding_lines
from boxlamp.view.layout import FINE, PLAIN, Glyphs, Line
from boxlamp.view.show_rich import STYLES
from boxlamp.view.text import width_of
from boxlamp.view.weights_chart import HEIGHT, litter_chart, pup_chart
from boxlamp.view.weights_data import plain_feeding, plain_weights, weights_json
from boxlamp.view.weights_lines import litter_lines, pace_sentence, pup_lines
from boxlamp.view.weights_words import symbol
from support.growing import BRAMBLE, NINTH_DAY, born, bramble, made, table_of, weighed

PRAGUE = ZoneInfo("Europe/Prague")
FIRST_DAYS = datetime(2026, 3, 5, 8, 0, tzinfo=UTC)
DAY = 24 * 60
GLYPHS = pytest.mark.parametrize("glyphs", [FINE, PLAIN], ids=["fine", "plain"])


def texts(lines: Iterator[Line]) -> list[str]:
    """What the lines say when every style is taken away."""
    return ["".join(part for _, part in line).rstrip() for line in lines]


def litter_screen(table: WeightTable, width: int, glyphs: Glyphs = FINE) -> list[str]:
    """The whole screen of a litter."""
    return [
        *texts(litter_lines(table, width, PRAGUE, glyphs)),
        "",
        *texts(litter_chart(table, width, glyphs)),
    ]


def pup_screen(table: WeightTable, place: int, width: int, glyphs: Glyphs = FINE) -> list[str]:
    """The whole screen of one pup."""
    pup = table.pups[place]
    return [
        *texts(pup_lines(table, pup, width, PRAGUE, glyphs)),
        "",
        *texts(pup_chart(pup, width, glyphs)),
    ]


@pytest.mark.parametrize("width", [40, 80, 120])
@pytest.mark.parametrize("at", [FIRST_DAYS, NINTH_DAY], ids=["first days", "ninth day"])
def test_the_litter_as_it_looks(width: int, at: datetime, snapshot: SnapshotAssertion) -> None:
    """Table and chart of the invented litter, letter for letter."""
    assert "\n".join(litter_screen(bramble(at), width)) == snapshot


@GLYPHS
@pytest.mark.parametrize("width", [80, 120])
def test_one_pup_as_it_looks(width: int, glyphs: Glyphs, snapshot: SnapshotAssertion) -> None:
    """The pup that lost weight first, letter for letter."""
    assert "\n".join(pup_screen(bramble(), 5, width, glyphs)) == snapshot


@pytest.mark.parametrize("width", [80, 120])
def test_the_feeding_tables_as_they_look(width: int, snapshot: SnapshotAssertion) -> None:
    """Milk and the dam's food of the invented litter, letter for letter."""
    feeding = feeding_of(bramble(datetime(2026, 3, 12, 7, 45, tzinfo=UTC)).verdict)

    assert "\n".join(texts(feeding_lines(feeding, width, PRAGUE))) == snapshot


def test_one_fact_per_line(snapshot: SnapshotAssertion) -> None:
    """The plain form, letter for letter."""
    table = bramble()
    lines = [*plain_weights(table, PRAGUE), *plain_feeding(feeding_of(table.verdict))]

    assert "\n".join(lines) == snapshot


def test_the_form_for_programs(snapshot: SnapshotAssertion) -> None:
    """The JSON of the first days, key for key."""
    table = bramble(FIRST_DAYS)

    assert weights_json(table, "bramble", PRAGUE, feeding_of(table.verdict)) == snapshot


def test_nothing_weighed_says_what_to_type() -> None:
    """With nothing on the scale the table names the words that begin it."""
    told = " ".join(litter_screen(made((0, born(1)), (5, born(2))), 80))
    assert "boxlamp log weigh 1 312g" in told
    assert "boxlamp log round 1 310 2 320 ..." in told

    early = table_of(BRAMBLE[: BRAMBLE.index("23:10")], FIRST_DAYS)
    assert "No pup is written down yet" in " ".join(litter_screen(early, 80))


def test_a_plain_terminal_gets_ascii() -> None:
    """Nothing that is drawn is outside ASCII on a terminal without Unicode."""
    table = bramble()
    lines = [*litter_screen(table, 80, PLAIN), *pup_screen(table, 0, 80, PLAIN)]

    assert all(line.isascii() for line in lines)


def test_every_role_has_a_style() -> None:
    """Nothing is drawn with a style that the printer does not know."""
    table = bramble()
    pup = table.pups[0]
    lines = [*litter_lines(table, 80, PRAGUE), *litter_chart(table, 80)]
    lines += [*pup_lines(table, pup, 80, PRAGUE), *pup_chart(pup, 80)]

    assert {role for line in lines for role, _ in line} <= STYLES.keys()


def test_a_late_first_weight_is_starred() -> None:
    """Growth from a weight that is no birth weight is marked, and the mark is explained."""
    table = made((0, born(1)), (0, born(2, 400)), (DAY, weighed(1, 400)), (DAY, weighed(2, 410)),
                 (2 * DAY, weighed(1, 440)), (2 * DAY, weighed(2, 440)))  # fmt: skip
    lines = litter_screen(table, 80)

    assert any("+10.0*" in line for line in lines)
    assert any(line.startswith("* No birth weight") for line in lines)
    assert any("+10.0 " in line for line in lines)


def test_a_coarse_scale_is_spoken_of() -> None:
    """Weights in steps of 5 g of light pups bring one line of advice."""
    lines = [(float(pup), born(pup, 200 + 5 * pup)) for pup in range(1, 5)]

    assert "steps of 1 g" in " ".join(litter_screen(made(*lines), 80))
    lines[0] = (1.0, born(1, 206))
    assert "steps of 1 g" not in " ".join(litter_screen(made(*lines), 80))


def test_a_second_round_of_a_day_has_its_hour() -> None:
    """Two rounds on one day are told apart by the hour of the second."""
    head = litter_screen(bramble(datetime(2026, 3, 6, 20, tzinfo=UTC)), 80)[3]

    assert "6 Mar  20:00" in head


def test_what_stands_of_a_pup_is_in_its_row() -> None:
    """Level mark, level word and the reason stand with the pup, and where to read what to do."""
    wide = litter_screen(bramble(FIRST_DAYS), 120)
    [row] = [line for line in wide if "pink" in line and line.startswith("  6")]
    assert row.endswith("!! call: lost 6.7 %")
    assert "What to do: `boxlamp check`" in " ".join(wide)

    narrow = litter_screen(bramble(FIRST_DAYS), 80)
    place = next(place for place, line in enumerate(narrow) if line.startswith("  6 pink"))
    assert narrow[place + 1].strip() == "!! call: lost 6.7 %"


TWICE = "At that pace it is at twice its first weight when 14 days old."


@pytest.mark.parametrize(
    ("lines", "said"),
    [
        ([(0, born(1, 400))], ""),
        ([(0, born(1, 400)), (DAY, weighed(1, 380))], "Newest gain: -20 g, -5.0 % a day."),
        ([(0, born(1, 400)), (DAY, weighed(1, 420))], f"Newest gain: +20 g, +5.0 % a day. {TWICE}"),
        ([(0, born(1, 400)), (DAY, weighed(1, 402))], "Newest gain: +2 g, +0.5 % a day."),
        ([(0, born(1, 400)), (8 * DAY, weighed(1, 800))], "Newest gain: +50 g, +9.0 % a day."),
        ([(0, born(1, 400)), (DAY, weighed(1, 420)), (DAY + 1, Death(pup=1))], ""),
    ],
)  # fmt: skip
def test_what_the_newest_gain_amounts_to(lines: list[tuple[float, What]], said: str) -> None:
    """The gain of a day, and when it would double the weight: of a living pup, within reason."""
    assert pace_sentence(made(*lines).pups[0]) == said


def feeding_screen(*lines: tuple[float, What], after: float = 0) -> str:
    """The feeding tables of these entries as one paragraph."""
    feeding = feeding_of(made(*lines, after=after).verdict)
    return " ".join(" ".join(texts(feeding_lines(feeding, 80, PRAGUE))).split())


def test_feeding_says_what_is_missing() -> None:
    """No weight of the dam, no weight of a pup, no pup, a pup too old: each is said."""
    heavy = Details.model_validate({"weight": "12000"})

    assert "Her weight is not known. Type: boxlamp log weigh dam" in feeding_screen((0, born(1)))
    assert "1 not weighed yet" in feeding_screen((0, born(1)))
    cold = Temperature.model_validate({"celsius": "34.2", "where": "pup", "pup": 1})
    measure = feeding_screen((0, born(1, 400)), (60, cold), after=120)
    assert "34.2 °C at 04:00: measure again first. Under 35 °C warm first" in measure
    gone = feeding_screen((0, heavy), (0, born(1, 400)), (1, Death(pup=1)))
    assert "There is no pup in the house." in gone
    assert "She nurses no pup now." in gone
    late = feeding_screen((0, heavy), (0, born(1, 400)), after=29 * DAY)
    assert "older than four weeks: the tables end" in late
    assert "week 5 of nursing: 2573 kcal a day, by the one source that goes so far." in late
    last = feeding_screen((0, heavy), (0, born(1, 400)), after=36 * DAY)
    assert "week 6 of nursing: the sources say nothing of this week." in last


LABRADOR = Details(breed="Labrador Retriever")


def test_a_low_birth_weight_names_its_reference() -> None:
    """Pups that were low at birth are named with what they were held against."""
    table = made((0, LABRADOR), (1, born(1, 410)), (2, born(2, 400)), (3, born(3, 240)),
                 (4, born(4, 390)))  # fmt: skip
    told = " ".join(" ".join(litter_screen(table, 80)).split())

    assert [pup.birth_class.word for pup in table.pups if pup.birth_class] == [
        "normal", "low", "very low", "low",
    ]  # fmt: skip
    assert "Pups 2 and 4: birth weight low: Labrador Retriever pups under 406 g" in told
    assert "Pup 3: birth weight very low: Labrador Retriever pups under 248 g" in told
    assert "!! call: very light at birth" in told
    assert "Birth weight normal; low: Labrador Retriever" in " ".join(pup_screen(table, 0, 120))


def test_half_the_litter_slow_stands_above_the_table() -> None:
    """What stands of the litter as a whole is said first."""
    lines: list[tuple[float, What]] = [(0, born(pup, 400)) for pup in range(1, 5)]
    for day in range(1, 7):
        lines += [(day * DAY, weighed(pup, 400 + day)) for pup in range(1, 5)]
    shown = litter_screen(made(*lines), 80)

    assert shown[2].startswith("!! call: ")
    assert "Think of the dam" in " ".join(shown[2:4])
    assert any(line.startswith("alert\tcall\tlitter-slow\tlitter\t")
               for line in plain_weights(made(*lines), PRAGUE))  # fmt: skip


def test_a_weighing_that_is_due_is_reminded_of() -> None:
    """The reminder to weigh stands beneath the table."""
    shown = litter_screen(made((0, born(1, 400)), (0, born(2, 400)), after=14 * 60), 80)

    assert any(line.startswith("- Weigh all 2 pups") for line in shown)


HEAVY = st.floats(20, 3000).map(lambda grams: round(grams, 1))
WILD = HEAVY | st.sampled_from([0.1, 1.0, 150_000.0])
MARKS = st.sampled_from(
    ["red", "blue", "\u72ac\u72ac\u72ac\u72ac\u72ac\u72ac", "x" * 40, "e\u0301", "#\x07"]
)


@st.composite
def litters(draw: st.DrawFn) -> list[tuple[float, What]]:
    """Any litter: up to fourteen pups, some dead, some unweighed, up to thirty weighings each."""
    lines: list[tuple[float, What]] = [(0.0, Details(dam=draw(st.sampled_from(["", "Ash" * 30]))))]
    for pup in range(1, draw(st.integers(1, 14)) + 1):
        start = float(draw(st.integers(0, 1000)))
        state = draw(st.sampled_from(["alive", "alive", "alive", "limp", "dead"]))
        lines.append((start, born(pup, draw(st.none() | WILD), state)))
        if draw(st.booleans()):
            lines.append((start + 1, Step(pup=pup, step="marked", finding=draw(MARKS))))
        times = draw(st.lists(st.integers(1, 60) | st.integers(1, 90_000), max_size=30))
        lines += [(start + minutes, weighed(pup, draw(WILD))) for minutes in times]
        if draw(st.integers(0, 4)) == 0:
            lines.append((start + draw(st.integers(1, 50_000)), Death(pup=pup)))
    return lines


@settings(deadline=None, max_examples=60)
@given(litters(), st.integers(40, 120), st.sampled_from([FINE, PLAIN]))
def test_any_weighings_fit_any_width(
    found: list[tuple[float, What]], width: int, glyphs: Glyphs
) -> None:
    """Whatever was weighed, every line keeps to the width and every pup has its row."""
    table = made(*found)
    lines = litter_screen(table, width, glyphs)
    for place in range(len(table.pups)):
        lines += pup_screen(table, place, width, glyphs)

    for line in lines:
        assert width_of(line) <= width, line
    rows = texts(litter_lines(table, width, PRAGUE, glyphs))
    told = " ".join(" ".join(rows).split())
    for pup in table.pups if table.weighed else ():
        leads = f"{pup.number:>3} ", f"pup {pup.number}"
        assert any(f"{row} ".startswith(leads) for row in rows)
        for one in pup.stands:
            assert f"{one.level.word}: {one.words}" in told


@settings(deadline=None, max_examples=60)
@given(litters(), st.integers(40, 120))
def test_every_pup_weighed_is_in_the_chart(found: list[tuple[float, What]], width: int) -> None:
    """Each pup with a weight has its sign in the legend and its points drawn, or a shared sign."""
    table = made(*found)
    lines = texts(litter_chart(table, width))
    weighed_twice = [pup for pup in table.pups if len(pup.weighings) > 1]
    if not weighed_twice:
        return
    axis = next(place for place, line in enumerate(lines) if FINE_STROKES.corner in line)
    top = axis - (HEIGHT - 2)
    drawn = "".join(line.partition(FINE_STROKES.side)[2] or line.partition(FINE_STROKES.mark)[2]
                    for line in lines[top:axis])  # fmt: skip
    legend = " ".join(lines[axis + 2 :])
    for pup in table.pups:
        if pup.weighings:
            assert symbol(pup) in legend
            assert symbol(pup) in drawn or SEVERAL in drawn
    assert top >= 1
    assert FINE_STROKES.side not in lines[top - 1]


POINTS = st.lists(st.tuples(st.floats(0, 80), st.floats(0.1, 150_000)), max_size=40).map(tuple)
DRAWN = st.lists(st.builds(Series, st.sampled_from("1234567"), POINTS), max_size=14)
CURVE = Reference(lambda days: 400 * most(days), LAST_DAY)


@given(DRAWN, st.sampled_from([None, CURVE]), st.integers(40, 120), st.integers(8, 30))
def test_a_chart_keeps_to_its_size(
    series: list[Series], curve: Reference | None, width: int, height: int
) -> None:
    """Never wider, never higher; a cell is drawn for every point; axes carry labels."""
    for strokes in (FINE_STROKES, PLAIN_STROKES):
        lines = texts(iter(chart(series, curve, (width, height), strokes)))
        points = [point for one in series for point in one.points]

        assert len(lines) == (height if points else 0)
        assert all(width_of(line) <= width for line in lines)
        if points:
            signs = {one.symbol for one in series if one.points} | {SEVERAL}
            assert any(sign in line for line in lines[:-2] for sign in signs)
            assert lines[-1].split()[0] == "0"


def test_points_lie_where_they_belong() -> None:
    """The heaviest is on the top row, the lightest on the bottom row, the newest at the edge."""
    [top, *_, bottom, _, _] = texts(
        iter(chart([Series("o", ((0, 100), (1, 50), (2, 200)))], None, (60, 12)))
    )

    assert top.endswith("o")
    assert len(top) == 60
    assert bottom.count("o") == 1
    assert abs(bottom.index("o") - 32) <= 1


def test_shared_cells_show_a_plus_and_repeats_do_not() -> None:
    """Two pups at one point are `+`; one pup weighed twice alike is still its own sign."""
    apart = [Series("1", ((0, 100), (0, 100), (2, 200))), Series("2", ((2, 200), (2, 100)))]
    lines = texts(iter(chart(apart, None, (60, 12))))

    assert lines[0].endswith(SEVERAL)
    assert "1" in lines[9][4:]
    assert lines[9].endswith("2")


def test_the_curve_is_dotted_and_ends_on_day_21() -> None:
    """Beyond day 21 nothing of it is drawn, however long the pups are weighed."""
    series = [Series("o", ((0, 400), (42, 3200)))]
    lines = texts(iter(chart(series, CURVE, (88, 20), PLAIN_STROKES)))
    columns = [place for line in lines[:-2] for place, sign in enumerate(line) if sign == "."]

    assert columns
    assert max(columns) <= 5 + 83 * 21 / 42 + 1


def test_the_curve_leaves_room_for_the_points() -> None:
    """However far the fastest growth climbs, the pups have two thirds of the height."""
    series = [Series("o", ((0, 100), (20, 200)))]
    curve = Reference(lambda days: 100 * most(days), LAST_DAY)
    lines = texts(iter(chart(series, curve, (80, 32))))
    rows = [place for place, line in enumerate(lines[:-2]) if "o" in line]

    assert rows == [10, 29]
    assert "\u00b7" in lines[0]


def test_signs_beyond_nine_are_letters() -> None:
    """Pup 10 is A in the chart, and the legend says so."""
    lines: list[tuple[float, What]] = [(0, born(pup, 300 + 20 * pup)) for pup in range(1, 12)]
    lines += [(DAY, weighed(pup, 300 + 22 * pup)) for pup in range(1, 11)]
    lines += [(DAY, weighed(11, 600))]
    shown = texts(litter_chart(made(*lines), 120))

    assert "pup 9, A = pup 10, B = pup 11; + several pups." in " ".join(shown)
    assert any(line.endswith("B") for line in shown)

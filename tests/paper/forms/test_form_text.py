"""The text form: whole, within its width, readable without colour."""

import re
from collections import Counter

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from boxlamp.paper.document import (
    Bar,
    BarChart,
    Block,
    Cell,
    Column,
    Curve,
    CurveChart,
    Document,
    Facts,
    Points,
    Table,
    Words,
)
from boxlamp.paper.forms.text import MARK, block_lines, text_form
from boxlamp.paper.forms.text_tables import row_texts
from boxlamp.view.text import clean, width_of
from support.documents import (
    ATTACK,
    HAND_MADE,
    HOSTILE,
    SAMPLE,
    WIDE,
    curve_charts,
    documents,
    tables,
    tables_in,
)
from support.reading import squeezed

WIDTHS = st.integers(24, 140)


def lines_of(block: Block, width: int = 80, *, fine: bool = True) -> list[str]:
    return block_lines(block, width, fine=fine)


def columns_of(lines: list[str]) -> list[str]:
    """What each column of a set table says from top to bottom, by where its rule stands."""
    rule = next(line for line in lines if set(line) == {"-", " "} or set(line) == {"-"})
    edges, start = list[tuple[int, int]](), 0
    for dashes in rule.split("  "):
        edges.append((start, start + len(dashes)))
        start += len(dashes) + 2
    return [" ".join(line[a:b].strip() for line in lines if line != rule) for a, b in edges]


@given(documents(), WIDTHS, st.booleans())
@settings(deadline=None)
def test_no_line_leaves_the_width_or_trails_blanks(
    document: Document,
    width: int,
    fine: bool,  # noqa: FBT001 - drawn
) -> None:
    """Whatever was typed, every line keeps within the width, and one newline ends the text."""
    text = text_form(document, width, fine=fine)

    assert all(width_of(line) <= width for line in text.split("\n"))
    assert all(line == line.rstrip() for line in text.split("\n"))
    assert text.endswith("\n")
    assert not text.endswith("\n\n")
    text.encode()


@given(tables(), WIDTHS)
@settings(deadline=None)
def test_a_table_loses_no_letter(table: Table, width: int) -> None:
    """However narrow the page, every letter of every cell is on it."""
    said = [cell.text for row in table.rows for cell in row]
    said += [column.title for column in table.columns] if table.rows else [table.empty]

    set_letters = Counter(squeezed("".join(lines_of(table, width))))

    assert set_letters >= Counter(squeezed("".join(said)))


@given(st.lists(st.tuples(st.sampled_from(HOSTILE), st.sampled_from(HOSTILE))), WIDTHS)
def test_facts_and_points_say_their_words_in_order(rows: list[tuple[str, str]], width: int) -> None:
    """Labels, what is known and the items of a list stand whole and in order."""
    facts, points = Facts(tuple(rows)), Points(tuple(Cell(text) for text, _ in rows))

    told = squeezed("".join(lines_of(facts, width)))
    listed = squeezed("".join(lines_of(points, width)))

    assert told == "".join(f"{squeezed(label)}:{squeezed(value)}" for label, value in rows)
    assert listed == "".join(f"-{squeezed(text)}" for text, _ in rows)


@pytest.mark.parametrize("table", tables_in(SAMPLE)[1:3] + tables_in(SAMPLE)[4:])
@pytest.mark.parametrize("width", [72, 80, 132])
def test_columns_hold_their_cells_word_for_word(table: Table, width: int) -> None:
    """Read downwards, each column of a table says its title and its cells, and nothing else."""
    rows = [row_texts(row) for row in table.rows]
    titles = [column.title for column in table.columns]
    said = [" ".join(cells).split() for cells in zip(titles, *rows, strict=True)]

    lines = lines_of(table, width, fine=False)

    assert [column.split() for column in columns_of(lines)] == said


@pytest.mark.parametrize("name", HAND_MADE)
def test_nothing_that_steers_a_terminal_comes_through(name: str) -> None:
    """No control code, no override of the direction of writing, no half character."""
    text = text_form(HAND_MADE[name])

    assert clean(text.replace("\n", "")) == text.replace("\n", "")


def test_plain_text_is_ascii_but_for_what_people_said() -> None:
    """Without fine glyphs the form itself adds nothing that an old printer does not know."""
    said = set("°áé")

    assert {letter for letter in text_form(SAMPLE, fine=False) if not letter.isascii()} <= said
    assert "─" in text_form(SAMPLE)


def test_a_table_that_cannot_stand_side_by_side_becomes_a_list_of_rows() -> None:
    """Fourteen columns on a screen: each row by itself, every cell behind its title."""
    lines = lines_of(tables_in(WIDE)[0], 80)

    assert lines[0] == "Column 1: row1 cell1 said"
    assert lines[1].split("  ")[1].strip() == "Column 2: row1 cell2 said"
    assert lines.count("") == 29


def test_a_mark_is_not_parted_from_its_level() -> None:
    """``! watch`` keeps on one line while there is room for it."""
    text = text_form(SAMPLE)

    for level in ("! watch  Strong", "!! call  Strong", "!!! go   Limp"):
        assert level in text


def test_struck_is_said_in_words() -> None:
    """A struck cell says that it is; a line struck altogether says so once."""
    columns = (Column("When"), Column("What"))
    mixed = Table(columns, ((Cell("01:50"), Cell("Rest", "struck")),))
    whole = Table(columns, ((Cell("01:50", "struck"), Cell("Rest", "struck")),))

    assert lines_of(mixed)[2].split("  ") == ["01:50", "[struck] Rest"]
    assert lines_of(whole)[2].split("  ") == ["[line struck] 01:50", "Rest"]
    assert lines_of(Words("Rest", "struck")) == ["[struck] Rest"]
    assert lines_of(Points((Cell("Rest", "struck"),))) == ["- [struck] Rest"]


def test_rows_that_would_run_into_each_other_stand_apart() -> None:
    """A row whose first cell takes two lines has a blank line on either side."""
    columns = (Column("When"), Column("What"))
    long = " ".join(["long"] * 30)
    table = Table(columns, tuple((Cell(when), Cell("x")) for when in ("a", "b", long, "c", "d")))

    lines = lines_of(table, 40)[2:]

    assert [bool(line) for line in lines] == [True, True, False, *[True] * (len(lines) - 6),
                                              False, True, True]  # fmt: skip


def test_a_sheet_for_a_pen_has_lines_to_write_on() -> None:
    """An empty cell of a ruled table is drawn, over the whole width, by the columns' shares."""
    columns = (Column("Time"), Column("What", 4))
    lines = lines_of(Table(columns, ((Cell(""), Cell("")),), ruled=True), 60)

    assert len(lines[2]) == 60
    time, what = lines[2].split("  ")
    assert set(time) == set(what) == {"_"}
    assert len(what) > 3 * len(time)


def test_a_table_without_rows_says_so() -> None:
    """No empty grid: the sentence for nothing."""
    assert lines_of(Table((Column("Pup"),), (), "No pups yet.")) == ["No pups yet."]


def test_bars_are_as_long_as_they_are_worth_and_limits_stand_in_place() -> None:
    """Half the value is half the length; the stroke of a limit stands where its value ends."""
    bars = (Bar("one", 60.0, "1 h"), Bar("two", 30.0, "30 min"), Bar("none", 0.0, "0 min"))
    chart = BarChart("Time", "min", bars, ((45.0, "watch: 45 min"), (15.0, "look: 15 min")))

    title, one, two, none, limits = lines_of(chart, fine=False)

    assert title == "Time (min)"
    assert one == f"one   {'=' * 10}|{'=' * 19}|{'=' * 9}  1 h"
    assert two == f"two   {'=' * 10}|{'=' * 9}{' ' * 10}|{' ' * 9}  30 min"
    assert none == f"none  {' ' * 10}|{' ' * 19}|{' ' * 9}  0 min"
    assert limits == "| from left to right: look: 15 min; watch: 45 min"


def test_a_bar_in_little_room_stands_under_its_words() -> None:
    """On a narrow screen the words have a line of their own and stay whole."""
    chart = BarChart("Time", "min", (Bar("to pup 2", 60.0, "about 35 minutes"),))

    assert lines_of(chart, 30, fine=False) == ["Time (min)", "to pup 2: about 35 minutes",
                                               f"  {'=' * 12}"]  # fmt: skip


def test_curves_are_told_apart_by_signs_and_levels_are_named() -> None:
    """Each curve's sign is drawn at its points and explained; so is each dotted level."""
    curves = (Curve("red", "1", ((0.0, 300.0), (5.0, 500.0))), Curve("blue", "2", ((5.0, 310.0),)))
    chart = CurveChart("Weights", "days", "g", curves, ((400.0, "400 g"), (450.0, "450 g")))

    lines = lines_of(chart, fine=False)

    assert lines[0] == "Weights (up: g; across: days)"
    assert lines[-3:] == ["1 = red   2 = blue", "... 400 g", "... 450 g"]
    drawn = lines[1:-3]
    assert sum(line.count("1") for line in drawn[:-1]) == 2
    assert sum(line.count("2") for line in drawn[:-1]) == 1
    assert sum(line.count(".") > 20 for line in drawn) == 2


@given(curve_charts(), WIDTHS)
@settings(deadline=None)
def test_every_curve_is_on_its_chart(chart: CurveChart, width: int) -> None:
    """Wherever its points lie, each curve shows its sign, or that several meet."""
    lines = lines_of(chart, width, fine=False)
    base = next((at for at, line in enumerate(lines) if re.fullmatch(r" *\|['-]+", line)), 0)
    drawn = "".join(line.partition("|")[2] for line in lines[:base])

    for curve in chart.curves:
        assert not curve.points or curve.sign in drawn or "+" in drawn


def test_days_before_the_first_are_drawn_left_of_nought() -> None:
    """A reading before the first pup keeps its place; a level far off is named and not drawn."""
    curve = Curve("dam", "o", ((-2.0, 37.0), (0.0, 38.0), (2.0, 38.5)))
    chart = CurveChart("Temperature", "days", "°C", (curve,), ((45.0, "go from 45 °C"),))

    lines = lines_of(chart, 40, fine=False)

    base = next(at for at, line in enumerate(lines) if "|'" in line)
    places = sorted(line.index("o") for line in lines[1:base] if "o" in line)
    assert lines[base + 1].split() == ["-2", "-1", "0", "1", "2"]
    assert places[0] == lines[base].index("'")
    assert abs(places[1] - lines[base + 1].index("0")) <= 1
    assert lines[-1] == "... go from 45 °C (beyond this chart)"
    assert "..." not in "".join(lines[1:base])


def test_one_long_cell_does_not_wrap_every_time_of_day() -> None:
    """The room goes where it saves lines: a paragraph in one cell leaves the times whole."""
    columns = (Column("When"), Column("What"))
    rows = tuple((Cell(f"Thu 9 Jul 04:{minute}"), Cell("Strong contraction"))
                 for minute in range(10, 40))  # fmt: skip
    table = Table(columns, (*rows, (Cell("Fri 10 Jul 01:00"), Cell("long words " * 40))))

    lines = lines_of(table, 60)

    assert "Thu 9 Jul 04:10   Strong contraction" in lines
    assert lines.count("") == 0


@pytest.mark.parametrize("name", HAND_MADE)
def test_its_last_line_says_what_made_it(name: str) -> None:
    """Alone, after everything else."""
    assert text_form(HAND_MADE[name]).endswith(f"\n{MARK}\n")


def test_the_attack_is_in_the_text_as_it_was_typed() -> None:
    """Markup means nothing here and stands as it was typed."""
    text = squeezed(text_form(ATTACK))

    assert all(squeezed(typed) in text for typed in HOSTILE)

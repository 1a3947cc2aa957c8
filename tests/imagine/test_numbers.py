"""No number is drawn from that is not listed, with its source or as our choice."""

import ast
import sys
from collections.abc import Iterator
from datetime import timedelta
from pathlib import Path

import boxlamp.imagine
from boxlamp.imagine import figures
from boxlamp.imagine.figures import Bell, Figure, Lognormal
from boxlamp.imagine.ours import Choice
from boxlamp.imagine.sources import choices, sources
from boxlamp.imagine.troubles import ALL
from boxlamp.model.spans import in_words

ROOM = Path(str(boxlamp.imagine.__file__)).parent
LISTED = {"figures.py", "kennel.py"}
"""Where published numbers stand; every row of both is listed."""
SHOWN = {"ours.py", "sources.py", "heading.py", "untouched.py"}
"""What lists them, and what writes and reads the top of a night: nothing is drawn there."""
CHOICES = {"Share", "Exactly", "Span", "About", "Among"}
PLAIN = {0, 1, 2, 12, 24, 60, 1000}
"""Nothing, one, the next, a pair; noon, hours of a day, minutes of an hour, grams of a kilo."""


def drawing() -> list[Path]:
    return [path for path in sorted(ROOM.rglob("*.py")) if path.name not in LISTED | SHOWN]


def bare(tree: ast.AST) -> Iterator[float]:
    """Numbers that stand in neither a choice of ours nor the row of a trouble."""
    if isinstance(tree, ast.Call) and isinstance(tree.func, ast.Name):
        if tree.func.id in CHOICES:
            return
        if tree.func.id == "Trouble":
            # How often it comes, and its smallest litter: both are listed.
            told = [one for one in tree.keywords if one.arg not in {"share", "least"}]
            tree = ast.Call(tree.func, tree.args, told)
    if isinstance(tree, ast.Constant) and type(tree.value) in {int, float}:
        yield float(str(tree.value))
    for child in ast.iter_child_nodes(tree):
        yield from bare(child)


def parsed(path: Path) -> ast.Module:
    return ast.parse(path.read_text(encoding="utf-8"))


def test_no_bare_number_is_written() -> None:
    """Everywhere that something is drawn, only counts of units are bare."""
    found = {path.name: set(bare(parsed(path))) - PLAIN for path in drawing()}

    assert len(found) > 40
    assert {name: numbers for name, numbers in found.items() if numbers} == {}


def test_a_bare_number_would_be_found() -> None:
    """A share, a time and a temperature are; a choice and a count of minutes are not."""
    code = "X = Span(3, 4, 'h', 'x')\ndice.chance(0.35); 5 * 60; f(7.5)"

    assert set(bare(ast.parse(code))) - PLAIN == {0.35, 5, 7.5}


def test_choices_stand_at_the_top_of_their_module() -> None:
    """None is made inside a function, where nothing could list it."""
    made, top = 0, 0
    for path in drawing():
        tree = parsed(path)
        made += sum(_is_choice(node) for node in ast.walk(tree))
        top += sum(isinstance(one, ast.Assign) and _is_choice(one.value) for one in tree.body)

    assert made == top > 200


def _is_choice(node: ast.AST) -> bool:
    return (
        isinstance(node, ast.Call) and isinstance(node.func, ast.Name) and node.func.id in CHOICES
    )


def test_every_choice_is_listed_once() -> None:
    """Every one of every module that draws: what it is, how much, and that it is our choice."""
    modules = {
        name: module for name, module in sys.modules.items() if name.startswith("boxlamp.imagine")
    }
    every = {
        id(value): value
        for module in modules.values()
        for value in vars(module).values()
        if isinstance(value, Choice)
    }
    listed = list(choices())

    assert len(listed) == len(every)
    assert sorted(one.how for one in listed) == sorted(one.how for one in every.values())
    assert len({one.what for one in listed}) == len(listed)
    assert all(one.cited.words.endswith("[our choice, no published source]") for one in listed)


def test_every_figure_is_listed() -> None:
    """Each number of ``figures``, beside its own source."""
    told = list(sources())
    every = [one for one in vars(figures).values() if isinstance(one, Figure | Bell | Lognormal)]

    assert len(every) > 40
    for one in every:
        ways = [f"{one[0]:.3g}", f"{one[0] * 100:g}"]
        if isinstance(one, Lognormal):
            # Told to the tenth or the whole minute, and from an hour on in hours.
            middle = (f"{one[0]:.1f} ", f"{one[0]:.0f} ", in_words(timedelta(minutes=one[0])))
            ways += [f"half of them under {way}" for way in middle]
        assert any(
            line.cited is one.cited and any(way in line.how for way in ways) for line in told
        ), one


def test_what_a_trouble_is_drawn_by_is_listed() -> None:
    """Its share, its smallest litter, and at least one number of its course."""
    told = [f"{one.what}: {one.how}" for one in sources()]

    for one in ALL:
        assert any(f"{one.name} " in line for line in told if ", which:" in line)
        assert any(line.startswith(f"{one.name}: ") for line in told), one.name
        assert one.least == 1 or f"{one.name}, litter: {one.least} pups or more" in told

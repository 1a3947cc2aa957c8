"""The house stands as drawn: arrows point one way, and the core touches nothing outside."""

import ast
from collections.abc import Iterator
from pathlib import Path

import pytest

SOURCE = Path(__file__).parents[1] / "src" / "boxlamp"

MAY_IMPORT: dict[str, set[str]] = {
    "model": set(),
    "rules": {"model"},
    "protocol": {"model"},
    "engine": {"model", "rules", "protocol"},
    "growth": {"model", "rules", "protocol", "engine"},
    "planning": {"model", "rules", "protocol"},
    "language": {"model"},
    "journal": {"model"},
    "outside": {"protocol"},
    "view": {"model", "rules", "protocol", "engine", "growth", "planning", "language"},
    "paper": {
        "model", "rules", "protocol", "engine", "growth", "planning", "language", "view",
    },
    "imagine": {"model", "growth", "language"},
    "trial": {"model", "rules", "protocol", "engine", "imagine", "view"},
    "training": {"model", "rules", "protocol", "engine", "language", "imagine", "view"},
    "desk": {
        "model", "rules", "protocol", "engine", "planning", "language", "journal", "view", "paper",
        "training", "outside",
    },
    "attend": {"model", "rules", "engine", "language", "journal", "view", "paper", "desk"},
    "cli": {
        "model", "rules", "protocol", "engine", "growth", "planning", "language", "journal", "view",
        "paper", "imagine", "trial", "training", "desk", "attend", "outside",
    },
}  # fmt: skip

PURE = ("model", "rules", "protocol", "engine", "growth", "planning")
OUTSIDE = {
    "os", "sys", "io", "time", "pathlib", "sqlite3", "subprocess", "socket", "shutil", "tempfile",
    "random", "rich", "typer", "prompt_toolkit", "platformdirs", "tzlocal", "logging",
}  # fmt: skip
CLOCKS_AND_FILES = {"now", "today", "utcnow", "open", "print", "input", "read_text", "write_text"}


def room_of(path: Path) -> str:
    return path.relative_to(SOURCE).parts[0].removesuffix(".py")


def imports(path: Path) -> Iterator[str]:
    for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
        if isinstance(node, ast.ImportFrom) and node.module:
            yield node.module
            yield from (f"{node.module}.{alias.name}" for alias in node.names)
        elif isinstance(node, ast.Import):
            yield from (alias.name for alias in node.names)


MODULES = sorted(path for path in SOURCE.rglob("*.py") if path.parent != SOURCE or
                 path.stem == "outside")  # fmt: skip


@pytest.mark.parametrize("path", MODULES, ids=lambda path: str(path.relative_to(SOURCE)))
def test_arrows_point_one_way(path: Path) -> None:
    """A room imports only the rooms that its arrows allow."""
    room = room_of(path)
    used = {name.split(".")[1] for name in imports(path) if name.startswith("boxlamp.")}

    assert used - {room, "__version__"} <= MAY_IMPORT[room]


def test_every_room_has_its_arrows_drawn() -> None:
    """No room stands outside the drawing, and no drawn room is missing."""
    assert {room_of(path) for path in MODULES} == set(MAY_IMPORT)


@pytest.mark.parametrize("room", PURE)
def test_the_core_reads_no_clock_file_or_terminal(room: str) -> None:
    """Model, rules, protocol and engine get the moment and every text handed to them."""
    for path in (SOURCE / room).rglob("*.py"):
        assert not {name.split(".")[0] for name in imports(path)} & OUTSIDE, path
        calls = {
            node.func.attr if isinstance(node.func, ast.Attribute) else getattr(node.func, "id", "")
            for node in ast.walk(ast.parse(path.read_text(encoding="utf-8")))
            if isinstance(node, ast.Call)
        }
        # A stopwatch is opened too: only the built-in `open` and a Path's are files.
        names = {
            node.func.id
            for node in ast.walk(ast.parse(path.read_text(encoding="utf-8")))
            if isinstance(node, ast.Call) and isinstance(node.func, ast.Name)
        }
        assert not (calls - {"open"}) & CLOCKS_AND_FILES, path
        assert "open" not in names, path


def test_one_comparison_of_a_clock_with_a_limit() -> None:
    """Only `standing.reached` compares moments with `>=`; the engine has no other."""
    for path in (SOURCE / "engine").glob("*.py"):
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
            if isinstance(node, ast.Compare) and any(isinstance(op, ast.GtE) for op in node.ops):
                left = ast.unparse(node)
                assert path.name == "standing.py" or "level" in left.lower(), f"{path}: {left}"


@pytest.mark.parametrize("path", MODULES, ids=lambda path: str(path.relative_to(SOURCE)))
def test_rooms_stay_small(path: Path) -> None:
    """No module over 400 lines and no function over 60."""
    text = path.read_text(encoding="utf-8")

    assert text.count("\n") <= 400
    for node in ast.walk(ast.parse(text)):
        if isinstance(node, ast.FunctionDef | ast.AsyncFunctionDef):
            assert (node.end_lineno or 0) - node.lineno < 60, node.name

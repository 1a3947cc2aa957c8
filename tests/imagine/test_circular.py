"""Nights are not made from the rules they are tried on."""

import ast
import subprocess
import sys
from pathlib import Path

import boxlamp.imagine

ROOM = Path(str(boxlamp.imagine.__file__)).parent


def imported() -> set[str]:
    """Every module of the program that the room names."""
    found: set[str] = set()
    for path in ROOM.rglob("*.py"):
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
            if isinstance(node, ast.ImportFrom) and node.module:
                found.add(node.module)
    return {name for name in found if name.startswith("boxlamp.")}


def test_no_rule_limit_or_alert_is_known_to_the_room() -> None:
    """Of what comes after the model only the words of the language, and how a source is cited."""
    beyond = {
        name for name in imported()
        if name.split(".")[1] not in {"imagine", "model", "language"}
    }  # fmt: skip

    assert beyond == {"boxlamp.growth.cited"}


def test_no_rule_is_loaded_to_draw_a_night() -> None:
    """Not even through something else, neither a rule nor a protocol with its limits.

    The one module loaded says how a limit and its source are written down, and holds none:
    ``boxlamp.growth.cited`` takes its words for how far a source was verified from there.
    """
    code = (
        "import sys; from boxlamp.imagine import imagine; imagine(1).text; "
        "print([name for name in sys.modules if name.startswith("
        "('boxlamp.rules', 'boxlamp.engine', 'boxlamp.protocol'))])"
    )
    told = subprocess.run(
        [sys.executable, "-c", code], capture_output=True, text=True, check=True
    ).stdout

    assert ast.literal_eval(told) == ["boxlamp.protocol", "boxlamp.protocol.records"]

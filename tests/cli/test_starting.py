"""What a start loads. Times depend on the machine; what is loaded does not, so that is pinned."""

import subprocess
import sys
from pathlib import Path

import pytest

from support.calls import started, surroundings

NEVER = {
    "asyncio", "dateutil", "difflib", "icalendar", "jinja2", "json", "platformdirs",
    "prompt_toolkit", "reportlab", "rich", "tomllib", "typer", "tzlocal", "wcwidth",
}  # fmt: skip
"""What no line at the box waits for: libraries of other commands, and what only explains."""

LINE = {*NEVER, "boxlamp.growth", "boxlamp.paper", "boxlamp.view.board", "boxlamp.view.layout"}

COUNT = """
import sys
from boxlamp.cli import main
sys.argv[0] = "boxlamp"
try:
    main()
finally:
    print(*sys.modules, file=sys.stderr)
"""


@pytest.fixture
def journal(tmp_path: Path) -> Path:
    """A journal with a litter and a line in it, in a zone that is written down."""
    path = tmp_path / "journal.db"
    assert started("new", "--dam", "Ash", "--no-input", journal=path).returncode == 0
    assert started("log", "set", "zone", "Europe/Prague", journal=path).returncode == 0
    return path


def loaded(journal: Path, *words: str) -> set[str]:
    """The modules that a call loads into a new process, with standard output to a file."""
    done = subprocess.run(
        [sys.executable, "-c", COUNT, *words],
        capture_output=True, check=True, encoding="utf-8", env=surroundings(journal), timeout=60,
    )  # fmt: skip
    return set(done.stderr.split())


@pytest.mark.parametrize(
    ("words", "never", "most"),
    [
        (("--version",), {*NEVER, "pydantic", "boxlamp.model"} - {"tomllib"}, 7),
        (("log", "push", "weak"), LINE, 103),
        (("check",), {*LINE, "boxlamp.language"}, 60),
        (("board",), NEVER - {"wcwidth"}, 117),
    ],
    ids=lambda value: value[0] if isinstance(value, tuple) else None,
)
def test_a_start_loads_no_more_than_it_needs(
    journal: Path, words: tuple[str, ...], never: set[str], most: int
) -> None:
    """No library of another command, and so many modules of our own at most.

    Rules are not counted: there is one module for each, and every one of them runs.
    """
    modules = loaded(journal, *words)
    assert modules & never == set()
    own = [name for name in modules if name.startswith("boxlamp")]
    assert len([name for name in own if not name.startswith("boxlamp.rules.")]) <= most, own


def test_only_the_kinds_that_are_met_are_built(journal: Path) -> None:
    """A line about a push builds no validator for a birth."""
    code = (
        "import sys; from boxlamp.cli.shell import run; run(sys.argv[1:]);"
        "from boxlamp.model.happenings import Birth, Contraction;"
        "print(Birth.__pydantic_complete__, Contraction.__pydantic_complete__)"
    )
    done = subprocess.run(
        [sys.executable, "-c", code, "log", "push", "weak"],
        capture_output=True, check=True, encoding="utf-8", env=surroundings(journal), timeout=60,
    )  # fmt: skip
    assert done.stdout.splitlines()[-1] == "False True"


def test_nothing_installed_beside_reaches_into_a_line(journal: Path, tmp_path: Path) -> None:
    """A plugin of pydantic that some other package brings is neither looked for nor loaded."""
    beside = tmp_path / "beside"
    (beside / "meddler-1.dist-info").mkdir(parents=True)
    (beside / "meddler.py").write_text("plugin = None\n", encoding="utf-8")
    about = beside / "meddler-1.dist-info"
    (about / "METADATA").write_text("Name: meddler\nVersion: 1\n", encoding="utf-8")
    (about / "entry_points.txt").write_text("[pydantic]\nmeddler = meddler:plugin\n", "utf-8")
    env = surroundings(journal, PYTHONPATH=str(beside))
    seen = "from importlib.metadata import entry_points as e; print(*e(group='pydantic').names)"
    said = [
        subprocess.run(
            [sys.executable, "-c", *words],
            capture_output=True, check=True, encoding="utf-8", env=env, timeout=60,
        )
        for words in ([seen], [COUNT, "log", "push", "weak"])
    ]  # fmt: skip
    assert "meddler" in said[0].stdout.split()
    assert "meddler" not in said[1].stderr.split()


def test_leaving_goes_through_nothing_that_was_loaded(journal: Path) -> None:
    """What was loaded is set aside from the search for garbage at the end."""
    code = COUNT.replace("print(*sys.modules", "import gc; print(gc.get_freeze_count()")
    done = subprocess.run(
        [sys.executable, "-c", code, "check"],
        capture_output=True, check=True, encoding="utf-8", env=surroundings(journal), timeout=60,
    )  # fmt: skip
    assert int(done.stderr) > 10_000

"""What the documents take from the program is fresh, and is what it says it is."""

import json
import subprocess
import sys
from pathlib import Path

import pytest
from jsonschema import Draft202012Validator

from boxlamp.cli.settings import VARIABLES
from boxlamp.outside import shipped_nights
from scribe.blocks import TOP
from scribe.schemas import ANSWERS, Answer, schema_of
from scribe.session import fresh
from scribe.shell import Shell
from support.effort import effort

SCREENS = sorted((TOP / "docs" / "screens").glob("*.svg"))
_MOST = 100_000


def test_nothing_is_stale() -> None:
    """Reference, schemas, manual page, words, pictures and counts are what they would be now."""
    checked = subprocess.run(
        [sys.executable, str(TOP / "docs" / "generate.py"), "--check"],
        capture_output=True, text=True, check=False,
    )  # fmt: skip

    assert checked.returncode == 0, checked.stderr


@pytest.mark.parametrize("screen", SCREENS, ids=lambda path: path.stem)
def test_a_picture_is_small_and_asks_for_nothing(screen: Path) -> None:
    """Under a hundred kilobytes, no script, no font or picture from elsewhere."""
    text = screen.read_text(encoding="utf-8")

    assert len(text) < _MOST
    for word in ("<script", "@import", "@font-face", "url(http", "href", "<image"):
        assert word not in text


def test_every_variable_is_told() -> None:
    """Whatever the source reads or sets under our name stands on the page of variables."""
    import re

    found = {
        name for path in (TOP / "src").rglob("*.py")
        for name in re.findall(r"\bBOXLAMP_[A-Z_]+\b", path.read_text(encoding="utf-8"))
    }  # fmt: skip

    assert found - {"_BOXLAMP_COMPLETE"} <= set(VARIABLES)


# How each answer is asked for, of whatever litter is in use; those that write are asked apart.
ASKED = {
    "check": ("check", "board", "check --at -2h"),
    "call-sheet": ("call-sheet",),
    "words": ("words", "words push"),
    "rules": ("rules",),
    "rule": ("rules contraction-no-pup", "rules dam-hot", "rules term"),
    "protocol": ("protocol show",),
    "protocol-default": ("protocol show --default",),
    "due": ("due",),
    "kit": ("kit",),
    "weights": ("weights", "weights --feeding"),
    "drill-list": ("drill --list",),
    "drill-progress": ("drill --progress",),
    "litters": ("litters",),
    "verify": ("verify",),
}
OF_ANY_LITTER = ("check", "call-sheet", "due", "weights", "kit", "protocol")


def answers(shell: Shell, line: str) -> list[object]:
    told = shell.line(f"boxlamp {line} --json").text
    return [json.loads(each) for each in told.splitlines() if each.startswith("{")]


def held(answer: Answer, said: list[object]) -> None:
    assert said or answer.each_line, answer.file
    judge = Draft202012Validator(schema_of(answer))
    for one in said:
        faults = [f"{list(fault.path)}: {fault.message[:200]}" for fault in judge.iter_errors(one)]
        assert not faults, (answer.file, faults[:3])


BY_FILE = {answer.file: answer for answer in ANSWERS}
NIGHTS = shipped_nights()[:: effort(5, 1)]


@pytest.mark.parametrize("night", NIGHTS, ids=lambda path: path.stem)
def test_the_answers_about_a_litter_have_their_shape(night: Path) -> None:
    """Of every kind of night each answer has the fields of its schema and no others."""
    with fresh() as shell:
        shell.line(f"boxlamp import demo/{night.name}")
        for file in OF_ANY_LITTER:
            for line in ASKED[file]:
                held(BY_FILE[file], answers(shell, line))
        held(BY_FILE["replay"], answers(shell, f"replay demo/{night.name}"))


def test_the_other_answers_have_their_shape() -> None:
    """So have those of no litter, of a line that is written, of a drill and of a trial."""
    with fresh() as shell:
        shell.line("boxlamp new --dam Ash --expect '6 xray' --mated 2025-12-28")
        for line in ("push", "-5m waters green", "she sighs", "blood everywhere"):
            held(BY_FILE["log"], answers(shell, f"log {line}"))
        shell.line('boxlamp log "limit gap-more-expected call 3h by Dr Novak; large litter"')
        for file, lines in ASKED.items():
            for line in lines:
                held(BY_FILE[file], answers(shell, line)) if line != "rules term" else None
        (shell.home / "a.txt").write_text("1\n1\n", encoding="utf-8")
        held(BY_FILE["drill"], answers(shell, "drill demo/pup-stuck.night --answers a.txt"))
        held(BY_FILE["drill-progress"], answers(shell, "drill --progress"))
        held(BY_FILE["trial"], answers(shell, "protocol trial --nights 2 --workers 1"))


def test_every_answer_is_held_against_its_shape() -> None:
    """No schema stands in the reference that no real answer is held against."""
    apart = {"replay", "log", "drill", "trial"}

    assert set(BY_FILE) == set(ASKED) | apart


def test_a_field_too_many_would_be_found() -> None:
    """The schemas are strict: one more field, or one less, is a fault."""
    with fresh() as shell:
        shell.line("boxlamp new --dam Ash")
        [said] = answers(shell, "litters")
    judge = Draft202012Validator(schema_of(BY_FILE["litters"]))

    assert isinstance(said, dict)
    assert not list(judge.iter_errors(said))
    assert list(judge.iter_errors(said | {"more": 1}))
    assert list(judge.iter_errors({key: said[key] for key in said if key != "schema"}))

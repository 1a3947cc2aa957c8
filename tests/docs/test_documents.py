"""The documents say what the program says: every line in them is typed, every answer compared."""

from pathlib import Path

import pytest

from scribe.blocks import TOP, blocks_of, pages
from scribe.session import Played, fits, play
from support.effort import NIGHTLY

BY_HAND = 9
NIGHTLY_ONLY = 2
"""How many blocks and lines no test of the pages runs, and how many wait for the nightly run."""

_PLAYED: dict[Path, Played] = {}


def played(page: Path) -> Played:
    if page not in _PLAYED:
        _PLAYED[page] = play(page, nightly=NIGHTLY)
    return _PLAYED[page]


@pytest.mark.parametrize("page", pages(), ids=lambda page: str(page.relative_to(TOP)))
def test_a_page_does_what_it_says(page: Path) -> None:
    """Every line of its console blocks runs, in order, and answers with what is shown."""
    found = played(page)

    told = "\n".join(f"{fault.where}: {fault.says}" for fault in found.faults)
    assert not found.faults, f"{told}\nAfter a deliberate change: python docs/generate.py --pages"


def test_what_is_not_run_says_why() -> None:
    """Each block that is left out has a reason in the page, and there are no more than these."""
    left = [one for page in pages() for one in left_out(page)]
    nightly = [place for place, kind, _ in left if kind == "nightly"]

    assert all(len(reason.split()) >= 4 for _, _, reason in left)
    assert len(left) - len(nightly) == BY_HAND, left
    assert len(nightly) == NIGHTLY_ONLY, nightly


def left_out(page: Path) -> list[tuple[str, str, str]]:
    return [
        (f"{page.name}:{block.first}", name.split()[0], why)
        for block in blocks_of(page.read_text(encoding="utf-8"))
        for name, why in block.notes.items()
        if name.startswith(("not run", "nightly"))
    ]


def test_a_lie_would_be_found(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A page with a wrong answer, a wrong code and a command that is not there has three faults."""
    monkeypatch.setattr("scribe.session.TOP", tmp_path)
    (tmp_path / "demo").mkdir()
    page = tmp_path / "lie.md"
    page.write_text(
        "```console\n$ boxlamp litters --plain\nnothing to see\n```\n\n"
        "```console\nboxlamp check\n```\n\n```console\nboxlamp wish\n```\n", encoding="utf-8",
    )  # fmt: skip

    found = play(page)

    assert [fault.where for fault in found.faults if "nothing in it" not in fault.says] == [
        "lie.md:1",
        "lie.md:6: boxlamp check",
        "lie.md:10: boxlamp wish",
    ]
    assert "nothing to see" not in found.text
    assert "There is no litter yet." in found.text


def test_a_question_that_is_not_shown_would_be_found(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """At a terminal `new` asks for what is missing: a page that hides it is at fault."""
    monkeypatch.setattr("scribe.session.TOP", tmp_path)
    (tmp_path / "demo").mkdir()
    page = tmp_path / "asks.md"
    page.write_text("```console\n$ boxlamp new --dam Ash\n```\n", encoding="utf-8")

    assert "it asks a question here" in play(page).faults[0].says


@pytest.mark.parametrize(
    ("shown", "printed", "fit"),
    [
        (("a", "b"), ("a", "b"), True),
        (("a", "b"), ("a", "c"), False),
        (("a", "...", "d"), ("a", "b", "c", "d"), True),
        (("a", "...", "d"), ("a", "b", "c"), False),
        (("...", "c", "..."), ("a", "b", "c", "d"), True),
        (("...", "x", "..."), ("a", "b", "c", "d"), False),
        (("a", "b", "...", "b"), ("a", "b"), False),
    ],
)
def test_lines_may_be_left_out_where_it_says_so(
    shown: tuple[str, ...], printed: tuple[str, ...], fit: object
) -> None:
    """Three dots stand for any lines; everything else must be there, in order, once."""
    assert fits(shown, printed) is fit


def test_most_of_it_is_typed_and_compared() -> None:
    """The pages are full of lines to type, and many show what is answered."""
    blocks = [block for page in pages() for block in blocks_of(page.read_text(encoding="utf-8"))]
    typed = [block for block in blocks if block.typed or "attend" in block.notes]

    assert sum(len(block.steps) for block in typed) >= 140
    assert sum(block.answered for block in typed) >= 40


@pytest.mark.skipif(not NIGHTLY, reason="the figures of the long run")
def test_the_figures(capsys: pytest.CaptureFixture[str]) -> None:
    """The nightly run prints how much was run and compared, and what was left to hands."""
    found = [played(page) for page in pages()]
    with capsys.disabled():
        print(  # noqa: T201 - the proof's own figure
            f"\ndocs: {len(found)} pages, {sum(one.ran for one in found)} commands run, "
            f"{sum(one.compared for one in found)} blocks compared, "
            f"{sum(len(one.left) for one in found)} left to hands, "
            f"{sum(one.by_rule for one in found)} by rule"
        )

    assert not any(one.faults for one in found)

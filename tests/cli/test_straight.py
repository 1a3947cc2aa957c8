"""Calls that are plain in every word: they mean what typer would have made of them."""

import inspect
from collections.abc import Callable
from importlib import import_module
from pathlib import Path
from typing import Any

import pytest
import typer
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from boxlamp.cli import shell
from boxlamp.cli.argv import parted
from boxlamp.cli.log_lines import _confirmed
from boxlamp.cli.straight import SETTINGS, STRAIGHT, straight
from support.effort import effort

VALUED = st.tuples(
    st.sampled_from(["--journal", "--litter", "--by", "--at"]),
    st.sampled_from(["x.db", "02:14", "-1h", "", "~", "\udcff", "tab\there", "ash-2026-03-02"]),
)
FLAGS = st.sampled_from(
    ["--yes", "--no-input", "--json", "--as-known", "--why", "--plain", "--follow", "-f",
     "--no-color"]
)  # fmt: skip
ODD = st.sampled_from(["--", "-", "pup", "", "--journal=x.db", "--help", "--a", "-fx", "--at"])
WORDS = st.lists(VALUED.map(list) | (FLAGS | ODD).map(lambda word: [word]), max_size=4).map(
    lambda pieces: [word for piece in pieces for word in piece]
)


def work_of(name: str) -> Callable[..., int]:
    """The function that does a command's work."""
    known = STRAIGHT[name]
    found: Callable[..., int] = getattr(import_module(known.module), known.function)
    return found


@pytest.mark.parametrize("name", STRAIGHT)
def test_typer_is_told_of_every_straight_option(name: str) -> None:
    """Names, values, flags and settings from the environment: written twice, said once."""
    command = typer.main.get_command(shell.application(name)).commands[name]  # type: ignore[attr-defined]
    known = STRAIGHT[name]
    told = {spelling: one for one in command.params for spelling in one.opts}
    assert (set(told) - set(known.valued) - set(known.flags)) == ({known.line} - {""})
    for spelling, to in {**known.valued, **known.flags}.items():
        option = told[spelling]
        assert option.name == to
        assert option.is_flag is (spelling in known.flags)
        assert option.envvar == SETTINGS.get(to)
    for one in command.params:
        own = inspect.signature(work_of(name)).parameters[one.name]
        if one.name != known.line:
            assert one.default == own.default


def reached(
    words: list[str], monkeypatch: pytest.MonkeyPatch, *, typed: bool
) -> dict[str, Any] | None:
    """What a command's work is called with; None when it is not reached."""
    call = parted(words)
    name = call.command or ""
    seen: list[dict[str, Any]] = []

    def note(*args: object, **named: object) -> int:
        bound = inspect.signature(original).bind(*args, **named)
        bound.apply_defaults()
        seen.append(dict(bound.arguments))
        return 0

    known = STRAIGHT[name]
    original = work_of(name)
    with monkeypatch.context() as patch:
        patch.setattr(import_module(known.module), known.function, note)
        patch.setattr(import_module(f"boxlamp.cli.{name}"), known.function, note)
        if typed:
            with pytest.raises(SystemExit):
                shell._parsed(call)
        elif (work := straight(call)) is not None:
            work()
    return seen[0] if seen else None


@settings(
    max_examples=effort(60, 3000), deadline=None,
    suppress_health_check=[HealthCheck.function_scoped_fixture],
)  # fmt: skip
@given(
    name=st.sampled_from(sorted(STRAIGHT)),
    before=st.lists(FLAGS, max_size=1),
    words=WORDS,
    by=st.sampled_from([None, "", "Jana", "-x", "\udcff"]),
)
def test_a_straight_call_means_what_typer_makes_of_it(
    monkeypatch: pytest.MonkeyPatch, name: str, before: list[str], words: list[str], by: str | None
) -> None:
    """Whenever a call goes straight, typer would have called the same work with the same."""
    line = [*before, name, *words]
    monkeypatch.delenv("BOXLAMP_JOURNAL", raising=False)
    monkeypatch.delenv("BOXLAMP_BY", raising=False)
    if by is not None:
        monkeypatch.setenv("BOXLAMP_BY", by)
    if parted(line).command != name:
        return
    plain = reached(line, monkeypatch, typed=False)
    if plain is not None:
        assert plain == reached(line, monkeypatch, typed=True)


@pytest.mark.parametrize("words", [
    ("log", "push", "weak"),
    ("log", "-5m", "pup", "--by", "Jana"),
    ("--journal", "x.db", "check", "--at", "02:14", "--why"),
    ("board", "--plain"),
])  # fmt: skip
def test_the_usual_calls_go_straight(words: tuple[str, ...]) -> None:
    """What is typed all night needs no typer."""
    assert straight(parted(words)) is not None


@pytest.mark.parametrize("words", [
    ("log",), ("log", "-h"), ("check", "--help"), ("check", "--at"), ("check", "--at", "-1h"),
    ("board", "--journal=x.db"), ("check", "02:14"), ("board", "--bogus"), ("due",), (),
])  # fmt: skip
def test_whatever_may_need_explaining_goes_to_typer(words: tuple[str, ...]) -> None:
    """Help, a missing word, an odd spelling, another command: typer has the sentence for it."""
    assert straight(parted(words)) is None


def test_a_journal_that_may_not_be_read_goes_to_typer(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Typer says that a file cannot be read before the journal is asked."""
    closed = tmp_path / "closed.db"
    closed.touch()
    assert straight(parted(["check", "--journal", str(closed)])) is not None
    monkeypatch.setattr("os.access", lambda _path, mode: mode == 0)
    assert straight(parted(["check", "--journal", str(closed)])) is None


def test_completion_is_never_taken_for_a_call(monkeypatch: pytest.MonkeyPatch) -> None:
    """A shell that asks how a word goes on writes nothing down."""
    monkeypatch.setenv("_BOXLAMP_COMPLETE", "complete_bash")
    assert straight(parted(["log", "push"])) is None


def test_ctrl_c_at_the_question_ends_the_call(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    """Straight or through typer: the same word and exit code 1, before anything is written."""

    def interrupted(*_args: object, **_named: object) -> bool:
        raise typer.Abort

    monkeypatch.setattr(typer, "confirm", interrupted)
    with pytest.raises(SystemExit) as left:
        _confirmed("Write it down as it stands?")
    assert left.value.code == 1
    assert capsys.readouterr().err == "Aborted!\n"

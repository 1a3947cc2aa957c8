"""``boxlamp imagine``: printing a night, writing it, and what it rests on."""

import re
from pathlib import Path

import pytest

from boxlamp.imagine import TROUBLES, imagine
from boxlamp.language import read_night
from support.calls import Caller


def test_prints_the_night_of_a_seed(call: Caller) -> None:
    """The same seed, the same night, and it reads."""
    told = call.good("imagine", "--seed", "7", "--size", "large", "--trouble", "long-gap")

    assert told == imagine(7, size="large", trouble="long-gap").text
    assert read_night(told).entries


def test_another_night_each_time(call: Caller) -> None:
    """Without a seed a new one is chosen, and the night says how to have it again."""
    one, other = call.good("imagine"), call.good("imagine")
    again = next(line for line in one.splitlines() if "boxlamp imagine --seed" in line)
    words = again.partition("boxlamp ")[2].split()

    assert one != other
    assert call.good(*words) == one


def test_writes_a_file_and_only_over_its_own(call: Caller, tmp_path: Path) -> None:
    """A night it printed may be replaced; a night that somebody wrote by hand never is."""
    file, theirs = tmp_path / "practice.night", tmp_path / "ours.night"
    theirs.write_text("# An invented night. By hand.\ndam: Fern\n", encoding="utf-8")
    call.good("imagine", "--seed", "1", "-o", str(file))
    call.good("imagine", "--seed", "2", "-o", str(file))

    assert file.read_text(encoding="utf-8") == imagine(2).text
    refused = call("imagine", "--seed", "2", "-o", str(theirs))
    assert refused.code == 2
    assert "was not written by this command" in refused.err
    assert theirs.read_text(encoding="utf-8").startswith("# An invented night. By hand.")


def test_a_night_that_was_written_on_is_kept(call: Caller, tmp_path: Path) -> None:
    """Whoever changed a printed night does not lose it to the next one."""
    file = tmp_path / "practice.night"
    call.good("imagine", "--seed", "1", "-o", str(file))
    edited = file.read_text(encoding="utf-8").replace("lesson: ", "lesson: Mine. ", 1)
    file.write_text(edited, encoding="utf-8")

    assert call("imagine", "--seed", "2", "-o", str(file)).code == 2
    assert file.read_text(encoding="utf-8") == edited


def test_the_file_can_be_replayed(call: Caller, tmp_path: Path) -> None:
    """What was written is a night like any other."""
    file = tmp_path / "practice.night"
    call.good("imagine", "--seed", "3", "--trouble", "blocked", "-o", str(file))

    assert "GO" in call.good("replay", str(file))


def test_names_the_troubles(call: Caller) -> None:
    """One line each, none over 80 columns, and each can be asked for."""
    lines = call.good("imagine", "--list").splitlines()

    assert [line.split()[0] for line in lines] == ["none", *TROUBLES]
    assert max(map(len, lines)) <= 80
    assert all(call("imagine", "--seed", "1", "--trouble", name).code == 0 for name in TROUBLES)


def test_shows_every_figure_with_its_source(call: Caller) -> None:
    """What was published names its source; what was not is called our choice."""
    told = call.good("imagine", "--figures").splitlines()

    assert len(told) % 2 == 0
    assert all(source.endswith("]") for source in told[1::2])
    gap = told.index(
        "pup to pup: half of them under 35 min, 95 of 100 between 8 min and 2 h 32 min"
    )
    assert "our choice" in told[gap + 1]
    litter = next(place for place, line in enumerate(told) if line.startswith("litter, giant"))
    assert "PMID 28708517" in told[litter + 1]
    assert not [
        line for line in told[::2] if re.search(r"lognormal|sigma|deviation|median|e\+", line)
    ]


@pytest.mark.parametrize(
    ("words", "told"),
    [
        (("--trouble", "blokked"), "There is no trouble 'blokked'. Did you mean blocked?"),
        (("--trouble", "\x1b[31m"), "There is no trouble"),
        (("--seed", "-4"), "A seed is 0 or more: boxlamp imagine --seed 7"),
        (("--seed", "four"), "valid integer"),
        (("--size", "tiny"), "small"),
        (("--list", "--figures"), "leave one out"),
        (("-o", "/no/such/folder/x.night"), "cannot be written"),
    ],
)
def test_bad_values_are_answered_in_a_sentence(
    call: Caller, words: tuple[str, ...], told: str
) -> None:
    """With code 2, and no control code let through."""
    said = call("imagine", *words)

    assert said.code == 2
    assert told in said.err
    assert "\x1b" not in said.err

"""``boxlamp protocol trial`` as a person calls it: figures, side by side, faults, Ctrl-C."""

import json
import sys
from pathlib import Path

import pytest

import boxlamp.imagine
from boxlamp.trial import plan
from support.calls import Caller, started
from support.terminal import terminal
from support.trials import dask

OWN = """by = "Dr Novak"
why = "a large litter last time"

[[limit]]
rule = "gap-more-expected"
level = "call"
value = 3
unit = "h"
"""
FEW = ("--nights", "64", "--workers", "1")


@pytest.fixture
def own(tmp_path: Path) -> Path:
    """A vet's own limits that may be used."""
    path = tmp_path / "own.toml"
    path.write_text(OWN, encoding="utf-8")
    return path


def test_it_needs_no_litter_and_makes_no_journal(call: Caller) -> None:
    """Figures of the default limits over imagined nights; nothing on standard error."""
    said = call("protocol", "trial", *FEW)

    assert (said.code, said.err) == (0, "")
    assert said.out.startswith("What the limits cost and what they catch: 64 imagined nights")
    assert "32 normal nights" in said.out
    assert "32 troubled nights" in said.out
    assert "Invented nights" in said.out
    assert "A memory aid, not a diagnosis" in " ".join(said.out.split())
    assert max(map(len, said.out.splitlines())) <= 80
    assert not call.journal.exists()


def test_the_same_seed_gives_the_same_figures(call: Caller, tmp_path: Path) -> None:
    """With one worker or two, in any form; another seed gives others."""
    for form in ((), ("--json",), ("--plain",)):
        alone = call.good("protocol", "trial", *FEW, *form)
        two = started("protocol", "trial", "--nights", "64", "--workers", "2", *form,
                      journal=tmp_path / "none.db")  # fmt: skip
        assert two.stdout.decode() == alone
        assert two.stderr == b""
    other = call.good("protocol", "trial", *FEW, "--plain", "--seed", "2")
    assert other != call.good("protocol", "trial", *FEW, "--plain")


def test_a_cluster_gives_the_same_figures(call: Caller) -> None:
    """With --cluster somebody else counts, and the answer is the same to the letter."""
    here = call.good("protocol", "trial", *FEW, "--json")
    with dask(processes=True) as address:
        there = call.good("protocol", "trial", *FEW[:2], "--json", "--cluster", address)

    assert there == here


def test_without_the_extra_the_line_to_install_it_is_told(
    call: Caller, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A plain installation has no cluster library, and says how to get it."""
    monkeypatch.setitem(sys.modules, "distributed", None)
    answer = call("protocol", "trial", "--cluster", "tcp://127.0.0.1:8786")

    assert (answer.code, answer.out) == (2, "")
    assert answer.err.rstrip().endswith("python -m pip install 'boxlamp[cluster]'")


def test_a_vets_own_limits_stand_beside_the_default(call: Caller, own: Path) -> None:
    """The same nights under both; a later call is fewer calls, of that rule and its follower."""
    told = json.loads(call.good("protocol", "trial", own, *FEW, "--json"))
    default = json.loads(call.good("protocol", "trial", *FEW, "--json"))

    assert [side["name"] for side in told["sides"]] == ["default", "own"]
    assert told["sides"][1]["limits"] == [
        {"rule": "gap-more-expected", "clock": "main", "level": "call", "seconds": 10800}
    ]
    for row in told["rules"]:
        assert row["per_night"]["same"] or row["rule"] in {"gap-more-expected", "litter-short"}
    for both, one in zip(told["levels"], default["levels"], strict=True):
        assert both["per_night"]["sides"][0] == one["per_night"]["sides"][0]
    gap = next(row for row in told["rules"]
               if (row["rule"], row["level"]) == ("gap-more-expected", "call"))  # fmt: skip
    assert gap["per_night"]["apart"]["value"] < 0


def test_the_first_nights_of_many_are_the_few(call: Caller) -> None:
    """Every night missed among 64 is missed among 96."""

    def missed(nights: str) -> list[str]:
        told = call.good("protocol", "trial", "--nights", nights, "--workers", "1", "--plain")
        return [line for line in told.splitlines() if line.startswith("missed\t")]

    few, many = missed("64"), missed("96")
    first = [line for line in many if int(line.split("\t")[3]) < 1_000_064]
    assert sorted(few) == sorted(first)


def test_most_nights_leave_every_seed_its_own(call: Caller) -> None:
    """The command takes as many nights as lie between two seeds, and no more."""
    answer = call("protocol", "trial", "--nights", str(plan.MOST_NIGHTS + 1))

    assert answer.code == 2
    assert f"less than or equal to {plan.MOST_NIGHTS}" in answer.err


def test_one_night_is_told_without_intervals(call: Caller) -> None:
    """The smallest trial there is."""
    told = json.loads(
        call.good("protocol", "trial", "--nights", "1", "--workers", "1", "--json")
    )  # fmt: skip

    assert (told["normal"], told["troubled"], told["troubles"]) == (1, 0, [])


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (("--nights", "0"), "--nights"),
        (("--nights", "-3"), "--nights"),
        (("--nights", "1000001"), "--nights"),
        (("--nights", "many"), "--nights"),
        (("--workers", "0"), "--workers"),
        (("--seed", "-1"), "--seed"),
        (("no-such-file.toml",), "There is no file no-such-file.toml."),
        (("--cluster", "tcp://x:1", "--workers", "2"), "either --workers or --cluster"),
    ],
)
def test_a_wrong_word_is_a_sentence(call: Caller, words: tuple[str, ...], said: str) -> None:
    """Exit code 2, what is wrong by its name, and no figures."""
    answer = call("protocol", "trial", *words)

    assert (answer.code, answer.out) == (2, "")
    assert said in answer.err
    assert "Traceback" not in answer.err


def test_a_limit_that_may_not_be_relaxed_is_refused(call: Caller, own: Path) -> None:
    """A file that `protocol check` refuses is refused here in the same words."""
    own.write_text(OWN.replace("gap-more-expected", "contraction-no-pup"), encoding="utf-8")
    answer = call("protocol", "trial", own, *FEW)

    assert (answer.code, answer.out) == (2, "")
    assert answer.err == call("protocol", "check", own).err
    assert "contraction-no-pup: this rule is never relaxed; call may only come sooner." in (
        answer.err
    )


def test_a_broken_night_gives_no_table(call: Caller, monkeypatch: pytest.MonkeyPatch) -> None:
    """It is named with the words that show it; exit code 2."""
    whole = boxlamp.imagine.imagine

    def failing(seed: int, **more: str) -> object:
        if seed == 1_000_033:
            raise KeyError("pup 9")
        return whole(seed, **more)  # type: ignore[arg-type]

    monkeypatch.setattr(plan, "imagine", failing)
    answer = call("protocol", "trial", *FEW)

    assert (answer.code, answer.out) == (2, "")
    assert answer.err.startswith("boxlamp: A night could not be imagined (KeyError: 'pup 9').")
    assert "boxlamp imagine --seed 1000033 --trouble" in answer.err


def test_ctrl_c_tells_what_is_known_so_far(tmp_path: Path) -> None:
    """At a terminal a bar goes along; Ctrl-C leaves the figures of the first nights, exit 130."""
    words = ("protocol", "trial", "--nights", "1000000", "--workers", "2", "--plain")
    with terminal(tmp_path / "none.db", *words) as seen:
        seen.wait("/1000000")
        seen.until(lambda: "0/1000000" in seen.shown and " 0/1000000" not in seen.shown, "a night")
        seen.press("c-c")
        assert seen.left() == 130
        assert "nights only." in seen.shown
        assert b"Traceback" not in seen.sent


def test_ctrl_c_before_anything_is_known_is_a_sentence(
    call: Caller, monkeypatch: pytest.MonkeyPatch
) -> None:
    """There is no table of nothing."""

    def stopped(_seed: int, **_more: str) -> object:
        raise KeyboardInterrupt

    monkeypatch.setattr(plan, "imagine", stopped)
    answer = call("protocol", "trial", *FEW)

    assert (answer.code, answer.out) == (130, "")
    assert answer.err == (
        "boxlamp: stopped before the first nights were done; there are no figures.\n"
    )


def test_the_other_commands_of_the_family_load_nothing_of_it(tmp_path: Path) -> None:
    """`protocol show` starts without the generator, the pool or a cluster."""
    told = started("protocol", "show", "--default", journal=tmp_path / "none.db",
                   PYTHONPROFILEIMPORTTIME="1")  # fmt: skip
    loaded = {line.split("|")[-1].strip() for line in told.stderr.decode().splitlines()}

    assert "boxlamp.cli.trial" in loaded
    assert not [name for name in loaded if name.startswith(("boxlamp.trial", "boxlamp.imagine"))]
    assert "distributed" not in loaded

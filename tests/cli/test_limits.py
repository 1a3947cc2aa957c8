import json
from pathlib import Path

import pytest

from boxlamp.language import VOCABULARY
from boxlamp.rules.registry import NEVER_RELAXED, RULES
from support.calls import Caller

GOOD = """by = "Dr Novak"
why = "a large litter last time"

[[limit]]
rule = "gap-more-expected"
level = "call"
value = 3
unit = "h"
"""
BAD = {
    "no such rule": (GOOD.replace("gap-more-expected", "gap-less"), "gap-less: no rule of that"),
    "no such level": (GOOD.replace('"call"', '"panic"'), "level"),
    "a negative value": (GOOD.replace("value = 3", "value = -3"), "value"),
    "nobody's word": (GOOD.replace('by = "Dr Novak"\n', ""), "by"),
    "no reason": (GOOD.replace("a large litter last time", ""), "why"),
    "not TOML": ("by = ", ""),
    "a word too many": (GOOD + "colour = 1\n", "colour"),
    "empty": ("", "by"),
    "never relaxed": (
        GOOD.replace("gap-more-expected", "contraction-no-pup"),
        "contraction-no-pup: this rule is never relaxed; call may only come sooner.",
    ),
    "levels crossed": (GOOD.replace("value = 3", "value = 30"), "before a lower one"),
}


@pytest.fixture
def own(tmp_path: Path) -> Path:
    """A vet's own limits that may be used."""
    path = tmp_path / "own.toml"
    path.write_text(GOOD, encoding="utf-8")
    return path


def test_a_good_file_is_called_good(call: Caller, own: Path) -> None:
    """Checking needs no litter and makes no journal."""
    out = call.good("protocol", "check", own)

    assert out == f"{own}: 1 limit, on the word of Dr Novak: good.\n"
    assert not call.journal.exists()


@pytest.mark.parametrize("name", BAD)
def test_a_bad_file_is_refused_in_sentences(bramble: Caller, own: Path, name: str) -> None:
    """Each problem is one line with the file's name; `use` refuses too and records nothing."""
    text, said = BAD[name]
    own.write_text(text, encoding="utf-8")
    before = bramble.good("export")

    for command in ("check", "use"):
        answer = bramble("protocol", command, own)
        assert (answer.code, answer.out) == (2, "")
        assert answer.err.startswith(f"boxlamp: {own}: ")
        assert said in answer.err
        assert "Traceback" not in answer.err
    assert bramble.good("export") == before


@pytest.mark.parametrize("content", [b"\xff\xfe\x00", b"x" * 1_000_001, None])
def test_a_file_that_is_no_text_is_refused(call: Caller, own: Path, content: bytes | None) -> None:
    """Binary, huge and missing files end in one sentence."""
    if content is None:
        own.unlink()
    else:
        own.write_bytes(content)
    said = call("protocol", "check", own)

    assert said.code == 2
    assert said.err.count("\n") == 1
    assert str(own) in said.err


def test_used_limits_are_recorded_and_shown(bramble: Caller, own: Path) -> None:
    """Who, when and why stand in the record; board, plain board and `protocol show` say so."""
    bramble.good("protocol", "use", own, "--by", "Jana")

    changed = "Limit changed: gap-more-expected call at 3 h 00 min, on the word of Dr Novak."
    assert changed in " ".join(bramble.good("board").split())
    assert f"note\t{changed}\n" in bramble.good("board", "--plain")
    assert (
        "Changed: gap-more-expected call, on the word of Dr Novak, 02:15: a large litter last time"
        in bramble.good("protocol", "show")
    )
    [change] = json.loads(bramble.good("protocol", "show", "--json"))["changes"]
    assert (change["entry"], change["seconds"], change["refused"]) == (3, 10800, False)
    last = json.loads(bramble.good("export").splitlines()[-1])
    assert (last["by"], last["what"]["why"]) == ("Jana", "a large litter last time")


def test_a_used_limit_moves_the_alert(bramble: Caller, own: Path) -> None:
    """The call comes at three hours instead of two."""
    bramble.good("log", "pup")
    bramble.good("log", "milk 1")
    bramble.good("protocol", "use", own)
    bramble.later(179)

    def gap() -> list[str]:
        lines = bramble("check", "--plain").out.splitlines()
        return [line.split("\t")[0] for line in lines if "gap-more-expected" in line]

    assert gap() == ["watch"]
    bramble.later(1)
    assert gap() == ["call"]


def test_a_limit_can_be_typed(bramble: Caller) -> None:
    """`log limit ...` changes a limit on a vet's word."""
    line = "limit gap-more-expected call 3h by Dr Novak; large litter last time"
    bramble.good("log", line)

    assert "Limit changed: gap-more-expected call" in bramble.good("board", "--plain")


@pytest.mark.parametrize("rule", ["contraction-no-pup", "part-showing"])
def test_a_never_relaxed_rule_refuses(bramble: Caller, rule: str) -> None:
    """Nobody's word loosens it: exit code 2, the rule named, nothing recorded."""
    before = bramble.good("export")
    said = bramble("log", f"limit {rule} go 3h by Dr X; because")

    assert said.code == 2
    assert f"{rule}: this rule is never relaxed; go may only come sooner." in said.err
    assert bramble.good("export") == before


def test_yes_does_not_relax_it_either(bramble: Caller) -> None:
    """--yes answers doubts, never a refusal; in a pipe neither."""
    line = "limit contraction-no-pup go 3h by Dr X; because"

    assert bramble("log", line, "--yes").code == 2
    assert bramble("log", "-", "--yes", stdin=line.encode()).code == 1
    assert "Limit changed" not in bramble.good("board")


def test_the_shipped_protocol_needs_no_litter(call: Caller) -> None:
    """`protocol show --default` lists every value with how far its source was seen."""
    lines = call.good("protocol", "show", "--default").splitlines()

    assert lines[0].startswith("Limits ")
    assert all(line.count("\t") == 3 for line in lines[1:])
    assert json.loads(call.good("protocol", "show", "--default", "--json"))["schema"] == 1


def test_every_rule_is_listed(call: Caller) -> None:
    """In all three forms; the ones that are never relaxed are marked."""
    ids = [rule.id for rule in RULES]

    assert [line.split("\t")[0] for line in call.good("rules", "--plain").splitlines()] == ids
    assert [one["rule"] for one in json.loads(call.good("rules", "--json"))["rules"]] == ids
    marked = [line for line in call.good("rules").splitlines() if "(never relaxed)" in line]
    assert {line.split()[0] for line in marked} == NEVER_RELAXED


@pytest.mark.parametrize("rule", [rule.id for rule in RULES])
def test_every_rule_has_a_page(call: Caller, rule: str) -> None:
    """What it watches, why, what to do, when it fires and on whose evidence; 80 columns."""
    out = call.good("rules", rule)

    assert out.startswith(f"{rule}: ")
    for heading in ("What it watches", "Why it matters", "What to do", "When it fires", "Example"):
        assert f"\n{heading}\n" in out
    assert all(len(line) <= 80 for line in out.splitlines()[1:])
    page = json.loads(call.good("rules", rule, "--json"))
    assert page["rule"] == rule
    assert page["limits"]


@pytest.mark.parametrize(
    ("typed", "hint"), [("nonsense", ""), ("contraction-nopup", "contraction-no-pup")]
)
def test_a_rule_that_is_not_there(call: Caller, typed: str, hint: str) -> None:
    """The nearest one is named when there is a near one."""
    said = call("rules", typed)

    assert (said.code, said.out) == (2, "")
    assert f"There is no rule '{typed}'." in said.err
    assert ("Did you mean" in said.err) == bool(hint)
    assert hint in said.err


def test_every_word_is_listed(call: Caller) -> None:
    """Words, their other forms, examples; one word alone; JSON; one a line."""
    out = call.good("words")

    for word in VOCABULARY:
        assert f"\n{word.pattern}" in out
    assert len(call.good("words", "--plain").splitlines()) == len(VOCABULARY)
    assert len(json.loads(call.good("words", "--json"))["words"]) == len(VOCABULARY)
    assert call.good("words", "placenta") == call.good("words", "afterbirth")
    assert "Did you mean 'pup'?" in call("words", "pub").err
    assert call("words", "zzzzzz").code == 2


def test_a_risk_is_not_relaxed_back(call: Caller) -> None:
    """A never-relaxed rule tightened by a risk keeps the sooner limit, whichever came first."""
    call.good("new", "--dam", "Pepper", "--breed", "French Bulldog", "--no-input")
    line = "limit contraction-no-pup go 30m by Dr X; the usual figure"

    assert call("log", line).code == 2
    assert "never relaxed" in call("log", line).err


def test_a_limit_set_before_the_risk_is_known_gives_way_to_it(call: Caller) -> None:
    """What tightens a never-relaxed rule later tightens it all the same."""
    call.good("new", "--dam", "Pepper", "--no-input")
    call.good("log", "limit contraction-no-pup go 25m by Dr X; sooner")
    call.good("log", "set breed French Bulldog")
    shown = call.good("protocol", "show")

    line = next(
        line for line in shown.splitlines() if line.strip().startswith("contraction-no-pup")
    )
    assert "go 20 min" in line


def test_the_calm_of_a_short_litter_follows_the_gap(bramble: Caller) -> None:
    """A vet's longer gap is not rung down by the other rule that waits for the same pup."""
    bramble.good("log", "limit gap-more-expected call 3h by Dr X; large litter")
    shown = bramble.good("protocol", "show")

    assert "litter-short calm                  call 3 h 00 min" in shown

import json
import re
from datetime import datetime

import pytest

from boxlamp.view.words import CAUTION
from support.calls import Caller

STAMP = re.compile(r"\d{4}-\d\d-\d\dT\d\d:\d\d:\d\d[+-]\d\d:\d\d")
TOP = {"schema", "at", "litter", "phase", "alerts", "prompts", "next", "counts"}
ALERT = {
    "rule", "level", "subject", "raised", "since", "elapsed_s", "counted_s", "limit_s", "message",
    "do", "entries", "sources", "acknowledged",
}  # fmt: skip


def test_nothing_wrong_is_exit_code_0(bramble: Caller) -> None:
    """It says that no alert stands, what is next, and the caution."""
    said = bramble("check")

    assert said.code == 0
    assert said.out.startswith("No alert.\n")
    assert said.out.endswith(f"{CAUTION}\n")


def test_a_watch_is_exit_code_0(bramble: Caller) -> None:
    """Only a call or a go is bad news."""
    bramble.good("log", "push")
    bramble.later(15)
    out = bramble.good("check", "--plain")

    assert [line.split("\t")[0] for line in out.splitlines()] == ["watch"]


@pytest.mark.parametrize(("line", "level"), [("part head", "call"), ("dam collapsed", "go")])
def test_call_and_go_are_exit_code_1(bramble: Caller, line: str, level: str) -> None:
    """Bad news has its own exit code in every form."""
    bramble("log", line)

    for form in ((), ("--plain",), ("--json",), ("--why",)):
        said = bramble("check", *form)
        assert said.code == 1
        assert level in said.out.lower()


def test_a_reminder_is_no_alert(bramble: Caller) -> None:
    """It is shown in every form and changes no exit code."""
    bramble.good("log", "pup m 312g red")
    bramble.later(70)

    assert "  - No first milk for pup 1 (marked red), born 1 h 10 min ago. Once it" in bramble.good(
        "check"
    )
    plain = [line.split("\t") for line in bramble.good("check", "--plain").splitlines()]
    assert any(words[0] == "reminder" for words in plain)
    prompts = json.loads(bramble.good("check", "--json"))["prompts"]
    assert {prompt["rule"] for prompt in prompts} >= {"first-milk"}
    assert set(prompts[0]) == {"rule", "subject", "since", "message"}


@pytest.mark.parametrize(
    "words", [("--at", "gibberish"), ("--at", "pup"), ("--litter", "nobody"), ("extra",)]
)
def test_a_call_that_cannot_be_done_is_exit_code_2(bramble: Caller, words: tuple[str, ...]) -> None:
    """Usage is told apart from bad news; nothing goes to standard output."""
    said = bramble("check", *words)

    assert said.code == 2
    assert words[-1] in said.err
    assert not said.out


def test_json_has_the_fields_that_programs_rely_on(bramble: Caller) -> None:
    """One object; the documented fields and no others; times with an offset."""
    bramble.good("log", "push")
    bramble.later(1)
    bramble("log", "part", "head")
    bramble.later(7)
    bramble.good("log", "ack")
    bramble.later(1)
    said = json.loads(bramble("check", "--json").out)

    assert set(said) == TOP
    assert said["schema"] == 1
    assert said["at"] == "2026-03-02T02:24:00+01:00"
    assert said["counts"] == {
        "expected": 6, "born": 0, "alive": 0, "afterbirths": 0, "owed": 0,
    }  # fmt: skip
    for due in said["next"]:
        assert set(due) == {"rule", "level", "subject", "due"}
        assert STAMP.fullmatch(due["due"])
    part = next(alert for alert in said["alerts"] if alert["rule"] == "part-showing")
    assert set(part) == ALERT
    assert (part["level"], part["subject"], part["entries"]) == ("go", "dam", [4])
    assert part["since"] == "2026-03-02T02:16:00+01:00"
    assert part["acknowledged"] == "2026-03-02T02:23:00+01:00"
    since, now = (datetime.fromisoformat(text) for text in (part["since"], said["at"]))
    assert part["elapsed_s"] == (now - since).total_seconds() == part["counted_s"] == 480
    assert part["sources"][0].keys() == {"title", "where", "place", "says", "seen"}
    for alert in said["alerts"]:
        assert STAMP.fullmatch(alert["raised"])
        assert alert["level"] in {"watch", "call", "go"}


def test_a_clock_that_a_rest_has_stopped_tells_how_long_it_counted(bramble: Caller) -> None:
    """The time since it began goes on; what the limit was held against does not."""
    bramble.good("log", "push")
    bramble.later(25)
    bramble.good("log", "rest")
    bramble.later(60)
    [kept] = [
        alert
        for alert in json.loads(bramble("check", "--json").out)["alerts"]
        if alert["rule"] == "rest-no-pup"
    ]

    assert (kept["elapsed_s"], kept["counted_s"]) == (85 * 60, 25 * 60)
    assert kept["limit_s"] == 20 * 60


def test_another_moment(bramble: Caller) -> None:
    """`--at` asks about an earlier or a later moment."""
    bramble.good("log", "push")
    bramble.later(60)

    assert json.loads(bramble.good("check", "--json", "--at", "02:15"))["alerts"] == []
    assert bramble("check", "--at", "02:45").code == 1
    assert bramble("check", "--at", "-59m").code == 0


def test_what_was_known_then(bramble: Caller) -> None:
    """With --as-known a line typed late does not count before it was typed."""
    bramble.later(60)
    bramble("log", "-60m", "push")

    assert bramble("check", "--at", "-20m").code == 1
    assert bramble("check", "--at", "-20m", "--as-known").code == 0


def test_why_names_the_entry_the_clock_and_the_source(bramble: Caller) -> None:
    """`--why` says what an alert rests on."""
    bramble("log", "part", "head")
    out = bramble("check", "--why").out

    assert "Why call, " in out
    assert "entry 3: 02:15 part head" in out
    assert "more: boxlamp rules part-showing" in out


def test_plain_is_one_alert_a_line(bramble: Caller) -> None:
    """Level, rule, subject and sentence between tabs; nothing else."""
    bramble.good("log", "push")
    bramble.later(1)
    bramble("log", "dam", "collapsed")
    bramble.later(30)
    lines = bramble("check", "--plain").out.splitlines()

    assert len(lines) >= 2
    assert {line.count("\t") for line in lines} == {3}
    assert any(line.startswith("go\tdam-collapse\tdam\t") for line in lines)


def test_the_phone_number_stands_with_the_second_step(bramble: Caller) -> None:
    """When it is time to ring, the number is there."""
    bramble("log", "part", "head")

    assert "Dr Novak 000 555 010" in bramble("check").out


def test_nobody_is_sent_to_the_vet_who_is_with_her(bramble: Caller) -> None:
    """Once the vet has arrived the alert stands, and asks only to tell the vet."""
    bramble.good("log", "push")
    bramble.later(31)
    assert "Leave for the vet now" in bramble("check").out
    bramble.good("log", "vet arrived")
    said = bramble("check")

    assert said.code == 1
    assert "GO" in said.out
    assert "Leave for the vet" not in said.out
    assert "Tell the vet who is with her" in said.out


def test_nobody_who_has_left_is_told_to_leave(bramble: Caller) -> None:
    """The alert stands as loud as before, and asks to drive on; the number is still there."""
    bramble.good("log", "push")
    bramble.later(31)
    bramble.good("log", "left for vet")
    for command in ("check", "board"):
        words = " ".join(bramble(command).out.split())

        assert "!!! GO" in words
        assert "Leave for the vet" not in words
        assert "Drive on to the vet, and ring ahead to say this." in words
        assert "If you turned back, leave again." in words
        assert "000 555 010" in words
    assert bramble("check").code == 1
    bramble.later(4 * 60)
    assert "Leave for the vet now" in bramble("check").out


def test_a_sign_to_look_for_on_the_way_is_a_thing_to_tell(bramble: Caller) -> None:
    """A watch that says what would make one leave says to tell the vet, once they have left."""
    bramble("log", "pup")
    bramble("log", "discharge red some")
    gums = "Look at her gums: pale gums mean"
    assert f"{gums} leave for the vet now." in bramble("check").out
    bramble("log", "left for vet")

    assert f"{gums} tell the vet now." in bramble("check").out


def test_where_the_vet_is_coming_to_wait_is_a_choice(bramble: Caller) -> None:
    """The alert stands as loud as before; to leave is still said, as the line may mean another."""
    bramble.good("log", "push")
    bramble.later(31)
    bramble("log", "vet coming")
    for command in ("check", "board"):
        words = " ".join(bramble(command).out.split())

        assert "!!! GO" in words
        assert "Leave for the vet now and ring on the way." not in words
        assert (
            "Leave for the vet now, unless the vet is coming to you: then ring and ask how long it "
            "takes."
        ) in words


def test_who_helps_a_pup_breathe_on_the_way_goes_on(bramble: Caller) -> None:
    """Hands first, then the road; the rest of the step is kept."""
    bramble.good("log", "left for vet")
    bramble("log", "pup limp")
    bramble.later(6)
    said = bramble("check").out

    assert said.index("Keep rubbing") < said.index("Drive on to the vet")
    assert "If you are alone, ring and do as told." in " ".join(said.split())


def test_hands_come_before_words_to_the_vet_who_is_with_her(bramble: Caller) -> None:
    """A pup that does not breathe is rubbed first, whoever stands beside it."""
    bramble.good("log", "vet arrived")
    bramble("log", "pup limp")
    bramble.later(2)
    said = bramble("check").out

    assert said.index("Head low") < said.index("Tell the vet who is with her")
    assert "Ring the vet now" not in said


def test_a_clock_set_back_takes_no_alert_away(bramble: Caller) -> None:
    """What was typed has happened: an hour taken off the computer's clock changes nothing."""
    bramble.good("log", "push")
    bramble.later(25)
    bramble.good("log", "note", "she", "strains")
    assert bramble("check").code == 1
    bramble.later(-60)

    assert bramble("check").code == 1
    assert "last push 25 min ago" in bramble.good("board")

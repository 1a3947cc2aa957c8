import json
import re
import signal
import subprocess
from pathlib import Path

import pytest
from syrupy.assertion import SnapshotAssertion

from boxlamp.desk.drills import library, past_night
from boxlamp.desk.files import read_record
from boxlamp.training.drill.points import stops_of
from boxlamp.training.drill.sitting import right_answer
from boxlamp.view.text import width_of
from boxlamp.view.words import CAUTION
from support.calls import PROGRAM, Caller, started, surroundings
from support.drills import night_of, stops_in
from support.nights import DEMO
from support.terminal import terminal

STUCK = str(DEMO / "pup-stuck.night")
OWN = """dam: Ash
date: 2026-03-02
expected: 3 xray
lesson: {lesson}

01:00 sign restless
01:50 contraction strong
02:20 pup bitch 300g head first
02:26 afterbirth
02:30 milk 1
03:10 rest
"""


def key(name: str) -> str:
    """The right answer to every stop of a night, one a line."""
    return "".join(f"{right_answer(night_of(name), stop)}\n" for stop in stops_in(name))


def own_key(file: Path) -> str:
    """The same for a night of a file that a test has written."""
    night = past_night(read_record(str(file)))
    return "".join(f"{right_answer(night, stop)}\n" for stop in stops_of(night))


def results(call: Caller) -> list[dict[str, object]]:
    path = call.journal.with_suffix(".training")
    return [json.loads(line) for line in path.read_text(encoding="utf-8").splitlines()]


@pytest.fixture(autouse=True)
def _no_settings(monkeypatch: pytest.MonkeyPatch) -> None:
    for name in ("BOXLAMP_TRAINING", "BOXLAMP_TRAINEE"):
        monkeypatch.delenv(name, raising=False)


def test_a_whole_drill(
    call: Caller, tmp_path: Path, snapshot: SnapshotAssertion, monkeypatch: pytest.MonkeyPatch
) -> None:
    """As a person meets it at 80 columns: right, early and late answers, and the report."""
    monkeypatch.chdir(DEMO.parent)
    file = tmp_path / "answers"
    wrong = {1: "2", 3: "carry on", 5: "go", 7: "call", 8: "pup dog"}
    lines = [wrong.get(place, line) for place, line in enumerate(key(STUCK).splitlines())]
    file.write_text("# a lesson\n\n" + "\n".join(lines), encoding="utf-8")
    out = call.good("drill", STUCK, "--answers", file)

    assert out == snapshot
    assert all(width_of(line) <= 80 or line == CAUTION or "replay" in line
               for line in out.splitlines())  # fmt: skip


def test_the_key_gets_full_marks(call: Caller) -> None:
    """In words, in JSON and in the results file."""
    out = call.good("drill", STUCK, "--answers", "-", stdin=key(STUCK).encode())
    assert "100 of 100. Well done" in out
    assert out.count("Right") >= len(stops_in(STUCK))
    told = json.loads(
        call.good("drill", STUCK, "--answers", "-", "--json", stdin=key(STUCK).encode())
    )

    assert set(told) == {"schema", "kept", "verdict", "failed", "missed", "late", "nervous",
                         "restless", "result", "stops", "lesson"}  # fmt: skip
    assert told["kept"] is True
    assert told["result"]["score"] == 100
    assert told["result"]["wrong"] == []
    assert all(one["minutes"] <= 0 for one in told["result"]["caught"])
    assert all(stop["off"] == 0 and stop["at"][19] in "+-" for stop in told["stops"])
    assert [one["score"] for one in results(call)] == [100, 100]
    assert told["result"] == results(call)[1]


@pytest.mark.parametrize(
    ("text", "where", "hint"),
    [
        ("1\n# fine\nbanana\n", ":3: 'banana' is no answer", "carry on, watch, call or go"),
        ("5\n", ":1: '5' is no answer", "1, 2, 3, 4"),
    ],
)
def test_an_answer_that_does_not_fit_is_named(
    call: Caller, tmp_path: Path, text: str, where: str, hint: str
) -> None:
    """The file, the line, the time of the night, and what would fit. Nothing is kept."""
    file = tmp_path / "answers"
    file.write_text(text, encoding="utf-8")
    said = call("drill", STUCK, "--answers", file)

    assert said.code == 2
    assert f"{file}{where}" in said.err
    assert hint in said.err
    assert not call.journal.with_suffix(".training").exists()


def left(call: Caller, *words: str | Path, stdin: bytes = b"") -> str:
    """What a call that leaves before the end answers; its exit code says so."""
    said = call(*words, stdin=stdin)
    assert said.code == 1, said
    return said.out


def test_a_script_that_ends_early_leaves(call: Caller) -> None:
    """It has no score; what was answered is kept; nothing later, and no file's name, is told."""
    out = left(call, "drill", STUCK, "--answers", "-", stdin=b"1\n1\nq\n2\n")

    assert f"You left after 2 of {len(stops_in(STUCK))} stops: no score." in out
    assert "of 100" not in out
    assert "stuck" not in out
    assert "It ended with" not in out
    (kept,) = results(call)
    assert (kept["finished"], kept["stops"], kept["passed"]) == (False, 2, False)
    assert kept["score"] is None
    said = call("drill", STUCK, "--answers", "-", "--json", stdin=b"1\n1\n")
    told = json.loads(said.out)
    assert (said.code, told["result"]["score"], told["verdict"]) == (1, None, None)
    assert "left early" in call.good("drill", "--list")
    assert "no score" in call.good("drill", "--progress")


def test_without_an_answer_nothing_is_kept(call: Caller) -> None:
    """There is no result of nothing."""
    assert "no score" in left(call, "drill", STUCK, "--answers", "-")
    assert not call.journal.with_suffix(".training").exists()


def test_every_wrong_decision_is_listed(call: Caller) -> None:
    """With its time, what was chosen, what was right, and the rule; and where the result lies."""
    lines = ["1" if stop.kind == "level" else "-" for stop in stops_in(STUCK)]
    out = call.good("drill", STUCK, "--answers", "-", stdin="\n".join(lines).encode())

    assert re.search(
        r"^  \d\d:\d\d  you said carry on, right was call: part-showing$", out, re.MULTILINE
    )
    assert "The result is kept." in out
    assert "Next: boxlamp drill (it exercises something you got wrong)" in out


def test_the_opening_says_that_the_night_does_not_change(call: Caller) -> None:
    """Nobody is puzzled that a call changes nothing."""
    out = " ".join(left(call, "drill", STUCK, "--answers", "-").split())

    assert "Your answers do not change the night." in out
    assert "as if you had not rung yet" in out


@pytest.mark.parametrize(
    "words",
    [
        ("--list", "--imagine"), ("--list", "3"), ("--progress", "3"), ("--list", "--progress"),
        ("--progress", "--answers", "-"), ("--litter", "ash", "--imagine"),
        ("--litter", "ash", "3"),
    ],
)  # fmt: skip
def test_pointless_pairs_are_refused(call: Caller, words: tuple[str, ...]) -> None:
    """One sentence that says what to leave out."""
    said = call("drill", *words)

    assert (said.code, said.out) == (2, "")
    assert "leave out" in said.err


def test_a_night_nobody_knows_is_told_before_a_terminal_is_asked_for(call: Caller) -> None:
    """What is wrong first comes first."""
    assert "no night called nobody" in call("drill", "nobody").err


def test_more_words_are_understood(call: Caller) -> None:
    """Ring, phone, wait, go on; quit and exit leave."""
    words = "ring\nphone\nwait\ngo on\ncall vet\n"
    stops = [stop for stop in stops_in(STUCK) if stop.kind == "level"]
    assert len(stops) >= 5
    for word in words.split("\n")[:-1]:
        assert "You left after 1 of" in left(
            call, "drill", STUCK, "--answers", "-", stdin=f"{word}\nexit\n".encode()
        )
    assert "You left after 1 of" in left(
        call, "drill", STUCK, "--answers", "-", stdin=b"carry on\nquit\n"
    )


def test_a_litter_of_ones_own(call: Caller) -> None:
    """As far as it is written down; a name nobody has is said."""
    call.good("new", "--dam", "Ash")
    for line in ("expect 4 xray", "contraction", "pup bitch 300g", "afterbirth"):
        call.good("log", line)
        call.later(20)
    out = left(call, "drill", "--litter", "ash-2026-03-02", "--answers", "-", stdin=b"1\n")

    assert "Ash" in out
    assert call("drill", "--litter", "nobody", "--answers", "-").code != 0


def test_a_long_wrong_answer_is_shortened(call: Caller) -> None:
    """The sentence stays one that can be read."""
    said = call("drill", STUCK, "--answers", "-", stdin=b"x" * 5000)

    assert said.code == 2
    assert len(said.err) < 400


def test_a_shipped_night_is_replayed_by_its_name(call: Caller) -> None:
    """The drill's last line works as it stands, wherever the program lies."""
    out = call.good("drill", "pup-stuck", "--answers", "-", stdin=key(STUCK).encode())

    assert out.splitlines()[-1] == "This night as it was: boxlamp replay pup-stuck"
    assert call.good("replay", "pup-stuck") == call.good("replay", STUCK)


def test_answers_left_over_are_told(call: Caller) -> None:
    """A script for another night does not pass in silence."""
    said = call("drill", STUCK, "--answers", "-", stdin=f"{key(STUCK)}go\ngo\n".encode())

    assert said.code == 0
    assert "Answers left over in <standard input>: 2." in said.err


def test_the_list_gives_nothing_away(call: Caller) -> None:
    """Numbers, dams, breeds; no file's name, no lesson, no trouble; and the last score."""
    out = call.good("drill", "--list")

    for one in library():
        assert one.record.name in out
        assert one.path.stem not in out
        assert not one.record.lesson or one.record.lesson not in out
    assert not re.search("stuck|green|stall|caesar|normal|trouble", out)
    assert "of 100" not in out
    call.good("drill", STUCK, "--answers", "-", stdin=key(STUCK).encode())
    pepper = next(one for one in library() if one.path.stem == "pup-stuck")
    rows = json.loads(call.good("drill", "--list", "--json"))["nights"]
    assert call.good("drill", "--list").count("of 100") == 1
    assert [row["number"] for row in rows if row["last"]] == [pepper.number]


def test_a_night_is_found_by_number_name_or_file(call: Caller) -> None:
    """And what is not found is said, with what to do."""
    number = next(str(one.number) for one in library() if one.record.name == "Juniper")
    for name in (number, "juniper", "stalled-labour", DEMO / "stalled-labour.night"):
        assert "Juniper" in left(call, "drill", name, "--answers", "-")
    for name, why in (("99", "from 1 to"), ("nobody", "--list"), ("no/such.night", "--list"),
                      ("x" * 5000, "--list"), ("\u00b2", "--list")):  # fmt: skip
        said = call("drill", name, "--answers", "-")
        assert (said.code, why in said.err) == (2, True)


def test_a_night_of_ones_own(call: Caller, tmp_path: Path) -> None:
    """Any night log, with its own lesson at the end, harmless."""
    file = tmp_path / "own.night"
    file.write_text(OWN.format(lesson="Look twice \x1b[2J."), encoding="utf-8")
    out = call.good("drill", file, "--answers", "-", stdin=own_key(file).encode())

    assert "What this night teaches: Look twice" in out
    assert "\x1b" not in out
    # From wherever one stands, the shortest way to the file.
    [again] = re.findall(r"boxlamp replay (\S+own\.night)", out)
    assert Path(again).resolve() == file.resolve()


def test_an_imagined_night(call: Caller) -> None:
    """The same seed is the same night; it can be had again; a seed is a number."""
    first = left(call, "drill", "--imagine", "7", "--answers", "-")
    assert first == left(call, "drill", "7", "--imagine", "--answers", "-")
    assert "of" in left(call, "drill", "--imagine", "--answers", "-")
    for seed in ("seven", "\u00b2", "9" * 5000, "1.5", "-3"):
        said = call("drill", "--answers", "-", "--imagine", "--", seed)
        assert (said.code, "from 0 to 999" in said.err) == (2, True)


def test_the_next_night_follows_from_the_results(call: Caller) -> None:
    """Without a name it takes the shortest first, then another; each trainee has an own course."""
    first = left(call, "drill", "--answers", "-", stdin=b"1\n")
    second = left(call, "drill", "--answers", "-", stdin=b"1\n")

    shortest = min(library(), key=lambda one: one.shelf.length)
    assert shortest.record.name in first
    assert shortest.record.name not in second
    assert left(call, "drill", "--trainee", "Ann", "--answers", "-") == left(
        call, "drill", "--trainee", "Bob", "--answers", "-"
    )


def test_progress_is_per_trainee(call: Caller, monkeypatch: pytest.MonkeyPatch) -> None:
    """Scores by day, what still goes wrong; in JSON the results as they are kept."""
    assert "No drill yet" in call.good("drill", "--progress")
    monkeypatch.setenv("BOXLAMP_TRAINEE", "Ann")
    lines = ["1" if stop.kind == "level" else "-" for stop in stops_in(STUCK)]
    call.good("drill", STUCK, "--answers", "-", stdin="\n".join(lines).encode())
    out = call.good("drill", "--progress")

    assert "1 drill finished, 0 passed." in out
    assert "boxlamp rules part-showing" in out
    told = json.loads(call.good("drill", "--progress", "--json"))
    assert told == {"schema": 1, "trainee": "Ann", "drills": results(call)}
    assert "No drill yet" in call.good("drill", "--progress", "--trainee", "Bob")


def test_without_a_terminal_it_says_what_it_needs(call: Caller) -> None:
    """One sentence, with what to type."""
    said = call("drill", "3")

    assert said.code == 2
    assert said.out == ""
    assert "needs a terminal" in said.err
    assert "--answers FILE" in said.err


def test_a_result_that_cannot_be_kept_costs_no_report(
    call: Caller, monkeypatch: pytest.MonkeyPatch
) -> None:
    """On a full disk the report is shown all the same, and the person is told."""
    monkeypatch.setenv("BOXLAMP_TRAINING", "/dev/full")
    said = call("drill", STUCK, "--answers", "-", stdin=key(STUCK).encode())

    assert said.code == 1
    assert "100 of 100" in said.out
    assert "The result was not kept: /dev/full: No space left on device." in said.err
    told = call("drill", STUCK, "--answers", "-", "--json", stdin=key(STUCK).encode())
    assert json.loads(told.out)["kept"] is False


def test_a_damaged_file_of_results_stops_nothing(call: Caller) -> None:
    """It is told of and kept, and the new result stands behind it."""
    place = call.journal.with_suffix(".training")
    place.parent.mkdir(parents=True)
    place.write_bytes(b"\xff\x00{torn")
    said = call("drill", STUCK, "--answers", "-", stdin=b"1\n")

    assert said.code == 1
    assert "1 line could not be read" in said.err
    assert place.read_bytes().startswith(b"\xff\x00{torn\n{")


def test_unreadable_answers_are_refused(call: Caller, tmp_path: Path) -> None:
    """A missing file, and one that is no text."""
    binary = tmp_path / "b"
    binary.write_bytes(b"\xff\xfe")
    for file in (tmp_path / "none", binary, tmp_path):
        assert call("drill", STUCK, "--answers", file).code == 2


def test_a_closed_pipe_ends_quietly(tmp_path: Path) -> None:
    """The installed program, scripted, far from any checkout's terminal."""
    done = started("drill", STUCK, "--answers", "-", journal=tmp_path / "j.db", stdin=b"1\n1\n")

    assert done.returncode == 1
    assert b"You left after 2 of" in done.stdout
    assert done.stderr == b""


def test_at_a_terminal(tmp_path: Path) -> None:
    """A wrong word and ? ask again; q leaves and keeps what was answered."""
    journal = tmp_path / "j.db"
    with terminal(journal, "drill", STUCK) as box:
        box.wait("What now?")
        box.child.send("banana\r")
        box.wait("'banana' is no answer here.")
        box.child.send("?\r")
        box.wait("2 watch     Not as it should be")
        box.child.send("\r")
        box.wait("Type carry on")
        box.child.send("1\r")
        box.wait("Enter goes on")
        box.child.send("\r")
        box.wait("---- 2 of ")
        box.resize(60, 20)
        box.child.send("q\r")
        assert box.left() == 1
        assert "Next: boxlamp drill" in box.shown
    assert json.loads(journal.with_suffix(".training").read_text())["stops"] == 1


def test_ctrl_c_and_ctrl_d_leave_with_the_report(tmp_path: Path) -> None:
    """130 and 1; what was answered is kept both times."""
    journal = tmp_path / "j.db"
    for key_name, code in (("c-c", 130), ("c-d", 1)):
        with terminal(journal, "drill", STUCK) as box:
            box.wait("What now?")
            box.child.send("1\r")
            box.wait("Enter goes on")
            box.press(key_name)
            assert box.left() == code
            assert "You left after 1 of" in box.shown
    assert len(journal.with_suffix(".training").read_text().splitlines()) == 2


@pytest.mark.parametrize("number", [signal.SIGHUP, signal.SIGTERM])
def test_a_closed_window_keeps_what_was_answered(tmp_path: Path, number: int) -> None:
    """Being asked to end, or losing the window, is like Ctrl-C; its own exit code tells which."""
    journal = tmp_path / "j.db"
    with terminal(journal, "drill", STUCK) as box:
        box.wait("What now?")
        box.child.send("1\r")
        box.wait("Enter goes on")
        box.child.kill(number)
        assert box.left() == 128 + number
    assert json.loads(journal.with_suffix(".training").read_text())["stops"] == 1


def test_the_log_can_be_looked_up(tmp_path: Path) -> None:
    """`l` shows what was written down so far and asks again; a refused answer asks again too."""
    with terminal(tmp_path / "j.db", "drill", STUCK) as box:
        box.wait("What now?")
        box.child.send("l\r")
        box.until(lambda: box.shown.count("What now?") == 2, "the question again")
        box.child.send("banana\r")
        box.until(lambda: box.shown.count("What now?") >= 2 and "no answer" in box.shown)


def test_a_line_gets_one_more_try(tmp_path: Path) -> None:
    """With a hint and without the line itself; the second answer counts."""
    stops = stops_in(STUCK)
    place = next(place for place, stop in enumerate(stops) if stop.kind == "line")
    answers = key(STUCK).splitlines()
    with terminal(tmp_path / "j.db", "drill", STUCK) as box:
        for number in range(place):
            box.wait(f"---- {number + 1} of")
            box.child.send(f"{answers[number]}\r")
            box.wait("Enter goes on")
            box.child.send("\r")
            box.until(lambda: f"---- {number + 2} of" in box.shown)  # noqa: B023 - waited for here
        box.wait("What do you type into the log?")
        box.child.send("push\r")
        box.wait("Try once more")
        assert "own line" not in box.shown
        box.child.send(f"{answers[place]}\r")
        box.wait("Right. Understood as")


def test_closed_input_is_said(tmp_path: Path) -> None:
    """A program started without any input is told what it needs, and does not crash."""
    line = f"exec '{PROGRAM}' drill 3 <&-"
    done = subprocess.run(
        ["/bin/sh", "-c", line], capture_output=True, check=False, timeout=30,
        env=surroundings(tmp_path / "j.db"),
    )  # fmt: skip
    assert done.returncode == 2
    assert b"--answers FILE" in done.stderr
    assert b"Traceback" not in done.stderr


def test_pasted_lines_are_one_answer(tmp_path: Path) -> None:
    """Text pasted with line ends answers one question and not the next ones too."""
    with terminal(tmp_path / "j.db", "drill", STUCK) as box:
        box.wait("What now?")
        box.child.send("\x1b[200~go\ngo\ngo\x1b[201~\r")
        box.wait("'go go go' is no answer here.")


def test_no_lesson_is_told_before_the_end(call: Caller, tmp_path: Path) -> None:
    """Neither lesson nor ending stands in what is told up to the last answer."""
    file = tmp_path / "own.night"
    file.write_text(OWN.format(lesson="Look twice."), encoding="utf-8")
    out = left(call, "drill", file, "--answers", "-", stdin=b"1\n")
    answers = own_key(file)
    whole = call.good("drill", file, "--answers", "-", stdin=answers.encode())

    before, _, after = whole.partition("== The night is over")
    assert "Look twice." not in before
    assert "Look twice." in after
    assert "Look twice." not in out

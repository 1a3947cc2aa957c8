import json
from pathlib import Path

import pytest

from boxlamp.journal import open_journal
from boxlamp.model.entry import Entry
from boxlamp.model.happenings import Birth, Contraction, Note, Rest
from support.calls import Caller


def entries(call: Caller) -> list[Entry]:
    """What was written down, the opening left out."""
    with open_journal(call.journal) as journal:
        current = journal.current()
        assert current is not None
        return [*journal.entries(current.slug)][2:]


def test_a_line_is_written_down_and_answered(bramble: Caller) -> None:
    """The answer names the entry, its time, how it was understood, what is next and what helps."""
    said = bramble("log", "02:14", "pup", "dog", "312g", "red")

    first, *rest = said.out.splitlines()
    assert (said.code, said.err) == (0, "")
    assert first == "   3  02:14  pup 1 dog 312g red  (this is pup 1)"
    assert any(line.startswith("Next: watch in ") for line in rest)
    assert any(line.startswith("Now: Open the sac") for line in rest)


@pytest.mark.parametrize(
    ("words", "ago", "kind"),
    [
        (("-5m", "pup"), 5, Birth),
        (("-1h20m", "push"), 80, Contraction),
        (("-5m rest",), 5, Rest),
        (("--", "-5m", "pup"), 5, Birth),
        (("5", "min", "ago", "rest"), 5, Rest),
    ],
)
def test_a_time_that_begins_with_a_dash_needs_no_care(
    bramble: Caller, words: tuple[str, ...], ago: int, kind: type
) -> None:
    """`log -5m pup` works with and without `--`."""
    bramble.good("log", *words)

    [entry] = entries(bramble)
    assert isinstance(entry.what, kind)
    assert (bramble.now - entry.at).total_seconds() == ago * 60


def test_options_after_two_dashes_are_words_of_the_line(bramble: Caller) -> None:
    """What follows `--` is written down letter for letter, even if it looks like an option."""
    bramble.good("log", "--", "note", "--debug", "-h", "--json")

    [entry] = entries(bramble)
    assert entry.text == "note --debug -h --json"


def test_a_note_may_begin_with_a_dash(bramble: Caller) -> None:
    """`log -- -3 C outside` is kept whole: as a note, and the person is told."""
    said = bramble("log", "--", "-3", "C", "outside")

    [entry] = entries(bramble)
    assert said.code == 1
    assert (entry.text, entry.what) == ("-3 C outside", Note(words="-3 C outside", unread=True))


def test_an_unknown_line_is_kept_as_a_note(bramble: Caller) -> None:
    """It is stored, the answer says so in capitals; exit code 1."""
    said = bramble("log", "pussh", "strong")

    [entry] = entries(bramble)
    assert said.code == 1
    assert entry.text == "pussh strong"
    assert "NOT UNDERSTOOD, kept as a note: pussh strong" in said.out


def test_lines_come_from_a_pipe(bramble: Caller) -> None:
    """`log -` writes down every line that is not blank, in order."""
    said = bramble("log", "-", stdin=b"-3m pup\r\n\n   \n-1m afterbirth\nmilk 1")

    assert said.code == 0
    assert [entry.text for entry in entries(bramble)] == ["-3m pup", "-1m afterbirth", "milk 1"]


def test_one_unknown_line_in_a_pipe_is_bad_news(bramble: Caller) -> None:
    """The others are written down all the same; the exit code is 1."""
    said = bramble("log", "-", stdin=b"push\nxyzzy\nrest\n")

    assert said.code == 1
    assert [entry.what.kind for entry in entries(bramble)] == ["contraction", "note", "rest"]


def test_bytes_that_are_no_text_are_kept_visibly(bramble: Caller) -> None:
    """A pipe with broken bytes never stops the log."""
    bramble.good("log", "-", stdin=b"\xef\xbb\xbfnote caf\xc3\xa9 \xff\xfe\n")

    assert [entry.text for entry in entries(bramble)] == ["note caf\u00e9 \ufffd\ufffd"]


@pytest.mark.parametrize("words", [("02:40", "pup"), ("2026-03-02", "02:40", "pup")])
def test_a_doubtful_time_is_refused_in_a_script(bramble: Caller, words: tuple[str, ...]) -> None:
    """A time that has not come is not written down: exit code 2, the reason and the way out."""
    said = bramble("log", *words)

    assert said.code == 2
    assert said.err.startswith("boxlamp: Not written down: ")
    assert "add --yes" in said.err
    assert not entries(bramble)


def test_a_doubtful_time_is_taken_with_yes(bramble: Caller) -> None:
    """With --yes the line is written down as it stands."""
    bramble.good("log", "02:40", "push", "--yes")

    assert [entry.text for entry in entries(bramble)] == ["02:40 push"]


def test_a_doubtful_line_in_a_pipe_is_kept_as_a_note(bramble: Caller) -> None:
    """Nobody can be asked there, so it is kept with the reason, and the lines after it count."""
    said = bramble("log", "-", stdin=b"push\n02:40 pup\nrest\n")

    assert said.code == 1
    assert [entry.text for entry in entries(bramble)] == ["push", "02:40 pup", "rest"]
    assert [entry.what.kind for entry in entries(bramble)] == ["contraction", "note", "rest"]
    assert "kept as a note: 02:40 pup" in said.out


def test_the_answer_as_json(bramble: Caller) -> None:
    """`--json` gives the entry as stored, its echo and the state of things."""
    said = json.loads(bramble.good("log", "push", "--json"))

    assert said["schema"] == 1
    assert (said["entry"]["id"], said["understood"], said["why"]) == (3, True, None)
    assert said["check"]["litter"] == "bramble-2026-03-02"


def test_an_alert_is_said_at_once_with_the_vets_number(bramble: Caller) -> None:
    """A line that raises a call is answered with it, with what to do and whom to ring."""
    bramble.good("log", "push")
    bramble.later(1)
    out = bramble.good("log", "part", "head")

    assert " !! CALL  02:16 " in out
    assert "Dr Novak 000 555 010" in out


def test_what_a_line_ended_is_said(bramble: Caller) -> None:
    """The pup that ends an alert ends it in the answer too."""
    bramble.good("log", "part", "head")
    bramble.later(1)

    assert "      over: " in bramble.good("log", "pup")


GRAVE = ("02:00 pup 300g", "02:01 pup 2 310g", "02:02 pup 3 320g", "02:03 dam collapsed",
         "02:04 discharge red heavy", "02:05 part head", "02:06 dam vomited dull",
         "02:07 state 1 cold")  # fmt: skip


def test_an_answer_tells_what_changed_and_the_worst_and_counts_the_rest(bramble: Caller) -> None:
    """A step typed late is not answered with everything that has been said before."""
    for line in GRAVE:
        bramble.good("log", line)
    bramble.later(1)
    bramble.good("log", "ack")
    bramble.later(1)
    out = bramble.good("log", "-5m", "breathing", "1")
    lines = out.splitlines()

    assert lines[0].endswith("breathing 1")
    gos = [line for line in lines if line.startswith("!!! GO")]
    assert len(gos) == 3
    assert sum("000 555 010" in line for line in lines) == 1
    assert any(line.startswith("          Leave for the vet now") for line in lines)
    assert any("more stand as before: " in line and "All: boxlamp board" in line for line in lines)
    assert len(lines) <= 10


def test_an_alert_that_came_meanwhile_is_told_whole(bramble: Caller) -> None:
    """What nobody has been told yet is told by the next answer, whatever was typed."""
    bramble.good("log", "dam collapsed")
    bramble.good("log", "push")
    bramble.later(25)
    out = bramble.good("log", "note she lies on her side")

    assert " !! CALL  02:3" in out
    assert "Ring the vet now" in out.split(" !! CALL", 1)[1]


def test_an_unheard_call_is_never_only_counted(bramble: Caller) -> None:
    """Until somebody has taken notice of it a call keeps its sentence; heard, it is counted."""
    bramble.good("log", "dam collapsed")
    bramble.good("log", "discharge foul")
    bramble.later(1)
    again = bramble.good("log", "note calm")
    bramble.good("log", "ack")
    bramble.later(1)

    assert " !! CALL  " in again
    assert "and 1 more stands as before: 1 CALL. All: boxlamp board" in bramble.good(
        "log", "note calm"
    )


def test_a_danger_that_was_not_read_is_not_soothed(bramble: Caller) -> None:
    """It is kept as a note only, what to type is said, and no other clock is spoken of."""
    said = bramble("log", "something", "dark", "at", "vulva")

    assert said.code == 1
    assert "A note ONLY, no clock runs for it: something dark at vulva" in said.out
    assert "type: discharge black" in said.out
    assert "Next: " not in said.out
    assert json.loads(bramble("log", "dark", "--json").out)["if_meant"] == [
        "If a discharge is black or dark green, type: discharge black"
    ]


@pytest.mark.parametrize("line", ["2-35 pup", "pup 1:50 red", "half 2 push", "xyzzy"])
def test_a_line_that_was_not_read_is_not_soothed(call: Caller, line: str) -> None:
    """On a fresh litter no clock runs, and just then it may be the first push that was not read."""
    call.good("new", "--dam", "Ash", "--no-input")
    said = call("log", *line.split())
    assert "NOT UNDERSTOOD" in said.out
    assert "No clock runs" not in said.out
    assert "No clock runs" in call("log", "note she is calm").out


def test_a_clock_that_runs_is_told_after_a_line_that_was_not_read(bramble: Caller) -> None:
    """What comes next is no soothing."""
    bramble.good("log", "push")
    assert "Next: " in bramble("log", "2-35", "rest").out


def test_a_birth_in_a_pipe_that_may_be_the_same_is_told(bramble: Caller) -> None:
    """Nobody can be asked there: it is kept as a note, with both lines to type, and bad news."""
    said = bramble("log", "-", stdin=b"pup\npup\npup 2\n")
    assert said.code == 1
    assert "Another: `pup 2`. Pup 1 again: leave this line out." in said.out
    assert [entry.what.kind for entry in entries(bramble)][-3:] == ["birth", "note", "birth"]


def test_without_a_litter_it_says_how_to_open_one(call: Caller) -> None:
    """There is nothing to write in yet: exit code 2 and the command that helps."""
    said = call("log", "pup")

    assert (said.code, said.out) == (2, "")
    assert "boxlamp new --dam NAME" in said.err


def test_terminal_codes_in_a_line_never_reach_the_terminal(bramble: Caller) -> None:
    """Escape sequences and direction marks are shown as replaced."""
    bramble("log", "note \x1b[2J\x1b]0;x\x07 \u202egnp")

    for words in (("board",), ("board", "--plain"), ("export",), ("export", "--form", "night")):
        shown = bramble.good(*words)
        assert not set("\x1b\x07\u202e") & set(shown), words


def test_an_acknowledgement_names_a_rule_that_is_there(bramble: Caller) -> None:
    """The start of a name is enough; a name that fits no rule is refused, not written down."""
    bramble.good("log", "ack contr")

    assert bramble("log", "ack fnord").code == 2
    assert [entry.text for entry in entries(bramble)] == ["ack contr"]


def test_a_corrected_time_ahead_is_not_taken_for_yesterdays(bramble: Caller) -> None:
    """`amend 3 02:20` at 02:15 is asked about, not moved a day back."""
    bramble.good("log", "-2m", "pup", "m", "300g")
    said = bramble("log", "amend 3 02:20")

    assert said.code == 2
    assert "has not come yet" in said.err
    assert len(entries(bramble)) == 1


@pytest.mark.parametrize(
    "words", [("push", "--journal"), ("push", "--litter"), ("push", "--by"), ("--by", "--", "push")]
)
def test_an_option_without_its_value_takes_nothing_for_it(
    bramble: Caller, words: tuple[str, ...], tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """It is refused, and no journal and no name is made of the mark that ends the options."""
    monkeypatch.chdir(tmp_path)
    said = bramble("log", *words)

    assert said.code == 2
    assert "requires an argument" in said.err
    assert not Path("--").exists()

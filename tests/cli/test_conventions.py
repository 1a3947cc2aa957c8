"""Points of the command line that the whole tree of commands keeps; see docs/reference."""

import json
import re
import signal
import socket
import subprocess
from pathlib import Path
from typing import Any

import pexpect
import pytest

from boxlamp.cli.settings import VARIABLES
from boxlamp.cli.tree import Page, pages
from boxlamp.journal import default_path
from boxlamp.view.palette import NIGHT
from boxlamp.view.show_rich import STYLES
from support.calls import PROGRAM, Caller, started, surroundings
from support.nights import DEMO

PAGES = list(pages())
each_page = pytest.mark.parametrize("page", PAGES, ids=lambda page: page.words)

# What answers with a file, a screen of its own or one sentence about what it did.
NO_JSON = {
    "new": "opens a litter and says so", "attend": "is a screen",
    "blank-sheet": "makes a sheet of paper", "imagine": "writes a night log",
    "export": "writes the record itself", "import": "takes a file in and says so",
    "backup": "copies and says so", "protocol check": "says yes, or what is wrong",
    "protocol use": "changes limits and says so", "manual": "is a page of roff",
    "completion": "is a script",
}  # fmt: skip
NO_PLAIN = {"log": "answers in lines", "summary": "has --form text"}


def test_options_are_read_in_every_usual_way(bramble: Caller) -> None:
    """A value after a space or after =; short ones together; none is taken for its beginning."""
    bramble.good("log", "push")
    asked = [("--at", "02:30"), ("--at=02:30",)]

    assert len({bramble.good("board", *words) for words in asked}) == 1
    assert bramble.good("board", "-fh").startswith("Usage: boxlamp board")
    for words in (("--jso",), ("--pla",), ("--js", "x")):
        assert bramble("check", *words).code == 2


@pytest.mark.parametrize("command", ["log", "import", "backup", "protocol check", "protocol use",
                                     "completion", "protocol", ""])  # fmt: skip
def test_nothing_where_something_is_needed_is_answered_with_help(
    call: Caller, command: str
) -> None:
    """The help with an example, on standard error or output, exit code 2; nothing is done."""
    said = call(*command.split())
    text = said.out + said.err

    assert said.code == 2
    assert text.startswith("Usage: boxlamp")
    assert "boxlamp new --dam" in text or "For example" in text or "Commands:" in text
    assert not call.journal.parent.exists()


@each_page
def test_help_begins_with_examples(page: Page) -> None:
    """A command's help says what it does, then shows a line to type, before its options."""
    told = " ".join(page.more)

    assert "boxlamp " in told, page.words
    assert page.words in told or page.words == "protocol trial"


def test_the_first_screen_names_the_manual(call: Caller) -> None:
    """Help leads on to the manual page and the words, neither of which needs a network."""
    out = call.good("--help")

    assert "boxlamp manual" in out
    assert "boxlamp words" in out


def test_options_have_their_usual_names() -> None:
    """What many programs call the same is called that here, and by no other name."""
    names = {name for page in PAGES for option in page.options for name in option.names}

    assert {"--output", "--json", "--plain", "--no-input", "--no-color", "--dry-run"} <= names
    assert not names & {"--out", "--outfile", "--to", "--colour", "--color", "--silent", "--batch",
                        "--noninteractive", "--simulate", "--file", "--dir"}  # fmt: skip
    for page in PAGES:
        for option in page.options:
            if "-o" in option.names:
                assert option.names == ("--output", "-o")


@each_page
def test_one_kind_of_word_behind_a_command(page: Page) -> None:
    """No command takes two kinds of words whose order must be remembered."""
    assert len(page.arguments) <= 1


def test_one_name_one_meaning() -> None:
    """An option takes a value everywhere or nowhere, and the same variable sets it everywhere."""
    for name in {name for page in PAGES for option in page.options for name in option.names}:
        found = [o for page in PAGES for o in page.options if name in o.names]
        assert len({bool(option.value) for option in found}) == 1, name
        assert len({option.variable for option in found}) == 1, name
        assert len({option.names for option in found}) == 1, name


@each_page
def test_what_prints_data_prints_json(page: Page) -> None:
    """`--json` is on every command that answers with data; the others are named with a reason."""
    names = {name for option in page.options for name in option.names}

    assert ("--json" in names) != (page.words in NO_JSON)


@each_page
def test_what_prints_json_prints_lines(page: Page) -> None:
    """`--plain` stands beside `--json`, but for those named."""
    names = {name for option in page.options for name in option.names}

    if "--json" in names and page.words not in NO_PLAIN:
        assert "--plain" in names


@pytest.mark.parametrize(("words", "fields"), [
    ("verify", {2}), ("protocol show", {5}), ("protocol show --default", {4}),
    ("drill --list", {6}), ("litters", {4}), ("rules", {3}), ("words", {4}),
])  # fmt: skip
def test_plain_lines_have_their_fields(bramble: Caller, words: str, fields: set[int]) -> None:
    """Tabs part the fields; each line of a kind has the same ones, and nothing is drawn."""
    lines = bramble.good(*words.split(), "--plain").splitlines()

    assert len(lines) >= 1
    assert {len(line.split("\t")) for line in lines} == fields


def test_a_drill_has_no_plain_form(call: Caller) -> None:
    """A drill is told and asked; what can be had in lines is its list and its progress."""
    said = call("drill", "1", "--plain")

    assert (said.code, said.out) == (2, "")
    assert call.good("drill", "--progress", "--plain") == ""


def test_results_and_talk_go_their_own_ways(bramble: Caller, tmp_path: Path) -> None:
    """The answer on standard output, what is said about it on standard error."""
    wrote = bramble("export", "-o", tmp_path / "a.jsonl")
    made = bramble("blank-sheet", "-o", tmp_path / "a.pdf")
    listed = bramble("litters")
    refused = bramble("check", "--litter", "nobody")

    assert (wrote.out, made.out, listed.err, refused.out) == ("", "", "", "")
    assert wrote.err.startswith("Wrote ")
    assert made.err.startswith("Wrote ")
    assert refused.err.startswith("boxlamp: ")


def test_a_dash_is_a_pipe_wherever_a_file_is_taken(bramble: Caller) -> None:
    """A record, lines, limits and answers come in through it; sheets, dates and nights go out."""
    record = bramble.good("export", "-o", "-").encode()
    own = (
        b'by = "Dr Novak"\nwhy = "large litter"\n[[limit]]\nrule = "gap-more-expected"\n'
        b'level = "call"\nvalue = 3\nunit = "h"\n'
    )
    night = (DEMO / "pup-stuck.night").read_bytes()

    assert bramble.good("import", "-", stdin=record).startswith("bramble-2026-03-02: 0 entries")
    assert bramble.good("log", "-", stdin=b"push\n")
    assert "1 limit" in bramble.good("protocol", "check", "-", stdin=own)
    assert bramble.good("replay", "-", stdin=night).startswith("Pepper")
    assert "Pepper" in bramble.good("summary", "-", stdin=night)
    assert bramble.good("imagine", "--seed", "1", "-o", "-").startswith("#")
    assert bramble("drill", "pup-stuck.night", "--answers", "-", stdin=b"x").code == 2
    bramble.good("log", "mated 2025-12-28")
    assert bramble.good("due", "--ics", "-").startswith("BEGIN:VCALENDAR")
    assert started("blank-sheet", "-o", "-", journal=bramble.journal).stdout.startswith(b"%PDF")


def test_levels_are_told_apart_without_colour(call: Caller) -> None:
    """Stripped of colour, each alert still has its mark and its word."""
    call.later(60 * 24 * 365)
    marks = {"go": "!!! GO", "call": "!! CALL", "watch": "! WATCH"}
    nights = {"eight-weeks": "2026-03-20 09:00", "pup-stuck": "2026-05-17 21:44"}
    for night, at in nights.items():
        call.good("import", DEMO / f"{night}.night")
        out = call.good("board", "--at", at)
        alerts = json.loads(call("check", "--json", "--at", at).out)["alerts"]
        assert alerts
        for alert in alerts:
            assert marks[alert["level"]] in out


def test_nothing_rests_on_hue() -> None:
    """No red and no green; the levels differ by weight or reversal, or by mark and word alone."""
    used = " ".join(STYLES.values())
    assert not re.search(r"red|green|blue|magenta|cyan", used)
    without = {level: STYLES[level].replace("yellow", "").split() for level in ("call", "go")}
    assert without["call"] != without["go"]
    for _, style in NIGHT.style_rules:
        for colour in re.findall(r"#([0-9a-f]{6})", style):
            red, green, blue = (int(colour[n : n + 2], 16) for n in (0, 2, 4))
            assert red >= green >= blue  # warm, from dim to bright: one hue


def test_it_asks_for_no_network(bramble: Caller, monkeypatch: pytest.MonkeyPatch) -> None:
    """With no network to be had every command but a cluster's does all it does."""

    def refused(*_args: object, **_kinds: object) -> Any:  # noqa: ANN401 - never comes back
        raise AssertionError("somebody asked for a network")

    monkeypatch.setattr(socket, "socket", refused)
    monkeypatch.setattr(socket, "create_connection", refused)
    monkeypatch.setattr(socket, "getaddrinfo", refused)
    bramble.good("log", "mated 2025-12-28")
    for words in ("board", "check", "call-sheet", "due", "kit", "weights", "words", "rules",
                  "litters", "verify", "export", "summary", "manual",
                  "imagine --seed 1", "drill --list", "completion zsh"):  # fmt: skip
        bramble.good(*words.split())


@pytest.mark.parametrize("value", ["", "data", "./data"])
def test_a_data_folder_that_is_no_whole_path_counts_as_none(
    monkeypatch: pytest.MonkeyPatch, tmp_path: Path, value: str
) -> None:
    """XDG_DATA_HOME must be a whole path; otherwise the usual place is meant."""
    monkeypatch.setenv("HOME", str(tmp_path))
    monkeypatch.setenv("XDG_DATA_HOME", value)

    assert default_path().is_absolute()
    assert default_path().is_relative_to(tmp_path)


def test_variables_have_a_name_of_their_own() -> None:
    """Ours begin with the program's name, and none of them asks for a secret."""
    others = {"COLUMNS", "NO_COLOR", "TERM", "TZ", "XDG_DATA_HOME"}

    for name in VARIABLES:
        assert name in others or re.fullmatch(r"BOXLAMP_[A-Z_]+", name)
        assert not re.search(r"PASSWORD|TOKEN|SECRET|KEY", name)


def test_being_ended_by_the_system_is_told_by_the_code(bramble: Caller) -> None:
    """A board that is followed and asked to end leaves by the signal, as shells show by 143."""
    child = pexpect.spawn(
        str(PROGRAM), ["board", "--follow"], env=surroundings(bramble.journal), timeout=20
    )
    child.expect("Bramble")
    child.kill(signal.SIGTERM)
    child.expect(pexpect.EOF)
    child.close()

    assert child.signalstatus == signal.SIGTERM or child.exitstatus == 128 + signal.SIGTERM


def test_the_zone_is_kept_with_every_time(bramble: Caller) -> None:
    """A time is stored as an instant with the name of its zone, and told with its offset."""
    bramble.good("log", "push")
    last = json.loads(bramble.good("export").splitlines()[-1])
    at, zone = last["at"], last["zone"]

    assert zone == "Europe/Prague"
    assert at.endswith(("Z", "+00:00"))
    assert json.loads(bramble("check", "--json").out)["at"].endswith("+01:00")


def test_a_local_way_to_write_numbers_changes_no_data(bramble: Caller) -> None:
    """Where a comma is usual, JSON and CSV still have points, and days their figures."""
    bramble.good("log", "pup dog 312.5g red")
    words = ("export", "--form", "csv", "--table", "pups")
    told = subprocess.run(
        [PROGRAM, *words], env=surroundings(bramble.journal, LC_ALL="de_DE.UTF-8"),
        capture_output=True, check=True,
    ).stdout.decode()  # fmt: skip

    assert "312.5" in told
    assert "2026-03-02T" in told

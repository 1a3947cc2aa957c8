"""The manual page says what the commands say, in roff that its readers take without a word."""

import re
import shutil
import subprocess
import tomllib
from pathlib import Path

import pexpect
import pytest

from boxlamp.cli import plain_page, roff
from boxlamp.cli.completion import SCRIPTS
from boxlamp.cli.manual import manual_page, plain_manual
from boxlamp.cli.settings import VARIABLES
from boxlamp.cli.tree import pages
from support.calls import PROGRAM, Caller, surroundings

TOP = Path(__file__).parents[2]
PAGE = manual_page()
READERS = {
    "mandoc": ["-T", "lint", "-W", "warning"],
    "groff": ["-man", "-Tutf8", "-ww", "-z"],
    "man": ["--warnings", "-l"],
}


@pytest.mark.parametrize("reader", READERS)
def test_its_readers_find_no_fault(tmp_path: Path, reader: str) -> None:
    """mandoc, groff and man take the page without a warning."""
    program = shutil.which(reader)
    if program is None:
        pytest.skip(f"{reader} is not on this machine")
    page = tmp_path / "boxlamp.1"
    page.write_text(PAGE, encoding="utf-8")
    if reader == "man" and not _version(program).startswith("man "):
        pytest.skip("this man takes no page from a file")
    found = subprocess.run(
        [program, *READERS[reader], page], capture_output=True, text=True, check=False,
        env={"LC_ALL": "C.UTF-8", "MANPAGER": "cat", "PATH": "/usr/bin:/bin"},
    )  # fmt: skip

    assert (found.returncode, found.stderr) == (0, "")
    assert reader == "man" or not found.stdout


def _version(program: str) -> str:
    said = subprocess.run([program, "--version"], capture_output=True, text=True, check=False)
    return said.stdout


def test_every_command_and_option_stands_in_it() -> None:
    """Each has its heading or its term, and each variable."""
    for page in pages():
        assert f'.SS "boxlamp {roff.quiet(page.words)}' in PAGE
        assert roff.quiet(page.says) in PAGE.replace("\\fB", "").replace("\\fR", "")
        for option in page.options:
            names = roff.quiet(", ".join(option.names))
            assert f".B {names}" in PAGE
    for name in VARIABLES:
        assert f".B {name}" in PAGE


def test_the_headings_stand_in_their_order() -> None:
    """As manual pages have them."""
    heads = [line[5:-1] for line in PAGE.splitlines() if line.startswith(".SH")]

    assert heads[:4] == ["NAME", "SYNOPSIS", "DESCRIPTION", "EXAMPLES"]
    assert heads[-4:] == ["EXIT STATUS", "ENVIRONMENT", "FILES", "SEE ALSO"]
    assert PAGE.startswith('.\\"')
    assert PAGE.splitlines()[1].startswith('.TH "BOXLAMP" "1" "')


@pytest.mark.parametrize(
    ("text", "safe"),
    [
        (".so /etc/passwd", "\\&.so /etc/passwd"),
        ("'br", "\\(aqbr"),
        ("a\\fBb", "a\\efBb"),
        ("--json", "\\-\\-json"),
        ("run `boxlamp check` now", "run \\fBboxlamp check\\fR now"),
        ("`-5m`", "\\fB\\-5m\\fR"),
    ],
)
def test_no_text_becomes_a_request(text: str, safe: str) -> None:
    """Whatever a sentence begins with or holds, roff prints it and does nothing."""
    assert roff.words(text) == safe


def test_in_a_pipe_it_is_plain_text(call: Caller) -> None:
    """Whoever pages or searches it reads words and no source; it makes no journal."""
    said = call.good("manual")
    assert said == plain_manual()
    assert not call.journal.exists()


def test_its_source_is_asked_for_by_name(call: Caller) -> None:
    """For the place where `man` finds it."""
    assert call.good("manual", "--roff") == PAGE


def test_the_plain_page_says_the_same() -> None:
    """Every heading, command, option and variable, in lines that fit a terminal."""
    page, lines = plain_manual(), plain_manual().splitlines()
    for head in (line[5:-1] for line in PAGE.splitlines() if line.startswith(".SH")):
        assert head.replace("\\-", "-") in lines
    for one in pages():
        assert any(line.startswith(f"  boxlamp {one.words}") for line in lines)
        for option in one.options:
            assert f"    {', '.join(option.names)}" in page
    assert all(f"    {name}" in lines for name in VARIABLES)
    assert max(len(line) for line in lines) <= plain_page.ACROSS
    assert "\n\n\n" not in page
    assert (lines[0], page[-1:], page[-2:-1] != "\n") == ("NAME", "\n", True)
    assert not re.search(r"^\.[A-Z]{2}|\\f[BR]|\\-", page, re.MULTILINE)


def test_the_wheel_brings_it_along() -> None:
    """The page and the scripts of the shells go where `man` and the shells look for them."""
    built = tomllib.loads((TOP / "pyproject.toml").read_text(encoding="utf-8"))
    shared = built["tool"]["hatch"]["build"]["targets"]["wheel"]["shared-data"]
    places = {place: TOP / file for file, place in shared.items()}

    assert all(file.is_file() for file in places.values())
    page = places["share/man/man1/boxlamp.1"]
    assert page.read_text(encoding="utf-8") == PAGE
    assert {file.name for file in places.values()} - {page.name} == set(SCRIPTS.values())


@pytest.mark.skipif(shutil.which("man") is None, reason="man is not on this machine")
def test_at_a_terminal_it_opens(call: Caller) -> None:
    """At a terminal `man` shows it."""
    child = pexpect.spawn(
        str(PROGRAM), ["manual"], encoding="utf-8", timeout=20, dimensions=(24, 80),
        env=surroundings(call.journal, MANPAGER="cat", PAGER="cat"),
    )  # fmt: skip
    child.expect(r"BOXLAMP\(1\)")
    child.expect("a whelping log that says when to ring the vet")
    child.expect(pexpect.EOF)
    child.close()

    assert child.exitstatus == 0


def test_at_a_terminal_without_man_it_is_plain_text(call: Caller) -> None:
    """Nobody is shown the source who cannot read it."""
    child = pexpect.spawn(
        str(PROGRAM), ["manual"], encoding="utf-8", timeout=20, dimensions=(24, 80),
        env=surroundings(call.journal) | {"PATH": str(call.journal.parent)},
    )  # fmt: skip
    child.expect("NAME\r\n    boxlamp - a whelping log that says when to ring the vet")
    child.expect(pexpect.EOF)
    child.close()

    assert child.exitstatus == 0

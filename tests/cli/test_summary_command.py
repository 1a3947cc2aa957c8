"""The summary from the command line: which litter, which form, into which file."""

import io
import json
import os
import subprocess
from pathlib import Path

import pypdf
import pytest

from boxlamp.cli import shell
from boxlamp.cli.settings import unusable
from support.calls import PROGRAM, Caller, started, surroundings
from support.nights import DEMO

NIGHT = DEMO / "caesarean.night"
ENDINGS = {".txt": b"Marigold: whelping", ".md": b"# Marigold", ".html": b"<!doctype html>",
           ".pdf": b"%PDF-"}  # fmt: skip


@pytest.mark.parametrize("ending", ENDINGS)
def test_the_name_of_the_file_says_which_form(call: Caller, tmp_path: Path, ending: str) -> None:
    """Without --form the ending decides, and the file is there whole."""
    out = tmp_path / f"night{ending}"
    said = call("summary", NIGHT, "-o", out)

    assert (said.code, said.out, said.err) == (0, "", f"Wrote {out}.\n")
    assert out.read_bytes().startswith(ENDINGS[ending])


@pytest.mark.parametrize("ending", [".json", ".csv", ".docx", ".night"])
def test_an_ending_that_is_no_form_is_asked_about(
    call: Caller, tmp_path: Path, ending: str
) -> None:
    """A text is never put into a file that claims to be something else."""
    out = tmp_path / f"night{ending}"
    said = call("summary", NIGHT, "-o", out)

    assert said.code == 2
    assert "which form is that?" in said.err
    assert not out.exists()
    assert call("summary", NIGHT, "--form", "text", "-o", out).code == 0


def test_a_summary_is_replaced_and_nothing_else(call: Caller, tmp_path: Path) -> None:
    """Making it again is usual; somebody's own file of that name is never touched."""
    out = tmp_path / "night.pdf"
    call.good("summary", NIGHT, "-o", out)
    first = out.read_bytes()
    call.good("summary", NIGHT, "-o", out)
    assert out.read_bytes() == first

    own = tmp_path / "own.txt"
    own.write_text("my notes", encoding="utf-8")
    said = call("summary", NIGHT, "-o", own)
    assert said.code == 2
    assert "was not written by this command" in said.err
    assert own.read_text(encoding="utf-8") == "my notes"


@pytest.mark.parametrize("ending", ["txt", "md", "html"])
def test_a_summary_that_somebody_wrote_into_stays(
    call: Caller, tmp_path: Path, ending: str
) -> None:
    """One letter is enough: it is theirs now, and the answer names a name that is free."""
    out = tmp_path / f"night.{ending}"
    call.good("summary", NIGHT, "-o", out)
    theirs = out.read_text(encoding="utf-8").replace("Marigold", "Our Marigold", 1)
    out.write_text(theirs, encoding="utf-8")
    (tmp_path / f"night-2.{ending}").write_text("", encoding="utf-8")
    said = call("summary", NIGHT, "-o", out)

    assert said.code == 2
    assert f"Choose another name, such as night-3.{ending}." in " ".join(said.err.split())
    assert out.read_text(encoding="utf-8") == theirs


def test_a_summary_in_another_form_stays(call: Caller, tmp_path: Path) -> None:
    """A name that says one form is not given to another unasked."""
    out = tmp_path / "night.txt"
    call.good("summary", NIGHT, "-o", out)

    assert call("summary", NIGHT, "--form", "md", "-o", out).code == 2
    assert out.read_bytes().splitlines()[-1].startswith(b"[Boxlamp summary.txt ")


def test_a_litter_of_the_journal_and_the_same_as_a_file_read_alike(call: Caller) -> None:
    """What was imported prints as the file itself does, but for the digest."""
    call.good("import", NIGHT)
    kept = call.good("summary", "--at", "2026-05-03 04:00", "--litter", "marigold-2026-05-02")
    alone = call.good("summary", NIGHT, "--at", "2026-05-03 04:00")

    def told(text: str) -> list[str]:
        return [line for line in text.splitlines() if "igest" not in line and len(line) < 100]

    assert [line for line in told(kept) if line not in told(alone)] in ([], [told(kept)[-1]])


def test_a_moment_is_told_as_the_record_reads_or_as_it_was_known(call: Caller) -> None:
    """A weight corrected at 02:31 reads corrected at 02:00, and not when asked as it was known."""
    now = call.good("summary", NIGHT, "--at", "2026-05-03 02:00")
    then = call.good("summary", NIGHT, "--at", "2026-05-03 02:00", "--as-known")

    assert "195 g" in now
    assert "195 g" not in then
    assert "190 g" in then


def test_in_the_readers_units(call: Caller) -> None:
    """Options and settings mean the same, in any case of their letters."""
    american = ("--clock", "12H", "--weight-unit", "OZ", "--temperature-unit", "f")

    assert "99.7 °F" in call.good("summary", NIGHT, *american)
    done = started(
        "summary", str(NIGHT), journal=call.journal, BOXLAMP_CLOCK="12h",
        BOXLAMP_WEIGHT_UNIT="oz", BOXLAMP_TEMPERATURE_UNIT="F",
    )  # fmt: skip
    assert "99.7 °F" in done.stdout.decode()
    assert "25.1 lb" in done.stdout.decode()


def test_a_setting_that_cannot_be_used_is_named_and_left_out(call: Caller) -> None:
    """A mistyped setting keeps nobody from the program; a mistyped option is an error."""
    done = started("summary", str(NIGHT), journal=call.journal, BOXLAMP_CLOCK="12 o'clock")

    assert done.returncode == 0
    assert b"BOXLAMP_CLOCK=12 o'clock is not used: it is 24h or 12h." in done.stderr
    assert call("summary", NIGHT, "--clock", "nonsense").code == 2


def test_settings_that_can_be_used_are_left_alone() -> None:
    """Nothing is said of them, and they stay."""
    given = {"BOXLAMP_PAGE": "Letter", "BOXLAMP_CLOCK": "", "HOME": "/x"}

    assert list(unusable(given)) == []
    assert given["BOXLAMP_PAGE"] == "Letter"


def test_json_is_the_whole_account(call: Caller) -> None:
    """The same facts for another program."""
    told = json.loads(call.good("summary", NIGHT, "--json"))

    assert told["schema"] == 1
    assert len(told["pups"]) == 5


def test_a_pdf_comes_out_of_a_pipe(call: Caller) -> None:
    """Standard output carries its bytes unchanged."""
    done = started("summary", str(NIGHT), "--form", "pdf", "--page", "letter", journal=call.journal)
    pages = pypdf.PdfReader(io.BytesIO(done.stdout)).pages

    assert pages[0].mediabox.width == 612
    assert "Marigold" in pages[0].extract_text()


@pytest.mark.parametrize("name", ["nowhere.night", ".", "/dev/null"])
def test_what_is_no_night_is_one_sentence(call: Caller, name: str) -> None:
    """A missing file, a folder, a device: a sentence, exit code 2, nothing written."""
    said = call("summary", name)

    assert (said.code, said.out) == (2, "")
    assert said.err.count("\n") == 1


def test_without_any_litter_it_says_where_one_comes_from(call: Caller) -> None:
    """A newcomer is told what to type."""
    said = call("summary")

    assert said.code == 2
    assert "boxlamp import FILE" in said.err


def test_a_file_and_a_litter_at_once_is_refused(call: Caller) -> None:
    """Which of the two is meant is not guessed."""
    assert call("summary", NIGHT, "--litter", "x").code == 2
    assert call("summary", NIGHT, "--json", "--form", "md").code == 2


@pytest.mark.skipif(not Path("/dev/full").exists(), reason="this system has no /dev/full")
@pytest.mark.parametrize("words", [("summary", str(NIGHT)), ("blank-sheet",), ("words",)])
def test_a_full_output_is_said_in_one_sentence(call: Caller, words: tuple[str, ...]) -> None:
    """The answer could not be written: that is no fault of the program."""
    with Path("/dev/full").open("wb") as full:
        done = subprocess.run(
            [PROGRAM, *words], stdout=full, stderr=subprocess.PIPE, check=False,
            env=surroundings(call.journal),
        )  # fmt: skip
    assert done.returncode == 2
    assert b"the answer could not be written: No space left on device." in done.stderr
    assert b"has failed" not in done.stderr


def test_a_closed_output_is_said_in_one_sentence(call: Caller) -> None:
    """Called with its output closed, it says so."""
    done = subprocess.run(
        ["sh", "-c", f'exec "{PROGRAM}" words >&-'], stderr=subprocess.PIPE, check=False,
        env=surroundings(call.journal),
    )  # fmt: skip
    assert done.returncode == 2
    assert b"the answer could not be written" in done.stderr


def test_stopped_before_it_has_begun(monkeypatch: pytest.MonkeyPatch) -> None:
    """Ctrl-C while the libraries are loaded is a quiet end with its own code, and no traceback."""

    def stopped(_words: list[str]) -> int:
        raise KeyboardInterrupt

    monkeypatch.setattr(shell, "run", stopped)
    with pytest.raises(SystemExit) as left:
        shell.main(["words"])
    assert left.value.code == 130


def test_a_reader_that_goes_away_is_no_failure(call: Caller) -> None:
    """`call-sheet | head -c 1` ends well, as every command does."""
    call.good("import", NIGHT)
    into, out = os.pipe()
    os.close(into)
    with os.fdopen(out, "wb") as gone:
        done = subprocess.run(
            [PROGRAM, "call-sheet"], stdout=gone, stderr=subprocess.PIPE, check=False,
            env=surroundings(call.journal),
        )  # fmt: skip
    assert (done.returncode, done.stderr) == (0, b"")

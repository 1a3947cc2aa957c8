import csv
import io
import json
from pathlib import Path

import pytest
from jsonschema import Draft202012Validator

from support.calls import Caller, started

LINES = b"""-50m sign restless
-40m push
-30m pup dog 312g red
-29m breathing 1
-25m afterbirth
amend 5 pup dog 321g red
=1+1
"""
TABLES = ("pups", "weights", "timeline", "alerts")


@pytest.fixture
def night(bramble: Caller) -> Caller:
    """A short litter with a correction and a line that was not understood."""
    assert bramble("log", "-", "--by", "Jana", stdin=LINES).code == 1
    return bramble


def test_json_is_of_the_shape_that_is_printed(night: Caller) -> None:
    """What `--form json` writes is valid by what `--schema` prints, and says what was typed."""
    shape = json.loads(night.good("export", "--schema"))
    read = json.loads(night.good("export", "--form", "json"))

    Draft202012Validator(shape).validate(read)
    assert [pup["birth_weight_g"] for pup in read["pups"]] == [321]
    assert read["dam"]["name"] == "Bramble"
    assert read["digest"]["entries"] == 9
    assert read["zone"] == "Europe/Prague"


def test_the_digest_is_that_of_the_exported_litter(night: Caller) -> None:
    """JSON and JSON lines of one litter end in the same hash."""
    header = json.loads(night.good("export").splitlines()[0])
    digest = json.loads(night.good("export", "--form", "json"))["digest"]

    assert digest == {"sha256": header["hash"], "entries": header["entries"]}


@pytest.mark.parametrize("name", TABLES)
def test_a_table_goes_out_as_csv(night: Caller, tmp_path: Path, name: str) -> None:
    """To a private file in UTF-8 with CR LF, or to standard output with the very same bytes."""
    file = tmp_path / f"{name}.csv"
    said = night("export", "--form", "csv", "--table", name, "-o", file)

    assert (said.code, said.out, said.err) == (0, "", f"Wrote {file}.\n")
    assert file.stat().st_mode & 0o777 == 0o600
    content = file.read_bytes()
    assert content.count(b"\r\n") == content.count(b"\n") > (name == "timeline")
    piped = night.good("export", "--form", "csv", "--table", name)
    assert piped.encode() == content


def test_the_bytes_of_a_table_pass_a_pipe(night: Caller) -> None:
    """The installed program writes the line ends of the standard, and nothing else."""
    sent = started("export", "--form", "csv", "--table", "timeline", journal=night.journal)

    assert (sent.returncode, sent.stderr) == (0, b"")
    read = list(csv.DictReader(io.StringIO(sent.stdout.decode(), newline=""), strict=True))
    assert [row["state"] for row in read].count("amended") == 1
    assert sent.stdout.endswith(b"\r\n")
    assert b"'=1+1" in sent.stdout


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (("--form", "csv"), "Add --table with one of: pups, weights, timeline, alerts."),
        (("--table", "pups"), "Write --form csv --table pups."),
        (("--form", "json", "--table", "alerts"), "Write --form csv --table alerts."),
        (("--form", "csv", "--table", "moons"), "moons"),
        (("--form", "xml"), "xml"),
    ],
)
def test_what_does_not_go_together_is_told(
    night: Caller, tmp_path: Path, words: tuple[str, ...], said: str
) -> None:
    """Exit code 2, what to type instead, and no file."""
    answer = night("export", *words, "-o", tmp_path / "file")

    assert (answer.code, answer.out) == (2, "")
    assert said in " ".join(answer.err.split())
    assert not (tmp_path / "file").exists()


@pytest.mark.parametrize(
    "words", [("--form", "json"), ("--form", "csv", "--table", "pups"), ("--schema",)]
)
def test_no_form_overwrites(night: Caller, tmp_path: Path, words: tuple[str, ...]) -> None:
    """A file that is there stays as it is, also one that was written here a moment ago."""
    file = tmp_path / "litter"
    night.good("export", *words, "-o", file)
    night.good("log", "rest")
    before = file.read_bytes()
    said = night("export", *words, "-o", file)

    assert said.code == 2
    assert said.err == f"boxlamp: {file} is there already. Choose another name.\n"
    assert file.read_bytes() == before


def test_the_shape_needs_no_litter(call: Caller) -> None:
    """A person who writes a program for it has no journal at all."""
    assert json.loads(call.good("export", "--schema"))["title"] == "Boxlamp litter"
    assert not call.journal.exists()


def test_a_litter_just_opened_goes_out_in_every_form(bramble: Caller) -> None:
    """Before the first sign there is nothing to tell, and every form says so without fail."""
    read = json.loads(bramble.good("export", "--form", "json"))
    assert (read["pups"], read["alerts"], read["phase"]) == ([], [], "waiting")
    for name in ("pups", "weights", "alerts"):
        assert bramble.good("export", "--form", "csv", "--table", name).count("\n") == 1

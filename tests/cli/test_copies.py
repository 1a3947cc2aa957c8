import json
import os
import sqlite3
from pathlib import Path

import pytest

from support.calls import Caller, started
from support.nights import DEMO

LINES = b"""-50m sign restless
-40m push
-30m pup dog 312g red; "big one", by the window
-29m breathing 1
-25m afterbirth
not a word of this
amend 5 pup dog 321g red
strike 7 seen twice
~-20m waters clear
limit gap-more-expected call 3h by Dr Novak; calm
note caf\xc3\xa9 ; # no comment
"""


@pytest.fixture
def night(bramble: Caller) -> Caller:
    """A litter with corrections, an unread line, estimates and a changed limit."""
    assert bramble("log", "-", "--by", "Jana", stdin=LINES).code == 1
    return bramble


def elsewhere(call: Caller) -> Path:
    """Another journal."""
    return call.journal.with_name("other.db")


@pytest.mark.parametrize("form", ["jsonl", "night"])
def test_a_litter_comes_back_whole(night: Caller, tmp_path: Path, form: str) -> None:
    """What was exported and imported elsewhere exports to the same file again."""
    file, other = tmp_path / f"litter.{form}", elsewhere(night)
    night.good("export", "--form", form, "-o", file)
    out = night.good("import", file, "--journal", other)

    assert ": 13 entries were added." in out
    before = night.good("export").splitlines()
    after = night.good("export", "--journal", other).splitlines()
    assert after[1:] == before[1:]
    assert night.good("check", "--plain", "--journal", other, "--litter", "bramble-2026-03-02") == (
        night.good("check", "--plain")
    )


@pytest.mark.parametrize("form", ["jsonl", "night"])
def test_twice_adds_nothing(night: Caller, tmp_path: Path, form: str) -> None:
    """The second import of one file says that all of it was here already."""
    file = tmp_path / "litter"
    night.good("export", "--form", form, "-o", file)
    other = elsewhere(night)
    night.good("import", file, "--journal", other)
    before = other.read_bytes()

    assert ": 0 entries were added, 13 were here already." in night.good(
        "import", file, "--journal", other
    )
    assert night.good("litters", "--plain", "--journal", other).count("\n") == 1
    assert night.good("export", "--journal", other).count("\n") == 14
    assert other.read_bytes() == before


def test_an_own_export_adds_nothing_at_home(call: Caller) -> None:
    """Taking in one's own export, in either form, finds the very same litter."""
    for name in ("Bramble", "Bramble"):
        call.good("new", "--dam", name, "--mated", "2026-01-01")
        call.later(3 * 24 * 60)
        call.good("log", "push")

    for form in ("jsonl", "night"):
        text = call.good("export", "--form", form, "--litter", "bramble-2026-03-02")
        out = call.good("import", "-", stdin=text.encode())
        assert out.startswith("bramble-2026-03-02: 0 entries were added, 3 were here already.")


def test_the_end_that_is_new_is_added(night: Caller, tmp_path: Path) -> None:
    """A longer version of a litter adds only what is new."""
    other = elsewhere(night)
    for name in ("first", "second"):
        night.good("export", "-o", tmp_path / name)
        night.good("log", "rest")
    night.good("import", tmp_path / "first", "--journal", other)

    assert ": 1 entry was added, 13 were here already." in night.good(
        "import", tmp_path / "second", "--journal", other
    )


@pytest.mark.parametrize("form", ["jsonl", "night"])
def test_a_dry_run_writes_nothing(night: Caller, tmp_path: Path, form: str) -> None:
    """It says exactly what would happen and leaves both copies of the journal alone."""
    file = tmp_path / "litter"
    night.good("export", "--form", form, "-o", file)
    other = elsewhere(night)
    night.good("new", "--dam", "Ash", "--journal", other)
    before = [other.read_bytes(), other.with_suffix(".jsonl").read_bytes()]

    out = night.good("import", file, "--dry-run", "--journal", other)
    assert ": 13 entries would be added." in out
    assert [other.read_bytes(), other.with_suffix(".jsonl").read_bytes()] == before


@pytest.mark.parametrize("form", ["jsonl", "night"])
def test_export_and_import_through_a_pipe(night: Caller, form: str) -> None:
    """`export | import -` takes a litter from one journal to another."""
    other = elsewhere(night)
    sent = started("export", "--form", form, journal=night.journal)
    taken = started("import", "-", journal=other, stdin=sent.stdout)

    assert (sent.returncode, taken.returncode, taken.stderr) == (0, 0, b"")
    again = started("export", "--form", form, "--litter", "bramble-2026-03-02", journal=other)
    assert again.stdout == sent.stdout


def test_an_export_never_overwrites(night: Caller, tmp_path: Path) -> None:
    """A file that is there stays as it is; a new one is private."""
    file = tmp_path / "litter.jsonl"
    night.good("export", "-o", file)

    assert file.stat().st_mode & 0o777 == 0o600
    before = file.read_bytes()
    said = night("export", "--form", "night", "-o", file)
    assert said.code == 2
    assert "is there already" in said.err
    assert file.read_bytes() == before


def test_an_export_that_cannot_be_written(night: Caller, tmp_path: Path) -> None:
    """A folder that is not there ends in a sentence."""
    said = night("export", "-o", tmp_path / "nowhere" / "litter.jsonl")

    assert said.code == 2
    assert "cannot be written" in said.err


def test_a_contradicting_litter_is_refused_or_kept_beside(night: Caller, tmp_path: Path) -> None:
    """All or nothing: what reads differently is refused, or with --as-new kept beside."""
    file = tmp_path / "litter.night"
    text = night.good("export", "--form", "night")
    file.write_text(text.replace("321g", "300g"), encoding="utf-8")
    before = night.good("export")
    said = night("import", file)

    assert said.code == 2
    assert "nothing was taken in" in said.err
    assert night.good("export", "--litter", "bramble-2026-03-02") == before
    night.good("import", file, "--as-new")
    assert len(night.good("litters", "--plain").splitlines()) == 2


@pytest.mark.parametrize(
    "content",
    [b"", b"junk", b"{", b'{"boxlamp":"litter"}', b"\xff\xfe\x00\x01", b"dam: Ash\n\n25:99 pup\n",
     b"{" * 100_000, b"dam: Ash\ndate: 2026-03-02\n\n02:00 frobnicate the pup\n"],
)  # fmt: skip
def test_a_hostile_file_is_refused_whole(night: Caller, tmp_path: Path, content: bytes) -> None:
    """Whatever is in it: one sentence with the file's name, exit code 2, nothing taken in."""
    file = tmp_path / "evil"
    file.write_bytes(content)
    before = night.journal.read_bytes()
    for words in (("import", file), ("import", "-"), ("replay", file)):
        said = night(*words, stdin=content)
        assert said.code == 2, said
        assert ("evil" if words[-1] != "-" else "<standard input>") in said.err
        assert "Traceback" not in said.err
        assert len(said.err) < 2000
    assert night.journal.read_bytes() == before


def test_verify_finds_a_whole_record_whole(night: Caller) -> None:
    """Exit code 0, the counts, and the mirror agrees."""
    assert "1 litter, 13 entries, whole; the mirror agrees." in night.good("verify")
    said = json.loads(night.good("verify", "--json"))
    assert (said["ok"], said["findings"], said["entries"]) == (True, [], 13)


def tamper_with_mirror(journal: Path) -> None:
    mirror = journal.with_suffix(".jsonl")
    mirror.write_bytes(mirror.read_bytes().replace(b"321", b"999"))


def tamper_with_database(journal: Path) -> None:
    connection = sqlite3.connect(journal)
    names = [name for (name,) in connection.execute("SELECT name FROM sqlite_master "
                                                    "WHERE type = 'trigger'")]  # fmt: skip
    for name in names:
        connection.execute(f"DROP TRIGGER {name}")
    tables = [
        name
        for (name,) in connection.execute("SELECT name FROM sqlite_master WHERE type = 'table'")
        if "body" in {row[1] for row in connection.execute(f"PRAGMA table_info({name})")}
    ]
    assert tables
    for name in tables:
        connection.execute(f"UPDATE {name} SET body = replace(body, '321', '999')")  # noqa: S608
    connection.commit()
    connection.close()


@pytest.mark.parametrize(
    ("tamper", "mend"),
    [(tamper_with_mirror, "mirror"), (tamper_with_database, "database"),
     (tamper_with_mirror, "both"), (tamper_with_database, "both")],
)  # fmt: skip
def test_tampering_is_found_and_mended(night: Caller, tamper: object, mend: str) -> None:
    """Verify says which entry reads differently, exit code 1; --rebuild brings it back."""
    before = night.good("export")
    assert callable(tamper)
    tamper(night.journal)
    said = night("verify")

    assert said.code == 1
    assert "boxlamp verify --rebuild" in said.out
    assert json.loads(night("verify", "--json").out)["findings"]
    mended = night("verify", "--rebuild", mend)
    assert mended.code == 0, mended
    assert "The old file is kept as" in mended.err
    assert night.good("export") == before


def test_a_lost_file_is_written_anew(night: Caller) -> None:
    """Either copy rebuilds the other when one is gone."""
    before = night.good("export")
    night.journal.unlink()
    assert night("verify").code == 1
    night.good("verify", "--rebuild", "database")
    night.journal.with_suffix(".jsonl").unlink()
    assert night("verify").code == 1
    night.good("verify", "--rebuild", "mirror")

    assert night.good("export") == before
    assert night("verify").code == 0


def test_a_backup_is_a_journal(night: Caller, tmp_path: Path) -> None:
    """It is checked, it opens, and it is never written over another file."""
    folder = tmp_path / "stick"
    folder.mkdir()
    out = night.good("backup", folder)

    copy = Path(out.split(": 1 litter")[0])
    assert copy.parent == folder
    assert out.endswith("1 litter, 13 entries, checked.\n")
    assert night.good("export", "--journal", copy) == night.good("export")
    assert night.good("verify", "--journal", copy)
    said = night("backup", copy)
    assert said.code == 2
    assert "never overwritten" in said.err


def test_litters_are_listed_and_chosen(bramble: Caller) -> None:
    """The one in use is marked; `--use` changes it for every later line."""
    bramble.later(1)
    bramble.good("new", "--dam", "Ash")

    assert [line[0] for line in bramble.good("litters").splitlines()] == [" ", ">"]
    bramble.good("litters", "--use", "bramble-2026-03-02")
    bramble.good("log", "push")
    rows = [line.split("\t") for line in bramble.good("litters", "--plain").splitlines()]
    assert rows == [["bramble-2026-03-02", "Bramble", "3", ">"], ["ash-2026-03-02", "Ash", "1", ""]]
    listed = json.loads(bramble.good("litters", "--json"))
    assert [one["in_use"] for one in listed["litters"]] == [True, False]
    assert bramble("litters", "--use", "nobody").code == 2


def test_no_litter_yet(call: Caller) -> None:
    """An empty journal says how to begin, and lists nothing."""
    said = call("litters")

    assert (said.code, said.out) == (0, "")
    assert "boxlamp new --dam NAME" in said.err


@pytest.mark.parametrize("path", sorted(DEMO.glob("*.night")), ids=lambda path: path.stem)
def test_every_demo_night_comes_in(call: Caller, path: Path) -> None:
    """A night log with a mating weeks before is named after the night itself."""
    out = call.good("import", path)

    assert "entries were added." in out
    date = next(line for line in path.read_text().splitlines() if line.startswith("date: "))
    assert f"-{date[6:]}: " in out


def test_no_control_code_of_an_imported_mark_reaches_the_screen(
    call: Caller, tmp_path: Path
) -> None:
    """A mark may come back exactly from a file; a screen shows it harmless in every answer."""
    night = tmp_path / "strange.night"
    night.write_text(
        "dam: Ash\ndate: 2026-03-02\nzone: UTC\n\n01:00 push\n"
        '#@ what={"kind":"birth","pup":1,"mark":"\\u001b[2J\\u009b1m\\u202eowned\\u0007"}\n'
        "01:02 pup\n",
        encoding="utf-8",
    )
    call.good("import", night)
    said = [call("log", "milk", "1"), call("log", "milk", "9"), call("board"), call("check")]
    said.append(call("replay", night))

    for answer in said:
        assert not set("\x1b\x07\x9b\u202e") & set(answer.out + answer.err)
    assert "owned" in said[2].out


def test_what_is_no_file_is_not_waited_for(call: Caller, tmp_path: Path) -> None:
    """A pipe, a device, a folder or a wrong name is refused at once, by every command."""
    os.mkfifo(tmp_path / "pipe")
    for source in (tmp_path / "pipe", Path("/dev/zero"), tmp_path, tmp_path / "none"):
        for words in (("import",), ("replay",), ("protocol", "check")):
            said = call(*words, source)
            assert (said.code, said.out) == (2, "")
            assert str(source) in said.err
            assert "There is no file" in said.err or "is no file to read" in said.err

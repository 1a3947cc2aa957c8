"""A litter as a file: written out whole, and taken in as from a stranger."""

import hashlib
import io
import json
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from boxlamp.journal import Journal, exchange, open_journal
from boxlamp.journal.errors import JournalError, RefusedError
from boxlamp.journal.exchange import depth, export_jsonl
from boxlamp.journal.verify import verify
from support.journals import NOW, filled, import_jsonl, import_stream, later, note, texts

LITTER = "bramble-2026-03-02"


@pytest.fixture
def path(tmp_path: Path) -> Path:
    """A journal with three entries."""
    filled(tmp_path / "journal.db")
    return tmp_path / "journal.db"


@pytest.fixture
def file(path: Path) -> Path:
    """Its litter, exported."""
    return exported(path)


def exported(path: Path) -> Path:
    """The litter of a journal as a file beside it."""
    file = path.with_name("litter.jsonl")
    with open_journal(path) as journal:
        file.write_text("".join(f"{line}\n" for line in export_jsonl(journal, LITTER)), "utf-8")
    return file


def state(path: Path) -> list[str]:
    """What a journal's folder holds, byte for byte."""
    files = sorted(path.parent.glob(f"{path.stem}.*"))
    return [hashlib.sha256(file.read_bytes()).hexdigest() for file in files]


def test_a_litter_goes_out_and_comes_in_whole(path: Path, file: Path) -> None:
    """What was exported is imported elsewhere entry for entry; a second time adds nothing."""
    header = json.loads(file.read_text("utf-8").splitlines()[0])
    assert (header["boxlamp"], header["schema"], header["entries"]) == ("litter", 1, 3)
    other = path.with_name("other.db")
    with open_journal(other) as there, open_journal(path) as here:
        taken = import_jsonl(there, file)
        assert (taken.litter, taken.new, taken.already, len(taken.added)) == (LITTER, True, 0, 3)
        assert there.entries(LITTER) == here.entries(LITTER)
        assert list(export_jsonl(there, LITTER)) == list(export_jsonl(here, LITTER))
    before = state(other)
    with open_journal(other) as there:
        taken = import_jsonl(there, file)
        assert (taken.new, taken.already, taken.added) == (False, 3, ())
    assert state(other) == before
    assert verify(other).ok


def test_a_longer_file_adds_only_its_end(path: Path, file: Path) -> None:
    """A later export of the same litter adds what is new; an older one adds nothing."""
    other = path.with_name("other.db")
    old = file.read_bytes()
    with open_journal(other) as there:
        import_jsonl(there, file)
    with open_journal(path) as journal:
        journal.record(LITTER, note("fourth"), recorded=later(4))
    file = exported(path)
    with open_journal(other) as there:
        taken = import_jsonl(there, file)
        assert [entry.text for entry in taken.added] == ["fourth"]
        file.write_bytes(old)
        assert import_jsonl(there, file).already == 3
        assert len(there.entries(LITTER)) == 4
    assert verify(other).ok


def without_checks(file: Path, change: str, into: str) -> None:
    """Change a file and take the checks out of its header, as a person might."""
    lines = file.read_text("utf-8").replace(change, into).splitlines()
    header = json.loads(lines[0])
    header.pop("hash", None)
    header.pop("entries", None)
    file.write_text("\n".join([json.dumps(header), *lines[1:], ""]), "utf-8")


def test_a_contradiction_is_refused_or_kept_beside(path: Path, file: Path) -> None:
    """A file that tells the same litter differently is refused, or taken in as another litter."""
    without_checks(file, "note 2", "note two")
    before = state(path)
    with open_journal(path) as journal:
        with pytest.raises(RefusedError, match="entry 2"):
            import_jsonl(journal, file)
        assert state(path) == before
        taken = import_jsonl(journal, file, as_new=True)
        assert (taken.litter, taken.new) == (f"{LITTER}-2", True)
        assert texts(journal, taken.litter) == ["note 1", "note two", "note 3"]
        # The same again finds the litter it made the first time.
        again = import_jsonl(journal, file, as_new=True)
        assert (again.litter, again.new, again.added) == (f"{LITTER}-2", False, ())
        without_checks(file, '"name": "Bramble"', '"name": "Thorn"')
        with pytest.raises(RefusedError, match="its name"):
            import_jsonl(journal, file)
    assert verify(path).ok


@pytest.mark.parametrize("as_new", [False, True])
def test_a_dry_run_writes_nothing(path: Path, file: Path, as_new: bool) -> None:  # noqa: FBT001
    """Asked what would happen, the answer is exact and not a byte is written."""
    other = path.with_name("other.db")
    open_journal(other).close()
    before = state(other)
    with open_journal(other) as there:
        said = import_jsonl(there, file, dry_run=True, as_new=as_new)
    assert state(other) == before
    with open_journal(other) as there:
        assert import_jsonl(there, file, as_new=as_new) == said


def test_entries_from_elsewhere_are_relabelled(path: Path) -> None:
    """Entries read from a night log are taken in under the id given, numbered without gaps."""
    with open_journal(path) as journal:
        entries = journal.entries(LITTER)
        taken = journal.import_entries("night", "Night", entries, opened=NOW)
        assert [entry.litter for entry in taken.added] == ["night"] * 3
        assert journal.import_entries("night", "Night", entries, opened=NOW).added == ()
        with pytest.raises(RefusedError, match="number 1"):
            journal.import_entries("gap", "Gap", entries[1:], opened=NOW)
        with pytest.raises(RefusedError, match="slug"):
            journal.import_entries("../x", "Bad", entries, opened=NOW)
        assert [row.slug for row in journal.litters()] == [LITTER, "night"]


HEADER = '{"boxlamp":"litter","schema":1,"litter":"x","name":"X","opened":"2026-03-02T02:14:00Z"}\n'
ENTRY = (
    '{"id":1,"litter":"x","at":"2026-03-02T02:14:00Z","recorded":"2026-03-02T02:14:00Z",'
    '"what":{"kind":"note"}}\n'
)


@pytest.mark.parametrize(
    ("content", "where", "why"),
    [
        (b"", "", "empty"),
        (b"\n \n\r\n", "", "empty"),
        (b"\x00\x01\x02", ":1:", "header"),
        (b"PK\x03\x04 a zip file", ":1:", "header"),
        (b"\xff\xfe", ":1:", "UTF-8"),
        (b"[]", ":1:", "header"),
        (ENTRY.encode(), ":1:", "header"),
        (HEADER.replace("1", "2", 1).encode(), ":1:", "schema"),
        (HEADER.replace('"x"', '"../x"').encode(), ":1:", "litter"),
        (HEADER.replace('"x"', '"X\x1b[2J"').encode(), ":1:", "header"),
        (HEADER.replace('"X"', '""').encode(), ":1:", "name"),
        (HEADER.replace("{", '{"more":1,', 1).encode(), ":1:", "more"),
        (HEADER.encode() + b"{", ":2:", "JSON"),
        (HEADER.encode() + b"\xc3\x28\n", ":2:", "UTF-8"),
        (HEADER.encode() + b"null\n", ":2:", "line"),
        (HEADER.encode() + b"[" * 100_000, ":2:", "nested"),
        (HEADER.encode() + b'{"a":' * 30 + b"1" + b"}" * 30, ":2:", "nested"),
        (HEADER.encode() + b'"' + b"x" * 400_000, ":2:", "longer"),
        ((HEADER + ENTRY + ENTRY).encode(), ":3:", "expected entry 2"),
        ((HEADER + ENTRY.replace('"x"', '"y"')).encode(), ":2:", "expected entry 1"),
        ((HEADER + ENTRY.replace('"id":1', '"id":2')).encode(), ":2:", "expected entry 1"),
        ((HEADER + ENTRY.replace('"id":1', f'"id":{10**40}')).encode(), ":2:", "expected"),
        ((HEADER + ENTRY.replace('"id":1', '"id":-1')).encode(), ":2:", "id"),
        ((HEADER + ENTRY.replace("note", "run")).encode(), ":2:", "cannot be kept"),
        ((HEADER + ENTRY.replace("{", '{"evil":1,', 1)).encode(), ":2:", "evil"),
        ((HEADER + ENTRY.replace("2026-03-02T02:14:00Z", "0001-01-01T00:00:00+14:00")).encode(),
         ":2:", "not between 1990 and 2200"),
        ((HEADER + ENTRY.replace("2026-03-02T02:14:00Z", "1990-01-01T00:00:00+14:00")).encode(),
         ":2:", "not between 1990 and 2200"),
        (HEADER.replace("2026-03-02T02:14:00Z", "1990-01-01T00:00:00+14:00").encode(),
         ":1:", "not between 1990 and 2200"),
        ((HEADER + ENTRY.replace("2026-03-02T02:14:00Z", "2026-03-02T02:14:00")).encode(),
         ":2:", "at"),
        ((HEADER + ENTRY.replace('"note"}', '"weight","grams":1e999}')).encode(), ":2:", "grams"),
        ((HEADER + ENTRY.replace('"note"}', '"weight","grams":NaN}')).encode(), ":2:", "line"),
        (HEADER.replace("}", ',"entries":2}').encode() + ENTRY.encode(), "", "promises 2"),
        (HEADER.replace("}", f',"hash":"{"0" * 64}"}}').encode() + ENTRY.encode(), "", "changed"),
    ],
)  # fmt: skip
def test_a_hostile_file_is_refused_with_its_line(
    tmp_path: Path, content: bytes, where: str, why: str
) -> None:
    """Whatever a file holds, it is refused in a sentence that names the line, and adds nothing."""
    file = tmp_path / "sent.jsonl"
    file.write_bytes(content)
    with open_journal(tmp_path / "journal.db") as journal:
        with pytest.raises(RefusedError) as caught:
            import_jsonl(journal, file)
        assert f"sent.jsonl{where}" in caught.value.sentence
        assert why in caught.value.sentence
        assert len(caught.value.sentence) < 500
        assert journal.litters() == []


def test_a_plain_file_without_checks_is_taken_in(tmp_path: Path) -> None:
    """A file made by hand needs no hash: with line ends and marks of another system it works."""
    file = tmp_path / "sent.jsonl"
    file.write_bytes(b"\xef\xbb\xbf" + (HEADER + "\n" + ENTRY).replace("\n", "\r\n").encode())
    with open_journal(tmp_path / "journal.db") as journal:
        assert len(import_jsonl(journal, file).added) == 1


def test_limits_are_kept(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A file that is too large, or holds too many entries, is refused while it is read."""
    monkeypatch.setattr(exchange, "MAX_ENTRIES", 1)
    with open_journal(tmp_path / "journal.db") as journal:
        stream = io.BytesIO((HEADER + ENTRY + ENTRY).encode())
        with pytest.raises(RefusedError, match="more than 1 entries"):
            import_stream(journal, stream, "stdin")
        monkeypatch.setattr(exchange, "MAX_BYTES", 100)
        with pytest.raises(RefusedError, match="larger than 100"):
            import_stream(journal, io.BytesIO((HEADER + ENTRY).encode()), "stdin")


def test_depth_looks_outside_strings_only() -> None:
    """Brackets in what a person typed are words, not nesting."""
    assert depth('{"a":[1]}') == 0
    assert depth('{"text":"' + "[" * 100 + '\\"]"}') == 1
    assert depth("[" * 40 + "]" * 40) == 40
    assert depth("[]" * 40) == 1


def test_an_entry_full_of_brackets_comes_back(tmp_path: Path) -> None:
    """The longest and oddest entry the model allows survives export and import."""
    with open_journal(tmp_path / "a.db") as here, open_journal(tmp_path / "b.db") as there:
        litter = here.open_litter("Odd", opened=NOW)
        for words in ("[{" * 500 + '\\"', "\x01\u2028\x85\r\n" * 700, "🐕" * 4000):
            here.record(litter, note(words), recorded=NOW)
        content = "\n".join(export_jsonl(here, litter)).encode()
        import_stream(there, io.BytesIO(content), "stdin")
        assert there.entries(litter) == here.entries(litter)


@settings(max_examples=60, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(data=st.data())
def test_a_damaged_file_never_gets_in(file: Path, data: st.DataObject) -> None:
    """Whatever bytes of an export are changed, it is refused or says exactly what it said."""
    content = bytearray(file.read_bytes())
    whole = bytes(content)
    start = data.draw(st.integers(0, len(content) - 1))
    content[start : start + data.draw(st.integers(1, 4))] = data.draw(st.binary(max_size=4))
    path = file.with_name("there.db")
    with open_journal(path) as journal:
        before = len(journal.litters())
        try:
            taken = import_stream(journal, io.BytesIO(bytes(content)), "stdin", dry_run=True)
        except JournalError:
            assert len(journal.litters()) == before
        else:
            honest = import_stream(journal, io.BytesIO(whole), "stdin", dry_run=True)
            assert taken == honest


def test_an_unknown_litter_is_not_exported(path: Path) -> None:
    """Exporting a litter that is not there says which there are."""

    def lines(journal: Journal) -> list[str]:
        return list(export_jsonl(journal, "other"))

    with open_journal(path) as journal, pytest.raises(JournalError, match=LITTER):
        lines(journal)

"""Database and mirror damaged at different places: what either still has whole comes back."""

import hashlib
import json
import random
import sqlite3
from contextlib import closing, suppress
from pathlib import Path

from boxlamp.journal import open_journal
from boxlamp.journal.errors import JournalError
from boxlamp.journal.repair import recover
from boxlamp.journal.verify import verify
from support.effort import effort
from support.journals import NOW, later, note

TURNS = effort(6, nightly=400)
ENTRIES = 14
Place = tuple[str, int]
SPOILT = (sqlite3.DatabaseError, UnicodeDecodeError)


def written(path: Path) -> dict[Place, str]:
    """A journal of two litters, and the body of every record in it."""
    with open_journal(path) as journal:
        litters = [journal.open_litter(name, opened=NOW) for name in ("Ash", "Bramble")]
        for turn in range(ENTRIES):
            # Long enough that the database has many pages to damage.
            text = f"note {turn} " + "word " * 60
            journal.record(litters[turn % 2], note(text), recorded=later(turn))
        return {
            (one.litter, one.number): one.body
            for litter in litters
            for one in journal.records(litter)
        }


def _hash(prev: str, body: str) -> str:
    return hashlib.sha256(f"{prev}\n{body}".encode()).hexdigest()


def spoil_database(path: Path, chance: random.Random) -> None:
    """Overwrite some stretches of the file, or cut it off; the head stays, mostly."""
    content = bytearray(path.read_bytes())
    for _ in range(chance.randrange(1, 4)):
        start = chance.randrange(0 if chance.random() < 0.05 else 4096, len(content))
        length = chance.choice((1, 16, 700))
        content[start : start + length] = chance.randbytes(length)
    if chance.random() < 0.2:
        del content[chance.randrange(4096, len(content)) :]
    path.write_bytes(content)


def spoil_mirror(path: Path, chance: random.Random) -> None:
    """Change a byte of some lines, drop some, put one twice, cut off the end."""
    lines = path.read_bytes().splitlines(keepends=True)
    for _ in range(chance.randrange(1, 5)):
        place = chance.choice([place for place, line in enumerate(lines) if line])
        line = bytearray(lines[place])
        line[chance.randrange(len(line))] ^= 1 << chance.randrange(7)
        lines[place] = chance.choice((bytes(line), b"", bytes(line), lines[place] * 2))
    content = b"".join(lines)
    if chance.random() < 0.2:
        content = content[: chance.randrange(1 + len(content))]
    path.write_bytes(content)


def whole_in_mirror(path: Path) -> dict[Place, tuple[str, str, str]]:
    """What a reader who knows only JSON and SHA-256 finds whole: hash before, own hash, body."""
    found: dict[Place, tuple[str, str, str]] = {}
    for line in path.read_bytes().split(b"\n"):
        with suppress(ValueError, KeyError, TypeError):
            said = json.loads(line)
            name = b'"entry":' if said["number"] else b'"opened":'
            body = line.partition(b"," + name)[2].removesuffix(b"}").decode()
            if _hash(said["prev"], body) == said["hash"]:
                found[said["litter"], said["number"]] = said["prev"], said["hash"], body
    return found


def whole_in_database(path: Path, mirror: dict[Place, tuple[str, str, str]]) -> dict[Place, str]:
    """The rows that can be read and proven by the hash before them, from either copy."""
    rows: dict[Place, tuple[str, str]] = {}
    for order in ("ASC", "DESC"):
        with suppress(*SPOILT), closing(sqlite3.connect(path)) as connection:
            connection.text_factory = lambda content: content.decode("utf-8", "replace")
            for litter, number, own, body in connection.execute(
                f"SELECT litter, number, hash, body FROM record ORDER BY seq {order}"  # noqa: S608 one of two constants
            ):
                if isinstance(number, int):  # a damaged row may come out as anything
                    rows[litter, number] = own, body
    found: dict[Place, str] = {}
    for (litter, number), (own, body) in rows.items():
        before = {mirror[place][0] for place in [(litter, number)] if place in mirror}
        before |= {mirror[place][1] for place in [(litter, number - 1)] if place in mirror}
        before |= {rows[place][0] for place in [(litter, number - 1)] if place in rows}
        if any(_hash(prev, body) == own for prev in before):
            found[litter, number] = body
    return found


def test_what_either_copy_has_whole_comes_back(tmp_path: Path) -> None:
    """Whatever is damaged in both, `verify` says so, and the repair loses nothing that is whole."""
    chance = random.Random(20260302)  # noqa: S311 no secret, the same damage each time
    kept = damaged = 0
    for turn in range(TURNS):
        path = tmp_path / f"{turn}" / "journal.db"
        first = written(path)
        spoil_database(path, chance)
        spoil_mirror(path.with_suffix(".jsonl"), chance)
        lines = whole_in_mirror(path.with_suffix(".jsonl"))
        whole = whole_in_database(path, lines) | {place: one[2] for place, one in lines.items()}
        whole = {place: body for place, body in whole.items() if first.get(place) == body}
        report = verify(path)
        if len(whole) < len(first):
            assert not report.ok
        recover(path)
        assert verify(path).ok
        with open_journal(path) as journal:
            found = {
                (one.litter, one.number): one.body
                for row in journal.litters()
                for one in journal.records(row.slug)
            }
        assert whole.items() <= found.items(), (turn, sorted(whole.keys() - found.keys()))
        kept += len(whole)
        damaged += len(first) - len(whole)
    print(  # noqa: T201 the figure of the nightly run
        f"both copies damaged {TURNS} times: {kept} records whole in either and all of them back, "
        f"{damaged} whole in neither"
    )
    assert damaged


def test_a_file_cut_short_under_an_open_journal(tmp_path: Path) -> None:
    """Whoever cuts the database short while it is open: a sentence, and the mirror has it all."""
    for left in (0, 100, 4096, 9000):
        path = tmp_path / f"{left}" / "journal.db"
        first = written(path)
        with open_journal(path) as journal:
            with path.open("r+b") as file:
                file.truncate(left)
            try:
                journal.record("bramble-2026-03-02", note("after"), recorded=later(99))
            except JournalError as error:
                assert error.sentence.isprintable()  # noqa: PT017 - it may also heal by itself
        recover(path)
        with open_journal(path) as journal:
            found = {
                (one.litter, one.number): one.body
                for row in journal.litters()
                for one in journal.records(row.slug)
            }
        assert first.items() <= found.items(), left

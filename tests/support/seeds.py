"""Where a fuzzer begins: the demo nights, the case files and every word of the language."""

import json
from collections.abc import Iterator
from datetime import UTC, datetime
from functools import cache
from pathlib import Path

from boxlamp.journal.chain import Opening, Record, digest, genesis
from boxlamp.journal.exchange import Header
from boxlamp.language import VOCABULARY, NightError, read_night
from boxlamp.language.details import FIELDS, KEYS
from boxlamp.language.night_header import _DATED
from boxlamp.language.vocabulary import COMMANDS
from boxlamp.model.entry import Entry
from support.nights import CASES, DEMO

_LONGEST = 4_000
_ODD = (
    "02:14", "-5m", "~01:30", "yesterday 23:50", "2026-03-02 02:14", "2026-03-29 02:30", "; ", '"',
    "1e400", "nan", "inf", "9" * 40, "-0", "0x1f", "½", "١٢", "#@ all", "#@ id=", "#= none go",
    "\x1b[2J", "\x1b]52;c;QQ==\x07", "\x9b31m", "\u202e", "\u200b", "\ufeff", "\x00", "\r\n", "\t",
    '{"kind":"', '"what":{', '"\\u001b"', "[[limit]]", "'''", '"""', "amend 1 ", "strike 1 ",
)  # fmt: skip
_SEVERAL = (
    "milk all", "1 and 2 suckling", "cord 1-3 tied", "red and light green limp", "all three warm",
    "1 limp, 3 weak", "red 310g, 3 305g", "strike 2, strike 3", "pups one and two dead",
)  # fmt: skip
"""Lines about several pups, and several lines in one."""
_LIMITS = """by = "Dr Novak"
why = "large litter last time"

[[limit]]
rule = "gap-more-expected"
level = "call"
value = 3.5
unit = "h"
"""


@cache
def nights() -> tuple[str, ...]:
    """Every demo night, and every night of the case files."""
    texts: list[str] = []
    for path in sorted([*DEMO.glob("*.night"), *CASES.rglob("*.night")]):
        texts += path.read_text(encoding="utf-8").split("\n#---")
    return tuple(texts)


def typed_lines() -> Iterator[str]:
    """Lines as a person types them: the examples of every word, and those of the nights."""
    seen: set[str] = set()
    yield from _SEVERAL
    for word in VOCABULARY:
        yield from word.examples
        yield from (f"{phrase} 1" for phrase in (*word.synonyms, *word.telling))
    for text in nights():
        for line in text.splitlines():
            words = line.partition(" ")[2]
            if not line.startswith("#") and words not in seen and len(line) < _LONGEST:
                seen.add(words)
                yield line


def files() -> Iterator[bytes]:
    """Files as the readers know them, each behind the letter of its reader."""
    for text in nights():
        if len(text) > _LONGEST:
            continue
        yield b"n" + text.encode()
        try:
            entries = read_night(text).entries
        except NightError:
            continue
        if 0 < len(entries) < 12:  # short files are changed to more effect
            yield b"j" + exported(entries)
            yield b"m" + mirrored(entries)
    yield b"l" + _LIMITS.encode()
    yield b"p" + b'version = "1"\nrepeat_go_minutes = 5\n' + _LIMITS.encode()
    yield b'd{"a":[[[{"b":"]}"}]]]}'


def _renumbered(entries: tuple[Entry, ...]) -> list[Entry]:
    return [
        entry.model_copy(update={"id": number, "litter": "ash"})
        for number, entry in enumerate(entries, start=1)
    ]


def exported(entries: tuple[Entry, ...]) -> bytes:
    """Entries as an exported litter, without the hash that would give every change away."""
    header = Header.model_validate(
        {"boxlamp": "litter", "schema": 1, "litter": "ash", "name": "Ash", "opened": _OPENED}
    )
    lines = [header.model_dump_json(by_alias=True, exclude_none=True)]
    lines += [entry.model_dump_json() for entry in _renumbered(entries)]
    return "\n".join(lines).encode() + b"\n"


def mirrored(entries: tuple[Entry, ...]) -> bytes:
    """Entries as a mirror keeps them, hashes and all."""
    opening = Opening(slug="ash", name="Ash", opened=_OPENED)
    content, prev = b"", genesis("ash")
    for number, one in enumerate((opening, *_renumbered(entries))):
        body = one.model_dump_json()
        own = digest(prev, body)
        content += Record(number + 1, "ash", number, prev, own, body).line()
        prev = own
    return content


_OPENED = datetime(2026, 3, 1, tzinfo=UTC)


def dictionary() -> Iterator[bytes]:
    """Words that a change may put in: the language's, the headings', the models' and odd ones."""
    words = {*COMMANDS, *FIELDS, *KEYS, *_DATED, *_ODD}
    for word in VOCABULARY:
        words |= {word.word, *word.synonyms, *word.telling, *word.pattern.split()}
    words |= set(json.loads(json.dumps(Entry.model_json_schema()))["properties"])
    return (word.encode("utf-8", "surrogatepass") for word in sorted(words) if word)


def lay_out(folder: Path, seeds: Iterator[bytes]) -> int:
    """Write seeds as files of a folder and say how many there are."""
    folder.mkdir(parents=True, exist_ok=True)
    count = 0
    for count, seed in enumerate(seeds, start=1):
        (folder / f"seed-{count:05}").write_bytes(seed)
    return count


def dictionary_file(path: Path) -> None:
    """The dictionary in the form that libFuzzer reads."""
    lines = ('"' + "".join(f"\\x{byte:02x}" for byte in word) + '"' for word in dictionary())
    path.write_text("\n".join(lines) + "\n", encoding="ascii")

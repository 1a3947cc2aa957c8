"""What could stand at the cursor of a half-typed call: the answer to a shell that asks at Tab.

The scripts in ``shells/`` call it as ``boxlamp __complete SHELL WORDS``. Somebody waits for the
answer with a finger on the key, so it loads neither typer nor the rules: what does not change is
read from ``words.json``, which ``docs/generate.py`` writes from the program. Nothing is written.
"""

import json
import os
import shlex
import sqlite3
from collections.abc import Iterable, Iterator, Sequence
from contextlib import closing
from itertools import pairwise
from pathlib import Path
from typing import Any, NamedTuple

from boxlamp.cli.argv import FLAGS, VALUED

FILES = ":file"
"""Said instead of a word where the shell should offer files."""

_TABLE = Path(__file__).with_name("words.json")
_TIME = tuple("-~0123456789")


class Offer(NamedTuple):
    """One word that could stand there, and what it means."""

    word: str
    means: str = ""


def answer(asked: Sequence[str]) -> str:
    """The offers for a shell, one a line; for bash the rest of the line and quoted as it needs."""
    shell, *words = asked or ["", ""]
    if shell == "bash":
        words = _parted(" ".join(words))[1:]
    words = words or [""]
    told = list(offers(words))
    if shell == "bash":
        # Bash parts words at = and : and wants only what comes behind the last of them.
        done = len(words[-1]) - len(words[-1].replace(":", "=").rpartition("=")[2])
        return "".join(f"{_quoted(offer.word[done:], offer)}\n" for offer in told)
    return "".join(
        f"{offer.word}\t{offer.means}\n" if offer.word != FILES else f"{FILES}\n" for offer in told
    )


def offers(words: Sequence[str]) -> Iterator[Offer]:
    """What could be meant by the last of the words behind ``boxlamp``."""
    *before, typed = words
    table = json.loads(_TABLE.read_text(encoding="utf-8"))
    found = {offer.word: offer for offer in _all(table, before, typed)}
    for word, offer in found.items():
        if word == FILES or (word.startswith(typed) and word != typed):
            yield offer


def _all(table: dict[str, Any], before: list[str], typed: str) -> Iterator[Offer]:
    """Everything that may stand behind the words before it."""
    name, rest = _command(table, before)
    page = table["commands"].get(name)
    options = page["options"] if page is not None else table["everywhere"]
    if before and before[-1] in options and options[before[-1]][0]:
        yield from _values(table, options[before[-1]][0], before)
        return
    option, equals, _ = typed.partition("=")
    if equals and option in options:
        for offer in _values(table, options[option][0], before):
            yield offer if offer.word == FILES else offer._replace(word=f"{option}={offer.word}")
        return
    if "--" not in before and (typed.startswith("-") or (page and not page["argument"])):
        yield from (Offer(one, says) for one, (_, says) in options.items())
    elif page is None:
        yield from _commands(table, name)
    elif page["argument"] == "line":
        yield from _line(table, _plain(rest, options))
    elif page["many"] or not _plain(rest, options):
        yield from _values(table, page["argument"], before)


def _command(table: dict[str, Any], before: list[str]) -> tuple[str, list[str]]:
    """The command that was typed, a family with its member, and the words behind it."""
    plain = list(before)
    while plain and plain[0].startswith("-"):
        del plain[: 2 if plain[0] in VALUED else 1]
    for length in (2, 1):
        name = " ".join(plain[:length])
        if len(plain) >= length and name in table["commands"]:
            return name, plain[length:]
    return plain[0] if plain else "", plain[1:]


def _commands(table: dict[str, Any], family: str) -> Iterator[Offer]:
    """The commands, or the members of a family that was named."""
    lead = f"{family} " if family else ""
    for name, page in table["commands"].items():
        if name.startswith(lead):
            word, _, member = name.removeprefix(lead).partition(" ")
            yield Offer(word, table["families"][word] if member else page["says"])


def _plain(rest: Iterable[str], options: dict[str, list[str]]) -> list[str]:
    """The words that are neither options nor their values."""
    plain, value = [], False
    for word in rest:
        if not value and not (word in options or word == "--"):
            plain.append(word)
        value = not value and word in options and bool(options[word][0])
    return plain


def _line(table: dict[str, Any], said: list[str]) -> Iterator[Offer]:
    """What may come next in a line for ``log``: a word first, then the rule where one is named."""
    if not said or (len(said) == 1 and said[0].startswith(_TIME)):
        yield from _values(table, "word", said)
    elif said[-1] in {"ack", "limit"}:
        yield from _values(table, "rule", said)


def _values(table: dict[str, Any], kind: str, before: list[str]) -> Iterator[Offer]:
    """The values of one kind; nothing where any text will do."""
    if kind == "litter":
        yield from _litters(before)
    elif kind in table["values"]:
        yield from (Offer(word, means) for word, means in table["values"][kind].items())
    elif "|" in kind:
        yield from (Offer(word) for word in kind.split("|"))
    if kind in {"file", "night"}:
        yield Offer(FILES)


def _litters(before: list[str]) -> Iterator[Offer]:
    """The litters of the journal, read without opening it for writing; none when it is busy."""
    named = [after for word, after in pairwise(before) if word == "--journal"]
    named += [word.partition("=")[2] for word in before if word.startswith("--journal=")]
    where = named[-1] if named else os.environ.get("BOXLAMP_JOURNAL")
    if where:
        path = Path(where).expanduser()
    else:
        from boxlamp.journal.paths import default_path

        path = default_path()
    if not path.is_file():
        return
    try:
        # Even a reader lays files beside a journal that keeps a log of writes, unless it is told
        # that nobody writes; then it takes no lock either. At worst an offer is missing.
        still = "" if path.with_name(f"{path.name}-wal").exists() else "&immutable=1"
        uri = f"{path.resolve().as_uri()}?mode=ro{still}"
        with closing(sqlite3.connect(uri, uri=True, timeout=0.2)) as journal:
            rows = journal.execute("SELECT litter FROM record WHERE number = 0 ORDER BY seq DESC")
            # What acts on a terminal is no name of ours, whoever wrote it there.
            yield from (Offer(str(litter)) for (litter,) in rows if str(litter).isprintable())
    except sqlite3.Error:
        return


def _parted(line: str) -> list[str]:
    """A command line in words, the last one as far as it is typed."""
    words = line.split(" ")
    for ending in ("", '"', "'"):
        try:
            words = shlex.split(line + ending)
        except ValueError:
            continue
        return [*words, ""] if not ending and line[-1:].isspace() else words
    return words


def _quoted(word: str, offer: Offer) -> str:
    return FILES if offer.word == FILES else shlex.quote(word)


def everywhere() -> dict[str, list[str]]:
    """The options that stand before a command as well, for the table."""
    values = {"--journal": "file", "--litter": "litter"}
    return {
        **{name: [values.get(name, "text"), ""] for name in VALUED},
        **{name: ["", ""] for name in FLAGS},
        "--version": ["", "Name and version."],
    }

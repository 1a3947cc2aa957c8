"""Write what the documents say from the program itself. `--check` says what is stale instead.

Usage: python docs/generate.py [--check] [--pages]

It writes docs/reference/, docs/screens/, the man page, the words that shells complete, the pack of
the limits, and what stands between ``<!-- made: NAME -->`` and ``<!-- end -->`` in other pages.
With `--pages` it also types every line of every page, and puts the true answers below them.
"""

import sys
from collections.abc import Iterator
from pathlib import Path

TOP = Path(__file__).parents[1]
DOCS = TOP / "docs"
sys.path.insert(0, str(DOCS))

from boxlamp.cli.manual import manual_page  # noqa: E402 - after the path is set
from boxlamp.outside import PACKED, SHIPPED  # noqa: E402 - as above
from boxlamp.protocol.packed import pack  # noqa: E402 - as above
from boxlamp.protocol.records import read_protocol  # noqa: E402 - as above
from scribe import made, reference, schemas  # noqa: E402 - found beside this script
from scribe.blocks import pages  # noqa: E402 - as above
from scribe.screens import same_picture, screens  # noqa: E402 - as above
from scribe.session import play  # noqa: E402 - as above
from scribe.table import completion_table  # noqa: E402 - as above


def written() -> Iterator[tuple[Path, str]]:
    """Every file that is made of the program, with what it has to hold."""
    whole = {
        "rules.md": reference.rules_page,
        "words.md": reference.words_page,
        "commands.md": reference.commands_page,
        "environment.md": reference.environment_page,
        "exit-codes.md": reference.exits_page,
        "json.md": schemas.json_page,
    }
    for name, page in whole.items():
        yield DOCS / "reference" / name, "\n".join(page()) + "\n"
    for name, lines in schemas.files():
        yield DOCS / "reference" / name, "\n".join(lines) + "\n"
    yield DOCS / "reference" / "boxlamp.1", manual_page()
    words = TOP / "src" / "boxlamp" / "cli" / "words.json"
    yield words, "\n".join(completion_table()) + "\n"
    limits = SHIPPED.read_text(encoding="utf-8")
    yield PACKED, "\n".join(pack(limits, read_protocol(limits)).splitlines()) + "\n"
    yield from screens(DOCS / "screens")
    for path in pages():
        text = path.read_text(encoding="utf-8")
        if made.MARK.search(text):
            yield path, made.renewed(text)


def main(words: list[str]) -> int:
    """Write the files, or check that they say what the program says."""
    stale = []
    for path, text in written():
        there = path.read_text(encoding="utf-8") if path.exists() else ""
        if there == text or (path.suffix == ".svg" and same_picture(there, text)):
            continue
        stale.append(str(path.relative_to(TOP)))
        if "--check" not in words:
            path.parent.mkdir(parents=True, exist_ok=True)
            path.write_text(text, encoding="utf-8")
    if "--pages" in words and "--check" not in words:
        for path in pages():
            path.write_text(play(path).text, encoding="utf-8")
    if stale and "--check" in words:
        sys.stderr.write(f"Stale: {', '.join(stale)}. Run: python docs/generate.py\n")
        return 1
    return 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))

"""Write docs/reference/, and the pack of the limits, from the program itself.

`--check` says what is stale instead.

Usage: python docs/generate.py [--check]
"""

import json
import sys
from collections.abc import Iterator
from pathlib import Path

from typer.testing import CliRunner

from boxlamp.cli.catalogue import COMMANDS
from boxlamp.cli.shell import application
from boxlamp.language import VOCABULARY
from boxlamp.outside import PACKED, SHIPPED, default_protocol
from boxlamp.paper.export.schema import schema
from boxlamp.protocol.packed import pack
from boxlamp.protocol.records import read_protocol
from boxlamp.rules.registry import RULES
from boxlamp.view.rule_page import rule_lines

REFERENCE = Path(__file__).parent / "reference"
_NOTE = "<!-- Written by docs/generate.py from the program; do not edit. -->"


def rules_page() -> Iterator[str]:
    """Every rule with its limits and their evidence."""
    protocol = default_protocol()
    yield from (_NOTE, "", "# Rules", "", f"Limits {protocol.version}.", "")
    yield "A memory aid, not a diagnosis: your vet's word comes before every limit here."
    for rule in RULES:
        yield from ("", f"## {rule.id}", "", "```text", *rule_lines(rule, protocol), "```")


def words_page() -> Iterator[str]:
    """Every word of a line, with examples."""
    yield from (_NOTE, "", "# Words", "", "A line is: `[when] words [; free note]`.", "")
    yield from ("| words | also | meaning | examples |", "|---|---|---|---|")
    for word in VOCABULARY:
        examples = ", ".join(f"`{example}`" for example in word.examples)
        cells = (f"`{word.pattern}`", ", ".join(word.synonyms), word.meaning, examples)
        yield "| " + " | ".join(cell.replace("|", "\\|") for cell in cells) + " |"


def commands_page() -> Iterator[str]:
    """The help of every command."""
    yield from (_NOTE, "", "# Commands", "")
    yield "Exit codes: 0 well; 1 ran, and the answer is bad news; 2 usage or internal failure;"
    yield "130 Ctrl-C."
    for command in COMMANDS:
        parts = ("show", "check", "use", "trial") if command.nest else ()
        for words in [[command.name, part] for part in parts] or [[command.name]]:
            yield from ("", f"## boxlamp {' '.join(words)}", "", "```text")
            yield _help([*words, "--help"]).rstrip()
            yield "```"


def schema_file() -> Iterator[str]:
    """The shape of a litter exported as JSON, as `export --schema` prints it."""
    yield from json.dumps(schema(), indent=2, ensure_ascii=False).splitlines()


def packed_protocol() -> Iterator[str]:
    """The shipped protocol made ready to load."""
    text = SHIPPED.read_text(encoding="utf-8")
    yield from pack(text, read_protocol(text)).splitlines()


def _help(words: list[str]) -> str:
    shown = CliRunner(env={"COLUMNS": "80", "TERM": "dumb"}).invoke(
        application(words[0]), words, prog_name="boxlamp"
    )
    return shown.output


PAGES = {
    PACKED: packed_protocol,
    REFERENCE / "rules.md": rules_page,
    REFERENCE / "words.md": words_page,
    REFERENCE / "commands.md": commands_page,
    REFERENCE / "litter.schema.json": schema_file,
}


def main(words: list[str]) -> int:
    """Write the pages, or check that they say what the program says."""
    stale = []
    for path, page in PAGES.items():
        text = "\n".join(page()) + "\n"
        if "--check" in words:
            if not path.exists() or path.read_text(encoding="utf-8") != text:
                stale.append(path.name)
        else:
            REFERENCE.mkdir(exist_ok=True)
            path.write_text(text, encoding="utf-8")
    if stale:
        sys.stderr.write(f"Stale: {', '.join(stale)}. Run: python docs/generate.py\n")
    return 1 if stale else 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))

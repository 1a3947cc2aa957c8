"""The pages of docs/reference/ that are written whole from the program."""

import ast
from collections.abc import Iterator
from itertools import groupby
from pathlib import Path
from typing import NamedTuple

from typer.testing import CliRunner

import boxlamp
from boxlamp.cli.argv import FLAGS, VALUED
from boxlamp.cli.manual import EXITS
from boxlamp.cli.settings import VARIABLES
from boxlamp.cli.shell import application
from boxlamp.cli.tree import pages
from boxlamp.language import VOCABULARY
from boxlamp.outside import default_protocol
from boxlamp.rules.registry import RULES
from boxlamp.view.rule_page import rule_lines
from scribe.notes import NOTE

_SOURCE = Path(boxlamp.__file__).parent


def rules_page() -> Iterator[str]:
    """Every rule with its limits and their evidence."""
    protocol = default_protocol()
    yield from (NOTE, "", "# Rules", "", f"Limits {protocol.version}.", "")
    yield "A memory aid, not a diagnosis: your vet's word comes before every limit here."
    yield "`boxlamp rules ID` prints one of these pages."
    for group, rules in groupby(RULES, key=lambda rule: rule.group):
        links = ", ".join(f"[{rule.id}](#{rule.id})" for rule in rules)
        yield from ("", f"- {group.capitalize()}: {links}.")
    for rule in RULES:
        yield from ("", f"## {rule.id}", "", "```text", *rule_lines(rule, protocol), "```")


def words_page() -> Iterator[str]:
    """Every word of a line, with examples."""
    yield from (
        NOTE,
        "",
        "# Words",
        "",
        "A line is: `[when] words [; free note]`. What is true",
        "of several pups is an entry for each: `milk all`, `1 and 2 suckling`, `cord 1-3 tied`.",
        "",
    )
    yield from ("| words | also | meaning | examples |", "|---|---|---|---|")
    for word in VOCABULARY:
        examples = ", ".join(f"`{example}`" for example in word.examples)
        cells = (f"`{word.pattern}`", ", ".join(word.synonyms), word.meaning, examples)
        yield "| " + " | ".join(cell.replace("|", "\\|") for cell in cells) + " |"


def commands_page() -> Iterator[str]:
    """The help of every command, under the moment it is for."""
    yield from (NOTE, "", "# Commands", "")
    shared = ", ".join(f"`{name}`" for name in (*VALUED, *FLAGS) if name != "-h")
    yield f"These options stand before or after any command that has them: {shared}. The others"
    yield "stand behind it. `--` ends the options."
    yield "[Exit codes](exit-codes.md), [variables](environment.md), [JSON](json.md)."
    runner = CliRunner(env={"COLUMNS": "80", "TERM": "dumb"})
    for page in pages():
        words = page.words.split()
        shown = runner.invoke(application(words[0]), [*words, "--help"], prog_name="boxlamp")
        yield from ("", f"## boxlamp {page.words}", "", f"*{page.group}.*", "", "```text")
        yield shown.output.rstrip()
        yield "```"


def environment_page() -> Iterator[str]:
    """Every variable that is heeded, and the option that beats it."""
    yield from (NOTE, "", "# Environment variables", "")
    yield "An option beats the variable of the same thing. A value that cannot be used is named"
    yield "and left out; none of them holds a secret."
    yield from ("", "| variable | | option | of |", "|---|---|---|---|")
    options = [
        (option.variable, option.names[0], page.words) for page in pages()
        for option in page.options if option.variable
    ]  # fmt: skip
    for name, says in VARIABLES.items():
        names = sorted({option for variable, option, _ in options if variable == name})
        of = [words for variable, _, words in options if variable == name]
        told = ", ".join(of) if len(of) < len(list(pages())) // 2 else "most commands"
        yield f"| `{name}` | {says} | {', '.join(f'`{one}`' for one in names)} | {told} |"


class _Error(NamedTuple):
    name: str
    code: int
    says: str


def exits_page() -> Iterator[str]:
    """Every exit code, and every error that a person can be told."""
    yield from (NOTE, "", "# Exit codes", "", "| code | |", "|---|---|")
    yield from (f"| {code} | {says} |" for code, says in EXITS.items())
    yield from ("", "## Errors that have a sentence of their own", "")
    yield "A sentence goes to standard error and nothing to standard output. A fault of the"
    yield "program itself leaves with 2 and names the file that tells of it; `--debug` shows it."
    yield from ("", "| error | code | |", "|---|---|---|")
    for error in sorted(_errors()):
        says = " ".join(error.says.replace("``", "`").split())
        yield f"| {error.name} | {error.code} | {says} |"


def _errors() -> Iterator[_Error]:
    """The exceptions of the source that know their exit code, and those that follow them."""
    found: dict[str, tuple[ast.ClassDef, int | None]] = {}
    for path in sorted(_SOURCE.rglob("*.py")):
        text = path.read_text(encoding="utf-8")
        if "Error(" not in text:
            continue
        for node in ast.walk(ast.parse(text)):
            if isinstance(node, ast.ClassDef):
                found[node.name] = (node, _own_code(node))
    for name, (node, _) in found.items():
        code = _code_of(name, found)
        if code is not None:
            yield _Error(name, code, (ast.get_docstring(node) or "").split("\n\n")[0])


def _own_code(node: ast.ClassDef) -> int | None:
    for line in node.body:
        if isinstance(line, ast.Assign | ast.AnnAssign) and isinstance(line.value, ast.Constant):
            targets = line.targets if isinstance(line, ast.Assign) else [line.target]
            if any(isinstance(one, ast.Name) and one.id == "exit_code" for one in targets):
                return int(str(line.value.value))
    return None


def _code_of(name: str, found: dict[str, tuple[ast.ClassDef, int | None]]) -> int | None:
    """Its exit code, or that of the class it is made from."""
    if name not in found:
        return None
    node, code = found[name]
    bases = (_code_of(base.id, found) for base in node.bases if isinstance(base, ast.Name))
    return code if code is not None else next((one for one in bases if one is not None), None)

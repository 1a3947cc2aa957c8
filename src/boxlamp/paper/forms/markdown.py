"""A document as Markdown: headings, lists, pipe tables; no words of people become markup."""

import re
from collections.abc import Iterator, Sequence

from boxlamp.paper.document import (
    BarChart,
    Block,
    Cell,
    Column,
    CurveChart,
    Document,
    Facts,
    Points,
    Role,
    Section,
    Table,
    Words,
)
from boxlamp.paper.forms.text import block_lines
from boxlamp.view.text import clean

MARK = "*Written by Boxlamp.*"
"""The last line of every Markdown file: by it a file is known as one of ours."""

_ALWAYS = re.compile(r"([\\`*_\[\]<>&|~#@${}^])")
# What only a reader that makes links of bare addresses would take up.
_ADDRESS = re.compile(r"(?i)(www)\.|:(?=/)|(mailto|xmpp):")
# What begins a list, a heading or a line only where a line begins.
_START = re.compile(r"^([-+=:])|^(\d+)([.)])")

_WIDTH = 80
_BOLD: frozenset[Role] = frozenset({"strong", "caution", "watch", "call", "go"})


def markdown_form(document: Document) -> str:
    """The document as CommonMark with pipe tables; charts are fenced text. One newline last."""
    parts = [f"# {escaped(document.title)}", escaped(document.subtitle)]
    for section in document.sections:
        parts += _section(section)
    parts += ["---", escaped(document.foot), MARK]
    return "\n\n".join(part.rstrip() for part in parts if part) + "\n"


def is_ours(content: bytes) -> bool:
    """Whether a file was written by this form."""
    return content.rstrip().rpartition(b"\n")[2].strip() == MARK.encode()


def escaped(text: str) -> str:
    """The text on one line, such that it reads as itself and as nothing else."""
    line = " ".join(clean(text).split())
    line = _ALWAYS.sub(r"\\\1", line)
    line = _ADDRESS.sub(lambda found: f"{found[0][:-1]}\\{found[0][-1]}", line)
    return _START.sub(lambda found: f"{found[2] or ''}\\{found[1] or found[3]}", line)


def _section(section: Section) -> Iterator[str]:
    yield f"## {escaped(section.title)}"
    told = 0
    for block in section.blocks:
        # Two lists that follow one another stay two by their different signs. What comes to
        # nothing stands between nobody.
        said = _block(block, "-+"[told % 2])
        told += bool(said)
        yield said


def _block(block: Block, bullet: str) -> str:
    """One block; nothing when there is nothing in it."""
    match block:
        case Facts(rows):
            return "\n".join(
                f"{bullet} **{escaped(label)}:** {escaped(value)}".rstrip() for label, value in rows
            )
        case Table():
            return _table(block)
        case Words(text, role):
            return _cell(Cell(text, role))
        case Points(items):
            return "\n".join(f"{bullet} {_cell(item)}".rstrip() for item in items)
        case BarChart() | CurveChart():
            return _fenced(block_lines(block, _WIDTH, fine=True))


def _table(block: Table) -> str:
    if not block.rows:
        return escaped(block.empty)
    rows = [_row([escaped(column.title) for column in block.columns]), _rule(block.columns)]
    return "\n".join([*rows, *(_row([_cell(cell) for cell in row]) for row in block.rows)])


def _row(texts: Sequence[str]) -> str:
    return f"| {' | '.join(texts)} |"


def _rule(columns: Sequence[Column]) -> str:
    """The line under the titles, which also says what side a column keeps to."""
    return _row(["---:" if column.side == "right" else "---" for column in columns])


def _cell(cell: Cell) -> str:
    """What a cell says. Strong where it matters; struck is said in a word as well."""
    text = escaped(cell.text)
    if not text:
        return ""
    if cell.role == "struck":
        return f"(struck) ~~{text}~~"
    return f"**{text}**" if cell.role in _BOLD else text


def _fenced(lines: Sequence[str]) -> str:
    """Lines set as they are, between fences that none of them can close."""
    longest = max((len(run) for line in lines for run in re.findall("`+", line)), default=0)
    fence = "`" * max(3, longest + 1)
    return "\n".join([f"{fence}text", *lines, fence])

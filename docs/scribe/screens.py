"""Pictures of the screens: what the program truly draws, as SVG that asks for nothing outside."""

import io
import re
import sys
from collections.abc import Iterable, Iterator
from datetime import datetime
from importlib.metadata import version
from pathlib import Path
from zoneinfo import ZoneInfo

from rich.console import Console
from rich.text import Text

from boxlamp.desk.files import read_record
from boxlamp.engine import Verdict, assess
from boxlamp.model.entry import Entry
from boxlamp.model.story import Story
from boxlamp.outside import default_protocol
from boxlamp.paper.call_sheet.lines import sheet_lines
from boxlamp.paper.call_sheet.sheet import call_sheet
from boxlamp.paper.reader import Reader
from boxlamp.view.board import board
from boxlamp.view.layout import FINE, full
from boxlamp.view.show_rich import text_of
from scribe.blocks import TOP
from scribe.pty import attended
from scribe.session import fresh

_ACROSS = 80
_LONDON = ZoneInfo("Europe/London")
_NIGHT, _AT = "pup-stuck", datetime(2026, 5, 17, 21, 44, tzinfo=_LONDON)
_DRAWN = re.compile(r"<text [^>]*>([^<]*)</text>")


def screens(folder: Path) -> Iterator[tuple[Path, str]]:
    """Every picture, with the file it belongs in."""
    entries, verdict = _moment()
    model = board(verdict, entries, _LONDON, latest=8)
    yield folder / "board.svg", _drawn("board", map(text_of, full(model, _ACROSS, FINE)))
    sheet = sheet_lines(call_sheet(verdict, Reader(_LONDON)), _ACROSS, 22)
    yield folder / "call-sheet.svg", _drawn("call-sheet", map(text_of, sheet))
    yield folder / "drill.svg", _drawn("drill", _drill())
    if sys.platform == "linux":
        yield folder / "attend.svg", _drawn("attend", attended())


def _moment() -> tuple[list[Entry], Verdict]:
    record = read_record(str(TOP / "demo" / f"{_NIGHT}.night"))
    typed = [entry for entry in record.entries if entry.at <= _AT]
    return typed, assess(Story(record.entries).until(_AT), default_protocol()).verdict(_AT)


def _drill() -> Iterator[Text]:
    """The first stop of a drill, as it is asked."""
    with fresh() as shell:
        (shell.home / "one.txt").write_text("1\n", encoding="utf-8")
        told = shell.line("boxlamp drill 9 --answers one.txt").text.splitlines()
    last = next(place for place, line in enumerate(told) if line.startswith("What now?"))
    yield from map(Text, told[: last + 1])


def _drawn(name: str, lines: Iterable[Text]) -> str:
    console = Console(
        record=True, width=_ACROSS, file=io.StringIO(), force_terminal=True,
        color_system="truecolor", legacy_windows=False, markup=False, emoji=False, highlight=False,
    )  # fmt: skip
    for line in lines:
        console.print(line, crop=False)
    svg = console.export_svg(title=f"boxlamp {name}", unique_id=name)
    # The fonts that rich names lie on other people's computers: any fixed one will do.
    svg = re.sub(r"@font-face \{.*?\}\s*", "", svg, flags=re.DOTALL)
    svg = svg.replace("<!-- Generated with Rich", f"<!-- Drawn by rich {version('rich')}; rich")
    return "\n".join(line.rstrip() for line in svg.splitlines()) + "\n"


def same_picture(one: str, other: str) -> bool:
    """Whether two pictures show the same words; another rich may set them another way."""
    if one.split("-->", 1)[0] == other.split("-->", 1)[0]:
        return one == other
    return _DRAWN.findall(one) == _DRAWN.findall(other)

"""The night as one bar: where pups were born, where alerts came, and where now is.

Figures and level marks say it, never colour. A long record is not drawn to scale: its quiet
days would leave no room for the night.
"""

from bisect import bisect_right
from collections.abc import Sequence
from datetime import datetime, timedelta
from itertools import accumulate, pairwise
from statistics import median
from typing import NamedTuple

from boxlamp.model.levels import Level
from boxlamp.training.screening import Screening
from boxlamp.view.layout import Glyphs, Line
from boxlamp.view.text import day_text

# Up to this length time is drawn to scale; beyond it no gap is wider than half of them are.
_TO_SCALE = timedelta(hours=36)
_PUPS, _ALERTS, _BOTH = "pups", "alerts", "marks"


class Bar(NamedTuple):
    """A night measured out once: how far along the bar each moment of it lies, 0 to 1."""

    moments: tuple[datetime, ...]
    shares: tuple[float, ...]
    births: tuple[tuple[datetime, int], ...]
    alerts: tuple[tuple[datetime, Level], ...]
    ends: tuple[str, str]
    """The times at its two ends as told."""

    def share(self, at: datetime) -> float:
        """How far along the bar a moment lies."""
        place = bisect_right(self.moments, at) - 1
        if place < 0:
            return 0.0
        if place + 1 >= len(self.moments):
            return 1.0
        start, end = self.moments[place], self.moments[place + 1]
        part = (at - start) / (end - start)
        return self.shares[place] + part * (self.shares[place + 1] - self.shares[place])


def bar_of(screening: Screening) -> Bar:
    """Measure a night out."""
    began, ended = screening.began, screening.ended
    moments = sorted({began, *(moment.at for moment in screening.moments), ended})
    gaps = [(after - before).total_seconds() for before, after in pairwise(moments)]
    if ended - began > _TO_SCALE:
        widest = median(gaps)
        gaps = [min(gap, widest) for gap in gaps]
    whole = sum(gaps) or 1.0
    shares = tuple(min(1.0, sofar / whole) for sofar in accumulate(gaps, initial=0.0))
    return Bar(tuple(moments), shares, screening.births, screening.alerts, _ends(screening))


def _ends(screening: Screening) -> tuple[str, str]:
    zone = screening.zone
    began, ended = screening.began, screening.ended
    if ended - began > _TO_SCALE:
        return day_text(began, zone), day_text(ended, zone)
    return f"{began.astimezone(zone):%H:%M}", f"{ended.astimezone(zone):%H:%M}"


def bar_lines(bar: Bar, at: datetime, width: int, glyphs: Glyphs, *, rows: int = 3) -> list[Line]:
    """The bar in three lines, or in two with one for the marks: then an alert hides a birth."""
    lead = max(len(_ALERTS), len(bar.ends[0])) + 1
    cells = max(4, width - lead - len(bar.ends[1]) - 1)
    births, alerts = _births(bar, cells), _alerts(bar, cells)
    line = _line(bar, at, cells, glyphs)
    timed: Line = [
        ("dim", f"{bar.ends[0]:<{lead}}"),
        ("text", line[0]), ("time", line[1]), ("dim", line[2]), ("dim", f" {bar.ends[1]}"),
    ]  # fmt: skip
    if rows < 3:  # noqa: PLR2004 - the two forms of the bar
        return [[("dim", f"{_BOTH:<{lead}}"), ("text", _placed([*alerts, *births], cells))], timed]
    return [
        [("dim", f"{_PUPS:<{lead}}"), ("text", _placed(births, cells))],
        [("dim", f"{_ALERTS:<{lead}}"), ("text", _placed(alerts, cells))],
        timed,
    ]


def _cell(bar: Bar, at: datetime, cells: int) -> int:
    return min(cells - 1, int(bar.share(at) * cells))


def _line(bar: Bar, at: datetime, cells: int, glyphs: Glyphs) -> tuple[str, str, str]:
    """What has been played, now, and what has not."""
    here = _cell(bar, at, cells)
    return glyphs.full * here, glyphs.tick, glyphs.empty * (cells - here - 1)


def _births(bar: Bar, cells: int) -> list[tuple[int, str]]:
    """The number of each pup at its place; those too close together as a range: ``3-5``."""
    groups: list[list[int]] = []
    for at, pup in sorted(bar.births):
        cell = min(_cell(bar, at, cells), cells - 5)  # room for `10-12`
        if groups and cell <= groups[-1][0] + len(_range(groups[-1])):
            groups[-1].append(pup)
        else:
            groups.append([cell, pup])
    return [(group[0], _range(group)) for group in groups]


def _range(group: list[int]) -> str:
    first, last = group[1], group[-1]
    return str(first) if first == last else f"{first}-{last}"


def _alerts(bar: Bar, cells: int) -> list[tuple[int, str]]:
    """The mark of each alert where it came; of several too close together the highest."""
    marks: list[tuple[int, Level]] = []
    for at, level in sorted(bar.alerts):
        cell = min(_cell(bar, at, cells), cells - len(Level.GO.mark))
        if marks and cell < marks[-1][0] + len(marks[-1][1].mark) + 1:
            marks[-1] = (marks[-1][0], max(level, marks[-1][1]))
        else:
            marks.append((cell, level))
    return [(cell, level.mark) for cell, level in marks]


def _placed(labels: Sequence[tuple[int, str]], cells: int) -> str:
    """Labels at their places, moved left at the end; one that would touch another is left out."""
    row = " " * cells
    for cell, label in labels:
        start = max(0, min(cell, cells - len(label)))
        end = start + len(label)
        if not row[max(0, start - 1) : end + 1].strip():
            row = row[:start] + label[: cells - start] + row[end:]
    return row.rstrip()

"""The whole screen of somebody who watches a night, as lines for a size.

The board of the moment has the room that is left above a few lines that are always there: what
just happened, the bar, the time and the speed, the keys.
"""

from bisect import bisect_right
from collections.abc import Sequence
from datetime import timedelta
from typing import Literal, NamedTuple

from boxlamp.model.spans import in_words
from boxlamp.training.bar import Bar, bar_lines, bar_of
from boxlamp.training.pages import ended_lines, help_lines
from boxlamp.training.player import Player, moment_at
from boxlamp.training.retelling import Moment
from boxlamp.training.screening import Screening
from boxlamp.training.telling import READING, short_words
from boxlamp.view.layout import FINE, Glyphs, Line, fitted
from boxlamp.view.text import clock_text, date_text, fit, width_of

Page = Literal["board", "help"]

# With fewer rows than this the bar has two lines and what happened has one.
_ROWS_FOR_ALL = 20
_ROWS_FOR_BAR = 12


class Show(NamedTuple):
    """A night and everything that is said about it, made ready once. See :func:`show_of`."""

    screening: Screening
    bar: Bar
    lesson: str
    further: tuple[str, ...]
    """The commands that go on from here."""
    glyphs: Glyphs


class Look(NamedTuple):
    """What of it is looked at."""

    page: Page = "board"
    stepping: bool = False
    """Whether one key is one moment."""
    scrolled: int = 0
    """How many lines of a long page have gone by."""


def show_of(
    screening: Screening, *, lesson: str = "", further: Sequence[str] = (), glyphs: Glyphs = FINE
) -> Show:
    """Make a night ready for the screen."""
    return Show(screening, bar_of(screening), lesson, tuple(further), glyphs)


def scene(show: Show, player: Player, look: Look, width: int, rows: int) -> list[Line]:
    """Exactly ``rows`` lines, none wider than ``width``."""
    foot = _foot(show, player, look, width, rows)
    room = max(1, rows - len(foot))
    if look.page == "help":
        shown = _scrolled(help_lines(width), look, width, room)
    elif player.ended:
        shown = _scrolled(ended_lines(show.screening, show.lesson, show.further, width),
                          look, width, room)  # fmt: skip
    else:
        board = show.screening.board(moment_at(show.screening, player))
        shown = fitted(board, width, room, show.glyphs)
    return [*shown, *([] for _ in range(room - len(shown))), *foot][:rows]


def furthest(show: Show, player: Player, look: Look, width: int, rows: int) -> int:
    """How far the page that is shown can be scrolled; 0 when it is all in view."""
    room = max(1, rows - len(_foot(show, player, look, width, rows)))
    if look.page == "help":
        page = help_lines(width)
    elif player.ended:
        page = ended_lines(show.screening, show.lesson, show.further, width)
    else:
        return 0
    return max(0, len(page) - room + 1) if len(page) > room else 0


def _scrolled(page: list[Line], look: Look, width: int, room: int) -> list[Line]:
    """The part of a page that there is room for, and a word on what is out of view."""
    if len(page) <= room:
        return page
    start = min(look.scrolled, len(page) - room + 1)
    rest = len(page) - start - room + 1
    word = f"down: {rest} more lines" if rest else "up: the lines above"
    return [*page[start : start + room - 1], [("key", fit(word, width).rstrip())]]


def _foot(show: Show, player: Player, look: Look, width: int, rows: int) -> list[Line]:
    at = moment_at(show.screening, player)
    lines: list[Line] = []
    if rows >= _ROWS_FOR_BAR:
        roomy = rows >= _ROWS_FOR_ALL
        lines += just_now(show.screening, player, width, 2 if roomy else 1)
        lines += bar_lines(show.bar, at, width, show.glyphs, rows=3 if roomy else 2)
    return [*lines, _status(show, player, width), keys_line(player, look, width)]


def just_now(screening: Screening, player: Player, width: int, rows: int) -> list[Line]:
    """What happened last, an alert before anything else; the board above says it in full."""
    at = moment_at(screening, player)
    moments = screening.moments
    found = bisect_right(moments, at, key=lambda moment: moment.at)
    if not found:
        return [[] for _ in range(rows)]
    last = [moment for moment in moments[:found] if moment.at == moments[found - 1].at]
    last.sort(key=_loudness)
    time = clock_text(last[0].at, at, screening.zone)
    lines: list[Line] = []
    for place, moment in enumerate(last[:rows]):
        role, words = short_words(moment, screening)
        lead = f"{time} " if place == 0 else " " * (width_of(time) + 1)
        left = len(last) - rows
        more = f" (and {left} more)" if left > 0 and place == rows - 1 else ""
        room = width - width_of(lead) - len(more)
        lines.append([("dim", lead), (role, fit(words, room).rstrip()), ("dim", more)])
    return lines + [[] for _ in range(rows - len(lines))]


def _loudness(moment: Moment) -> int:
    """Sort key: alerts that come, worst first, then what was typed, then what is over."""
    if moment.step is None:
        return 0
    return -moment.step.level if moment.step.change in {"raised", "escalated"} else 1


def _status(show: Show, player: Player, width: int) -> Line:
    """Where in the night, and how fast; the rest where there is room."""
    screening = show.screening
    at = moment_at(screening, player).astimezone(screening.zone)
    seen = bisect_right(player.reel.stops, player.place)
    pieces = [
        f"{date_text(at.date())} {at:%H:%M:%S}",
        _pace(player),
        f"moment {seen} of {len(player.reel.stops)}",
        READING[screening.as_corrected],
    ]
    dot = f" {show.glyphs.dot} "
    while len(pieces) > 2 and width_of(dot.join(pieces)) > width:  # noqa: PLR2004 - time, pace
        pieces.pop()
    if width_of(dot.join(pieces)) > width:
        pieces[0] = f"{at:%H:%M}"
    return [("time", pieces[0]), ("text", fit(dot.join(["", *pieces[1:]]),
                                              width - width_of(pieces[0])).rstrip())]  # fmt: skip


def _pace(player: Player) -> str:
    if player.ended:
        return "the end"
    if not player.playing:
        return "stopped"
    quiet = player.quiet
    if quiet is not None and player.place >= quiet.run_from:
        return f"quiet for {in_words(timedelta(seconds=quiet.length))}, cut short"
    return "as fast as it was" if player.speed == 1 else f"{player.speed:g} times as fast"


def keys_line(player: Player, look: Look, width: int) -> Line:
    """What can be pressed now; in a narrow window only what nobody can do without."""
    keys = _keys(player, look)
    fitting = (rank for rank in (3, 2) if _keys_width(keys, rank) <= width)
    rank = next(fitting, 1)
    line: Line = []
    for key, label, own in keys:
        if own <= rank:
            line += [("key", f"{key} "), ("dim", f"{label}  ")]
    return [*line[:-1], ("dim", line[-1][1].rstrip())]


def _keys_width(keys: list[tuple[str, str, int]], rank: int) -> int:
    return sum(len(key) + len(label) + 3 for key, label, own in keys if own <= rank) - 2


def _keys(player: Player, look: Look) -> list[tuple[str, str, int]]:
    """The keys with their labels, and how soon each gives way (1: never)."""
    leave = [("?", "help", 1), ("q", "leave", 1)]
    if look.page == "help":
        return [("?", "back", 1), ("up down", "scroll", 2), ("q", "leave", 1)]
    if player.ended:
        return [
            ("space", "again", 1), ("left", "back", 1), ("b", "last alert", 3),
            ("up down", "scroll", 2), *leave,
        ]  # fmt: skip
    if look.stepping:
        return [
            ("space", "next", 1), ("left", "back", 2), ("n b", "next/last alert", 3),
            ("p", "play on", 3), *leave,
        ]  # fmt: skip
    return [
        ("space", "stop" if player.playing else "go on", 1), ("left right", "event", 2),
        ("n b", "alert", 3), ("+ -", "speed", 3), *leave,
    ]  # fmt: skip

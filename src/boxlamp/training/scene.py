"""The whole screen of somebody who watches a night, as lines for a size.

The board of the moment has the room that is left above a few lines that are always there: what
just happened, the bar, the time and the speed, the keys.
"""

from bisect import bisect_right
from collections.abc import Sequence
from datetime import timedelta
from typing import Literal, NamedTuple

from boxlamp.model.levels import ALERTS
from boxlamp.model.spans import in_words
from boxlamp.training.bar import Bar, bar_lines, bar_of
from boxlamp.training.pages import ended_lines, help_lines
from boxlamp.training.player import USUAL_SPEED, Player, moment_at
from boxlamp.training.retelling import Moment
from boxlamp.training.screening import Screening
from boxlamp.training.telling import AFTERWARDS, READING, short_words
from boxlamp.view.alert_lines import alerts_left_out
from boxlamp.view.layout import FINE, Glyphs, Line, fitted
from boxlamp.view.text import clock_text, date_text, fit, width_of, wrap

Page = Literal["board", "help"]

_ROWS_FOR_ALL = 20
"""With fewer rows than this the bar has two lines, and what happened has one."""
_LEAST_BOARD = 8
_FEET = ((2, 3), (1, 2), (0, 2), (0, 0))
"""Lines for what happened, and for the bar: from much room to little."""
_LOUD = tuple(level.word for level in ALERTS)


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
    page = _page(show, player, look, width)
    if page is None:
        shown, foot = _board(show, player, look, width, rows)
    else:
        foot = _page_foot(show, player, look, width, rows)
        shown = _scrolled(page, look.scrolled, width, rows - len(foot))
    room = rows - len(foot)
    return [*shown, *([] for _ in range(room - len(shown))), *foot][:rows]


def _page(show: Show, player: Player, look: Look, width: int) -> list[Line] | None:
    """What stands in place of the board, if something does."""
    if look.page == "help":
        return help_lines(width)
    if player.ended:
        return ended_lines(show.screening, show.lesson, show.further, width)
    return None


def _board(
    show: Show, player: Player, look: Look, width: int, rows: int
) -> tuple[list[Line], list[Line]]:
    """The board of the moment and what is under it.

    In a small window what is under it gives way before an alert on the board does.
    """
    at = moment_at(show.screening, player)
    board = show.screening.board(at)
    shown: list[Line] = []
    foot: list[Line] = []
    for happened, bar in _FEET if rows >= _ROWS_FOR_ALL else _FEET[1:]:
        foot = [_status(show, player, look, width), keys_line(player, look, width)]
        if bar:
            foot = [*bar_lines(show.bar, at, width, show.glyphs, rows=bar), *foot]
        if happened:
            foot = [*_happened(show.screening, player, width, happened), *foot]
        shown = fitted(board, width, max(1, rows - len(foot)), show.glyphs)
        if rows - len(foot) >= _LEAST_BOARD and not alerts_left_out(shown):
            break
    return shown, foot


def _page_foot(show: Show, player: Player, look: Look, width: int, rows: int) -> list[Line]:
    foot = [_status(show, player, look, width), keys_line(player, look, width)]
    if look.page == "help" or rows < _ROWS_FOR_ALL:
        return foot
    at = moment_at(show.screening, player)
    return [*bar_lines(show.bar, at, width, show.glyphs), *foot]


def furthest(show: Show, player: Player, look: Look, width: int, rows: int) -> int:
    """How far the page that is shown can be scrolled; 0 when it is all in view."""
    page = _page(show, player, look, width) or []
    room = rows - len(_page_foot(show, player, look, width, rows))
    return len(page) - room + 1 if len(page) > room else 0


def _scrolled(page: list[Line], scrolled: int, width: int, room: int) -> list[Line]:
    """The part of a page that there is room for, and a word on what is out of view."""
    if len(page) <= room:
        return page
    start = min(scrolled, len(page) - room + 1)
    rest = len(page) - start - room + 1
    word = f"down: {rest} more lines" if rest else "up: the lines above"
    return [*page[start : start + room - 1], [("key", fit(word, width).rstrip())]]


def _happened(screening: Screening, player: Player, width: int, rows: int) -> list[Line]:
    """What happened last; at the very start, of a night typed afterwards, how to see it better."""
    if player.place or rows < 2 or not screening.typed_afterwards:  # noqa: PLR2004 - one for each
        return just_now(screening, player, width, rows)
    hint: Line = [("key", fit(AFTERWARDS, width).rstrip())]
    return [hint, *just_now(screening, player, width, rows - 1)]


def just_now(screening: Screening, player: Player, width: int, rows: int) -> list[Line]:
    """What happened last, the newest at the bottom: an alert whole, the rest as there is room.

    Of what came at one moment an alert goes before anything else.
    """
    at = moment_at(screening, player)
    so_far = screening.moments[: bisect_right(screening.moments, at, key=lambda one: one.at)]
    latest = [moment for moment in so_far if moment.at == so_far[-1].at]
    told = sorted(latest, key=_loudness)[:rows]
    earlier = so_far[: len(so_far) - len(latest)][-(rows - len(told)) :] if rows > len(told) else ()
    more = f" (and {len(latest) - rows} more)" if len(latest) > rows else ""
    lines: list[Line] = []
    for moment in (*earlier, *told):
        role, words = short_words(moment, screening)
        time = clock_text(moment.at, at, screening.zone)
        room = width - width_of(time) - 1
        last = more if moment is told[-1] else ""
        for place, part in enumerate(_set(role, words, last, room)):
            lead = time if place == 0 else " " * width_of(time)
            lines.append([("dim", f"{lead} "), ("dim" if moment in earlier else role, part)])
    return [*([] for _ in range(rows - len(lines))), *lines]


def _set(role: str, words: str, more: str, room: int) -> list[str]:
    """The words of a moment in lines: those of an alert are never cut."""
    if role in _LOUD:
        return wrap(words + more, room)
    return [f"{fit(words, room - len(more)).rstrip()}{more}"]


def _loudness(moment: Moment) -> int:
    """Sort key: alerts that come, worst first, then what was typed, then what is over."""
    if moment.step is None:
        return 0
    return -moment.step.level if moment.step.change in {"raised", "escalated"} else 1


def _status(show: Show, player: Player, look: Look, width: int) -> Line:
    """Where in the night, and how fast; the rest where there is room."""
    screening = show.screening
    at = moment_at(screening, player).astimezone(screening.zone)
    seen = bisect_right(player.reel.stops, player.place)
    pieces = [
        f"{date_text(at.date())} {at:%H:%M:%S}",
        _pace(player, look),
        f"event {seen} of {len(player.reel.stops)}",
        READING[screening.as_corrected],
    ]
    dot = f" {show.glyphs.dot} "
    while len(pieces) > 2 and width_of(dot.join(pieces)) > width:  # noqa: PLR2004 - time, pace
        pieces.pop()
    if width_of(dot.join(pieces)) > width:
        pieces[0] = f"{at:%H:%M}"
    return [("time", pieces[0]), ("text", fit(dot.join(["", *pieces[1:]]),
                                              width - width_of(pieces[0])).rstrip())]  # fmt: skip


def _pace(player: Player, look: Look) -> str:
    if look.page == "help":
        return "waiting for you"
    if player.ended:
        return "the end"
    pace = "as fast as it was" if player.speed == 1 else f"{player.speed:g} times as fast"
    if not player.playing:
        # Whoever changes the speed meanwhile sees what it will be.
        usual = look.stepping and player.speed == USUAL_SPEED
        return "stopped" if usual else f"stopped ({pace})"
    quiet = player.quiet
    if quiet is not None and player.place >= quiet.run_from:
        return f"quiet for {in_words(timedelta(seconds=quiet.length))}, cut short"
    return pace


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
        return [("?", "back", 1), ("q", "leave", 1)]
    if player.ended:
        return [
            ("space", "again", 1), ("left", "back", 2), ("b", "last alert", 3), *leave,
        ]  # fmt: skip
    if look.stepping and not player.playing:
        return [
            ("space", "next", 1), ("left", "back", 2), ("n b", "alert", 3),
            ("p", "play on", 3), *leave,
        ]  # fmt: skip
    return [
        ("space", "stop" if player.playing else "go on", 1), ("left right", "event", 2),
        ("n b", "alert", 3), ("+ -", "speed", 3), *leave,
    ]  # fmt: skip

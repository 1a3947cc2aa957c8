"""The board as lines of styled text, for a width and, in the console, a height.

A line is a list of ``(role, text)`` pairs; what a role looks like is decided by whoever prints
it. The words alone carry everything: level marks and words, never colour. A message or an
action is wrapped and never cut, nor is the name of a clock or what the vet said; only the names
of dams and marks and other typed lines are shortened to fit.
"""

from collections.abc import Callable, Iterable
from typing import NamedTuple

from boxlamp.view.alert_lines import LEVEL_ROLE, alert, alerts_within, least_room
from boxlamp.view.board import Board, EntryLine
from boxlamp.view.clock_lines import ClockLine
from boxlamp.view.pup_lines import PupLine
from boxlamp.view.temperatures import temperature_lines
from boxlamp.view.text import counted, fit, width_of, wrap, wrap_words

Line = list[tuple[str, str]]


class Glyphs(NamedTuple):
    """The few drawing characters, and their forms for a terminal without them."""

    full: str = "━"
    empty: str = "╌"
    tick: str = "┃"
    rule: str = "─"
    dot: str = "·"


FINE = Glyphs()
PLAIN = Glyphs(full="=", empty="-", tick="|", rule="-", dot="-")

_BAR = 20
_LEAST_BAR = 8
_TITLE = 35
_LEAST_TITLE = 20
_NARROW = 70
# A name may be shortened to this beside the phase; below it the phase has a line of its own.
_NAME = 16
_LEAST_TEXT = 8
# With fewer lines than this for the alerts, the head gives up its second half.
_LEAST_ALERTS = 12


def full(board: Board, width: int, glyphs: Glyphs = FINE) -> list[Line]:
    """The whole board, however long it gets."""
    blocks = [
        head(board, width, glyphs),
        *[alert(line, board.vet, width) for line in board.alerts],
        calm(board, width),
        prompts(board, width),
        clocks(board, width, glyphs),
        curve(board, width, glyphs),
        pups(board, width),
        entries(board.entries, width),
        notes(board, width),
    ]
    lines: list[Line] = []
    for block in blocks:
        if block and lines:
            lines.append([])
        lines.extend(block)
    return lines


def fitted(board: Board, width: int, height: int, glyphs: Glyphs = FINE) -> list[Line]:
    """The board in exactly ``height`` lines or fewer: what matters most stays whole.

    Alerts come first: of the gravest what to do and whom to ring is there at every size, and
    those there is no room for are counted. Then clocks, pups, the last entries, notes.
    """
    lines = _head_within(board, width, height, glyphs)
    room = height - len(lines)
    lines += alerts_within(board, width, room) if board.alerts else calm(board, width)
    for told, shorten in (
        (_prompts(board, width), _cut("reminder")),
        (_clocks(board, width, glyphs), _cut("clock")),
        ([curve(board, width, glyphs)], _whole),
        (_pups(board, width), _cut("pup")),
        ([_entry(line, width) for line in board.entries], _latest),
        (_notes(board, width), _cut("note")),
    ):
        block = _joined(told)
        if block and height - len(lines) > 1:
            if height - len(lines) > len(block) + 4:
                lines.append([])
            lines += shorten(told, height - len(lines))
    return lines[:height]


def _joined(told: Iterable[list[Line]]) -> list[Line]:
    return [line for one in told for line in one]


def _head_within(board: Board, width: int, height: int, glyphs: Glyphs) -> list[Line]:
    """As much of the head as the alerts leave room for: all, half, one line, or none."""
    whole = head(board, width, glyphs)
    least = least_room(board, width) if board.alerts else 0
    if not board.alerts or height - len(whole) >= max(_LEAST_ALERTS, least):
        return whole
    half = head(board._replace(since=(), owed=""), width, glyphs)
    fitting = (some for some in (half, half[:1]) if height - len(some) >= least)
    return next(fitting, [])


def _cut(what: str) -> Callable[[list[list[Line]], int], list[Line]]:
    """As many of them as there is room for, each whole; the others are counted."""

    def within(told: list[list[Line]], room: int) -> list[Line]:
        kept, lines = len(told), _joined(told)
        while len(lines) > room:
            kept -= 1
            left = counted(len(told) - kept, what, f"{what}s")
            lines = [*_joined(told[:kept]), [("dim", f"  not shown: {left}")]]
        return lines

    return within


def _whole(told: list[list[Line]], room: int) -> list[Line]:
    """What says nothing when it is cut."""
    block = _joined(told)
    return block if len(block) <= room else []


def _latest(told: list[list[Line]], room: int) -> list[Line]:
    """The end: of entries the last ones matter, each whole as long as the newest fits."""
    lines = list[Line]()
    for rows in reversed(told):
        if len(rows) + len(lines) > room:
            break
        lines = [*rows, *lines]
    return lines or _joined(told[-1:])[:room]


def head(board: Board, width: int, glyphs: Glyphs) -> list[Line]:
    """Who, what phase, what time; then the tally and the times since the last of each."""
    room = width - width_of(board.phase) - width_of(board.now) - 6
    beside = room >= min(_NAME, width_of(board.dam))
    if not beside:
        room = width - width_of(board.now) - 2
    name = fit(board.dam, room).rstrip() if width_of(board.dam) > room else board.dam
    first: Line = [("name", name)]
    if beside:
        first += [("text", "  "), ("phase", board.phase)]
    gap = " " * (width - sum(width_of(part) for _, part in first) - width_of(board.now))
    lines: list[Line] = [[*first, ("text", gap), ("time", board.now)]]
    if not beside:
        lines += [[("phase", line)] for line in wrap(board.phase, width)]
    dot = f" {glyphs.dot} "
    lines += [[("text", line)] for line in wrap(dot.join(board.tally), width)]
    if board.since:
        lines += [[("dim", line)] for line in wrap(dot.join(board.since), width)]
    if board.owed:
        lines += [[("owed", line)] for line in wrap(board.owed, width)]
    lines.append([("dim", glyphs.rule * width)])
    return lines


def calm(board: Board, width: int) -> list[Line]:
    """What to say when nothing is wrong, so that silence is not mistaken for a broken board."""
    if board.alerts:
        return []
    said: list[Line] = []
    if board.vet_said:
        said = [[("do", line)] for line in wrap(board.vet_said, width)]
    now = "No alert now; the vet's word comes first." if said else "No alert now."
    words = wrap(f"{now} Keep writing down what you see.", width)
    return [*said, *([("calm", line)] for line in words)]


def prompts(board: Board, width: int) -> list[Line]:
    """Reminders that are no alerts."""
    return _joined(_prompts(board, width))


def _prompts(board: Board, width: int) -> list[list[Line]]:
    return [
        [
            [("do", f"{'  ' if place else '- '}{line}")]
            for place, line in enumerate(wrap(words, width - 2))
        ]
        for words in board.prompts
    ]


def clocks(board: Board, width: int, glyphs: Glyphs) -> list[Line]:
    """The running clocks, each with a bar to its last limit and what comes next."""
    return _joined(_clocks(board, width, glyphs))


def _clocks(board: Board, width: int, glyphs: Glyphs) -> list[list[Line]]:
    # All bars end in one column: the longest telling says how much room is left for them.
    widest = max((width_of(_told(clock)) for clock in board.clocks), default=0)
    return [_clock(clock, width, glyphs, widest) for clock in board.clocks]


def _told(line: ClockLine) -> str:
    return f"{line.elapsed:>6}  {line.coming}"


def _clock(line: ClockLine, width: int, glyphs: Glyphs, widest: int) -> list[Line]:
    role = LEVEL_ROLE.get(line.level, "text") if line.level is not None else "text"
    told = _told(line)
    # The bar gives way first, then the name goes on below: nothing is ever cut.
    room = width - widest - 4
    cells = max(_LEAST_BAR, min(_BAR, room - _TITLE))
    column = min(_TITLE, room - cells)
    if width < _NARROW or column < _LEAST_TITLE:
        return [
            *[[(role, part)] for part in wrap_words(line.name, width)],
            *[[("dim", "  "), ("text", part)] for part in wrap(told, width - 2)],
        ]
    bar = _bar(line, glyphs, cells)
    whole = " ".join(line.name)
    first, *more = [whole] if width_of(whole) <= column else wrap_words(line.name, column - 2)
    return [
        [(role, fit(first, column)), ("text", "  "), (role, bar), ("text", f"  {told}")],
        *[[("text", "  "), (role, part)] for part in more],
    ]


def _bar(line: ClockLine, glyphs: Glyphs, size: int) -> str:
    filled = int(line.filled * size)
    cells = [glyphs.full if cell < filled else glyphs.empty for cell in range(size)]
    for place, _level in line.ticks:
        cells[min(size - 1, int(place * size))] = glyphs.tick
    return "".join(cells)


def curve(board: Board, width: int, glyphs: Glyphs) -> list[Line]:
    """The dam's temperatures as a small curve."""
    if board.temperatures is None:
        return []
    return temperature_lines(board.temperatures, width, fine=glyphs is FINE)


def pups(board: Board, width: int) -> list[Line]:
    """The pups in order of birth, with what is still to be done for each."""
    return _joined(_pups(board, width))


def _pups(board: Board, width: int) -> list[list[Line]]:
    """The lines of each pup; those of the first begin with the heads of the columns."""
    marks = min(12, max([4, *(width_of(pup.mark) for pup in board.pups)]))
    each = _grown if board.grown else _pup
    told = [each(pup, marks, width) for pup in board.pups]
    if told and width >= _NARROW:
        head = _HEAD_GROWN if board.grown else _HEAD_BORN
        told[0].insert(0, [("dim", head.format(fit("mark", marks)))])
    return told


_HEAD_BORN = "pup {} sex   born   weight  afterbirth  to do"
_HEAD_GROWN = "pup {} sex    weight  since birth  last day  weighed"


def _grown(pup: PupLine, marks: int, width: int) -> list[Line]:
    """A pup after the night: what the scale says of it, and anything else to be known."""
    if width < _NARROW:
        words = f"pup {pup.number} {pup.mark} {pup.weight} {pup.since_birth} {pup.state.upper()}"
        return [[("text", line)] for line in wrap(words, width)]
    row = (
        f"{pup.number:>3} {fit(pup.mark, marks)} {fit(pup.sex, 5)} {pup.weight:>7}  "
        f"{pup.since_birth:>11}  {pup.last_day:>8}  "
    )
    lines: list[Line] = [[("text", f"{row}{fit(pup.weighed, width - width_of(row)).rstrip()}")]]
    if pup.state:
        lines += [[("todo", f"    {part}")] for part in wrap(pup.state.upper(), width - 4)]
    return lines


def _pup(pup: PupLine, marks: int, width: int) -> list[Line]:
    todo = ", ".join(pup.missing) if pup.missing else "all done"
    if pup.state == "dead":
        todo = "dead"
    elif pup.state:
        todo = f"{pup.state.upper()}; {todo}"
    if width < _NARROW:
        facts = f"pup {pup.number} {pup.mark} {pup.sex} {pup.born} {pup.weight}"
        rest = f"afterbirth {pup.afterbirth}; {todo}"
        return [
            [("text", line)]
            for line in [*wrap(facts, width), *(f"  {part}" for part in wrap(rest, width - 2))]
        ]
    lead = (
        f"{pup.number:>3} {fit(pup.mark, marks)} {fit(pup.sex, 5)} {fit(pup.born[-5:], 5)} "
        f"{pup.weight:>7}  "
    )
    owed = "owed" if pup.afterbirth == "owed" else "text"
    room = width - width_of(lead) - 12
    wrapped = wrap(todo, room)
    lines: list[Line] = [[("text", lead), (owed, f"{pup.afterbirth:<12}"), ("todo", wrapped[0])]]
    return lines + [[("text", " " * (width - room)), ("todo", more)] for more in wrapped[1:]]


def entries(lines: Iterable[EntryLine], width: int) -> list[Line]:
    """The last entries as typed, newest last, each with the number a correction would name."""
    return [row for line in lines for row in _entry(line, width)]


def _entry(line: EntryLine, width: int) -> list[Line]:
    lead = f"{line.number:>4}  {line.time:>5}  "
    remark = f"  [{line.remark}]" if line.remark else ""
    room = width - width_of(lead)
    if line.whole and room >= _LEAST_TEXT:
        parts = wrap(line.text, room)
        beside = width_of(parts[-1]) + width_of(remark) <= room
    else:
        left = room - width_of(remark)
        beside = left >= _LEAST_TEXT
        parts = [fit(line.text, left if beside else room).rstrip()]
    leads = [("dim", lead), *[("text", " " * width_of(lead))] * (len(parts) - 1)]
    rows: list[Line] = [[head, ("entry", part)] for head, part in zip(leads, parts, strict=True)]
    if beside:
        rows[-1].append(("owed", remark))
    else:
        rows += [[("owed", f"      {part}")] for part in wrap(remark, width - 6)]
    return rows


def notes(board: Board, width: int) -> list[Line]:
    """Changed limits, and the caution that always stands."""
    return _joined(_notes(board, width))


def _notes(board: Board, width: int) -> list[list[Line]]:
    said = [*board.notes, board.caution]
    return [[[("dim", line)] for line in wrap(words, width)] for words in said]

"""The alerts as lines of styled text, whole or in as little room as there is.

What outranks what, when there is little room: of the gravest alert its mark and word, the first
thing to do, the vet's number and that it is to be rung; then its sentence; then the other alerts,
those that ask to ring or to go before those that ask to look. One whose first step is a thing of
seconds keeps that step, and stands above the gravest where it stands above it on the board. What
is not shown is counted.
"""

import re
from collections.abc import Iterable, Sequence
from typing import TYPE_CHECKING, Literal

from boxlamp.model.levels import Level
from boxlamp.view.board import AlertLine, Board
from boxlamp.view.telephones import dial_lines, only_numbers, telephones
from boxlamp.view.text import fit, width_of, wrap
from boxlamp.view.words import levels_counted, to_the_vet

if TYPE_CHECKING:
    from boxlamp.view.layout import Line

LEVEL_ROLE = {Level.WATCH: "watch", Level.CALL: "call", Level.GO: "go"}

Steps = Literal["all", "by hand", "none"]
"""Which steps are shown: all; the first if it is a thing of seconds; or none."""

# Below this the mark and the word take no column of their own.
_COLUMN = 40
_LEAST_BESIDE = 4
"""Lines that are left to the clocks, pups and entries while the alerts can give way."""


def alert(line: AlertLine, vet: str, width: int, *, steps: Steps = "all") -> "list[Line]":
    """One alert: its mark and word, the sentence, then what to do and whom to ring."""
    lines = _sentence(line, width)
    if steps == "none" or (steps == "by hand" and not by_hand(line)):
        return lines
    if steps == "by hand":
        return lines + _step(line, line.do[0], width)
    first, more = line.do[:1], line.do[1:]
    for step in first:
        lines += [*_step(line, step, width), *_ring(line, vet, width)]
    for step in (line.vet_said, *more):
        lines += _step(line, step, width) if step else []
    return lines


def by_hand(line: AlertLine) -> bool:
    """Whether the first step is done with one's hands, in seconds: no call and no drive."""
    grave = line.level >= Level.CALL or line.at_once
    return grave and bool(line.do) and not to_the_vet(line.do[0])


def _label(line: AlertLine, width: int) -> str:
    mark, word = line.level.mark, line.level.word.upper()
    return f"{mark:>3} {word:<5} " if width >= _COLUMN else f"{mark} {word} "


def _indent(line: AlertLine, width: int) -> int:
    return width_of(_label(line, width)) if width >= _COLUMN else 0


def _sentence(line: AlertLine, width: int) -> "list[Line]":
    """The mark, the word, since when, and what is wrong."""
    role, label, indent = LEVEL_ROLE[line.level], _label(line, width), _indent(line, width)
    heard = f" [heard {line.heard}]" if line.heard else ""
    words = f"{line.raised} {line.message}{heard}"
    if indent:
        first, *more = wrap(words, width - indent)
    else:
        first, *more = wrap(f"{label}{words}", width)
        first = first[len(label) :]
    lines: list[Line] = [[(role, label), (role, first)]]
    return lines + [[("text", " " * indent), (role, part)] for part in more]


def _step(line: AlertLine, step: str, width: int) -> "list[Line]":
    indent = _indent(line, width)
    return [[("text", " " * indent), ("do", part)] for part in wrap(step, width - indent)]


def _ring(line: AlertLine, vet: str, width: int) -> "list[Line]":
    """Whom to ring. A line that a number would not fit on begins further left."""
    if not vet or line.level < Level.CALL:
        return []
    indent = _indent(line, width)
    longest = max(map(width_of, only_numbers(vet).split(", ")))
    indent = max(0, min(indent, width - longest))
    return [[("text", " " * indent), ("do", part)] for part in dial_lines(vet, width - indent)]


def alerts_within(board: Board, width: int, room: int) -> "list[Line]":
    """The alerts of a board in at most ``room`` lines."""
    order = _order(board.alerts)
    lines: list[Line] = []
    # The gravest is whole to the last: whatever else stands, whom to ring is on the screen.
    for kept in range(len(order), 0, -1):
        whole = set(order[:kept])
        lines = [
            line
            for place, one in enumerate(board.alerts)
            for line in alert(one, board.vet, width,
                              steps="all" if place in whole else "by hand")
        ]  # fmt: skip
        if len(lines) <= max(room - _LEAST_BESIDE, _LEAST_BESIDE):
            return lines
    return lines if len(lines) <= room else _squeezed(board, order, width, room)


def least_room(board: Board, width: int) -> int:
    """The lines for what to do about the gravest alert, what hands do before it, and a count."""
    order = _order(board.alerts)
    needed = len(_lead(board.alerts[order[0]], board.vet, width)) + (len(order) > 1)
    if order[0] != 0 and by_hand(board.alerts[0]):
        needed += len(alert(board.alerts[0], "", width, steps="by hand"))
    return needed


def _order(alerts: Sequence[AlertLine]) -> list[int]:
    """Which alerts keep what they say the longest.

    The gravest before all, one that nobody has heard first. What stands on the board before a
    graver one is a thing of seconds, and comes next. Of the others those that ask to ring or to
    go before those that ask to look, and those that nobody has heard before the others.
    """
    places = range(len(alerts))
    lead = min(places, key=lambda place: (-alerts[place].level, bool(alerts[place].heard), place))
    while lead and not alerts[lead].do:
        lead -= 1  # what to do stands with the one above, of the same rule and level

    def yields(place: int) -> tuple[bool, bool, bool, int]:
        one = alerts[place]
        seconds = place == 0 and one.level < alerts[lead].level
        return not seconds, one.level < Level.CALL, bool(one.heard), place

    return [lead, *sorted((place for place in places if place != lead), key=yields)]


def _lead(line: AlertLine, vet: str, width: int) -> "list[Line]":
    """The gravest alert with its first step, the number, and that it is to be rung."""
    first = [part for step in line.do[:1] for part in _step(line, step, width)]
    rung = [part for step in to_ring(line) for part in _step(line, step, width)]
    return [*_sentence(line, width), *first, *_ring(line, vet, width), *rung]


def to_ring(line: AlertLine) -> Sequence[str]:
    """The step that says to ring or to leave, where hands have a first step before it."""
    first = next((step for step in line.do if to_the_vet(step)), None)
    return [] if first is None or first == line.do[0] else [first]


def _squeezed(board: Board, order: list[int], width: int, room: int) -> "list[Line]":
    """The gravest with what to do and the number, then as many others as there is room for."""
    lead, *others = order
    first = _lead(board.alerts[lead], board.vet, width)
    counted = 1 if others else 0
    if len(first) + counted > room:
        first = _cramped(board.alerts[lead], board.vet, width, room, counted)
    blocks = {lead: first}
    left = room - len(first) - counted
    for place in others:
        block = alert(board.alerts[place], "", width, steps="by hand")
        if len(block) > left:
            break
        blocks[place] = block
        left -= len(block)
    rest = [one.level for place, one in enumerate(board.alerts) if place not in blocks]
    shown = [line for place in sorted(blocks) for line in blocks[place]]
    return [*shown, *_more(rest, width)][:room]


def _more(rest: Sequence[Level], width: int) -> "list[Line]":
    if not rest:
        return []
    words = f"and {len(rest)} more: {levels_counted(rest)}"
    return [[(LEVEL_ROLE[max(rest)], fit(words, width).rstrip())]]


def alerts_left_out(shown: "Iterable[Line]") -> bool:
    """Whether the lines of a board say that some of its alerts are only counted."""
    return any(re.match(r"and \d+ more: ", line[0][1]) for line in shown if line)


def _cramped(line: AlertLine, vet: str, width: int, room: int, counted: int) -> "list[Line]":
    """The gravest alert where even that is too much.

    Its sentence gives way first, then the count of the others, the vet's name and the second
    number; the step is cut last, and the number never while it fits on a line.
    """
    numbers = only_numbers(vet) if line.level >= Level.CALL else ""
    step = [part for words in line.do[:1] for part in _step(line, words, width)]
    for ring, least in ((_ring(line, vet, width), counted), (_ring(line, numbers, width), 0)):
        left = room - len(step) - len(ring)
        if left > least:
            sentence, keep = _sentence(line, width), max(1, left - counted)
            return [*sentence[: keep - 1], *_cut(sentence[keep - 1 :], width)[:1], *step, *ring]
    words = " ".join(line.do[:1]) or line.message
    first = next(telephones(numbers), "")
    for said in (f"{words} {numbers}", f"{words} {first}"):
        if len(lines := _dialled(line, said, width)) <= room:
            return lines
    lines = _dialled(line, f"{first} {words}", width)
    return [*lines[: room - 1], *_cut(lines[room - 1 :], width)[:1]]


def _dialled(line: AlertLine, words: str, width: int) -> "list[Line]":
    """The mark, the word and all the rest as one paragraph in which no number is broken."""
    label = _label(line, width)
    first, *more = dial_lines(f"{label.strip()} {words.strip()}", width)
    role = LEVEL_ROLE[line.level]
    lines: list[Line] = [[(role, label.strip()), ("do", first[len(label.strip()) :])]]
    return lines + [[("do", part)] for part in more]


def _cut(lines: "list[Line]", width: int) -> "list[Line]":
    """The lines with the first shown as cut when others followed it."""
    if len(lines) < 2:  # noqa: PLR2004 - nothing is cut off
        return lines
    *parts, (role, words) = lines[0]
    room = width - sum(width_of(part) for _, part in parts)
    return [[*parts, (role, f"{fit(words, room - 1).rstrip()}~")]]

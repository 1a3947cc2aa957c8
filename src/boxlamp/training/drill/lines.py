"""What a person typed for a line of the night, held against the line itself."""

from collections.abc import Iterator
from datetime import datetime
from decimal import Decimal
from typing import Any, NamedTuple

from boxlamp.language import Heard, NotUnderstood, read_line, say
from boxlamp.model.entry import Entry
from boxlamp.training.drill.asking import PASS
from boxlamp.training.drill.night import PastNight
from boxlamp.training.drill.scenes import context_of, facts_of
from boxlamp.view.text import clean

_CLOSE = Decimal(1)
"""A gram, or a tenth of a degree typed in another unit, is no other fact."""
_MINUTE = 60
_UNSAID = {"presentation"}
"""What may be added where the scene says nothing of it: some end always comes first."""
_PLAIN = {"in_sac": "the sac", "presentation": "which end came first", "celsius": "the value",
          "grams": "the weight", "of": "whose it is", "state": "how it is"}  # fmt: skip


class LineMark(NamedTuple):
    """Whether a typed line says what happened, and what is told back.

    ``hint`` is what is told before one more try: what is wrong, and not the line itself.
    """

    at: datetime
    right: bool
    told: tuple[str, ...]
    hint: tuple[str, ...] = ()


def mark_line(night: PastNight, entry: Entry, typed: str) -> LineMark:
    """Read the line as the log would have read it then, and compare kind, facts and time."""
    would = f"The night's own line: {say(entry.what)}"
    if typed.strip() == PASS:
        return LineMark(entry.recorded, right=False, told=(would,))
    try:
        heard = read_line(typed, context_of(night, entry))
    except NotUnderstood as error:
        nearest = f" The nearest that works: {clean(error.on_one_line)}" if error.nearest else ""
        kept = "At the box it would be kept as a note, and nothing is lost."
        why = f"Not understood. {clean(error.why)}{nearest}"
        return LineMark(entry.recorded, right=False, told=(why, kept, would), hint=(why,))
    wrong = list(_wrong(heard, entry))
    echo = f"Understood as: {clean(heard.echo)}"
    asked = [f"The log would first ask: {clean(doubt.sentence)}" for doubt in heard.doubts]
    reasons = [f"{reason}." for reason in wrong]
    behind = [*reasons, would] if wrong else []
    return LineMark(entry.recorded, not wrong, (echo, *asked, *behind), (echo, *reasons))


def line_lines(mark: LineMark) -> Iterator[str]:
    """What is said after a typed line."""
    first, *rest = mark.told
    yield f"{'Right. ' if mark.right else 'Not quite. '}{first}"
    yield from rest


def hint_lines(mark: LineMark) -> Iterator[str]:
    """What is said before one more try."""
    first, *rest = mark.hint
    yield f"Not yet. {first}"
    yield from rest
    yield "Try once more, or - to see the line."


def _wrong(heard: Heard, entry: Entry) -> Iterator[str]:
    """What the typed line leaves out, gets wrong, or adds."""
    said, was = heard.draft.what, entry.what
    if said.kind != was.kind or getattr(said, "step", "") != getattr(was, "step", ""):
        yield "That is another thing than what happened"
        return
    if getattr(said, "pup", None) != getattr(was, "pup", None):
        yield "That is another pup"
    mine, facts = facts_of(said), facts_of(was)
    for name in dict.fromkeys((*facts, *mine)):
        what = _PLAIN.get(name, f"the {name.replace('_', ' ')}")
        if name not in mine:
            yield f"It leaves out {what}"
        elif name not in facts and name in _UNSAID:
            continue
        elif name not in facts:
            yield f"It says something about {what} that was not seen"
        elif not _same(mine[name], facts[name]):
            yield f"It differs in {what}"
    if abs((heard.draft.at - entry.at).total_seconds()) > _MINUTE:
        yield "It happened at another time"


def _same(one: Any, other: Any) -> bool:  # noqa: ANN401 - any field of a happening
    if isinstance(one, Decimal) and isinstance(other, Decimal):
        return abs(one - other) < min(_CLOSE, max(one, other) / 300)
    if isinstance(one, tuple) and isinstance(other, tuple):
        return set(one) == set(other)
    return bool(one == other)

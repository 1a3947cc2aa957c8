"""Two things told in one line: ``waters broke and shes pushing``, a pup and its afterbirth."""

import re
from collections.abc import Iterator

from boxlamp.language import sentences
from boxlamp.language.clock import cut_when
from boxlamp.language.context import Context, Doubt, Heard, NotUnderstood
from boxlamp.language.line import read_line
from boxlamp.language.say import say
from boxlamp.language.text import MAX_LINE, cleaned
from boxlamp.language.tokens import cut_note
from boxlamp.model.happenings import (
    Afterbirth,
    Birth,
    Contraction,
    Discharge,
    Part,
    Sac,
    VetContact,
    Waters,
    What,
)

GAPS = (r",\s+", r",\s+(?:and\s+)?|\s+and\s+|\s+&\s+")
"""What parts one thing from the next: a comma, or ``and`` as well."""
_SEEN_OF_HER: frozenset[type[What]] = frozenset((Waters, Sac, Part, Contraction, Discharge))
"""What may be seen of her in one moment, each an entry of its own."""
_MOST_PARTS = 4


def of_her(line: str, context: Context) -> tuple[str, ...]:
    """The lines of one that tells two things of her: ``waters broke and shes pushing``.

    Each has to read by itself, without a question, as another kind of thing at one moment: a time
    that stands behind the last of them may not be the time of the others.
    """
    for lines in _cut_in_lines(line):
        told = [_read(each, context) for each in lines]
        kinds = {type(one.draft.what) for one in told if one is not None}
        times = {(one.draft.at, one.draft.certainty) for one in told if one is not None}
        if (
            None not in told
            and len(kinds) == len(told)
            and kinds <= _SEEN_OF_HER
            and len(times) == 1
            and not any(one.doubts for one in told if one is not None)
        ):
            return lines
    return ()


def marked_by_chance(birth: Birth, doubts: tuple[Doubt, ...]) -> bool:
    """Whether the mark is made of words that nobody else wanted; of a limp pup it is not asked."""
    asked = any(doubt.code == "mark" for doubt in doubts)
    return asked or (birth.mark is not None and birth.state == "limp")


def born_and(line: str, context: Context) -> tuple[Heard, ...]:
    """``pup boy 300g and afterbirth``: what else a birth's line tells, and is no mark of the pup.

    The afterbirth is an entry beside the birth. A push of the same moment would count as the one
    that brought the pup, so it is asked for as the next line.
    """
    for lines in _cut_in_lines(line):
        birth, *others = (_read(each, context) for each in lines)
        kinds = [type(one.draft.what) for one in others if one is not None]
        if birth is None or not isinstance(birth.draft.what, Birth) or len(kinds) != len(others):
            continue
        if kinds == [Afterbirth]:
            return (birth, *(one for one in others if one is not None))
        if set(kinds) <= _SEEN_OF_HER | {VetContact}:
            typed = ", ".join(say(one.draft.what) for one in others if one is not None)
            if birth.draft.what.state == "limp":  # its clock must not wait for an answer
                echo = f"{birth.echo}. {sentences.NEXT_LINE.format(typed)}"
                return (birth._replace(echo=echo),)
            doubt = Doubt("several", sentences.BORN_ALONE, sentences.NEXT_LINE.format(typed))
            return (birth._replace(doubts=(*birth.doubts, doubt)),)
    return ()


def _cut_in_lines(line: str) -> Iterator[tuple[str, ...]]:
    """A line cut at its commas, or at every ``and`` too; each part with the time in front."""
    text = cleaned(line).strip()
    if len(text) > MAX_LINE:
        return
    body, note = cut_note(cut_when(text)[1])
    before, after = text[: text.find(body)], f"; {note}" if note else ""
    for gap in GAPS:
        parts = [part for part in re.split(gap, body) if part]
        if 1 < len(parts) <= _MOST_PARTS:
            yield tuple(f"{before}{part}{after}" for part in parts)


def _read(line: str, context: Context) -> Heard | None:
    try:
        return read_line(line, context)
    except NotUnderstood:
        return None

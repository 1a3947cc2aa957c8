"""A line that says two things of one kind: it is taken as the more serious one, never dropped.

A line that is refused starts no clock, and the one who typed it may not be looking. So where one
of two words raises at least what the other raises, it is taken and the echo says so. Where each
of them may raise something of its own, the more serious is read and a question is asked.
"""

from collections.abc import Iterable, Sequence

from boxlamp.language import sentences
from boxlamp.language.ear import Ear
from boxlamp.model.seen import Colour

_AMOUNTS = ("heavy", "clots", "some", "streak")
_STRENGTHS = ("strong", "unspecified", "weak")
_FLOWING = frozenset(("heavy", "clots"))

_RED: Sequence[Colour] = ("red",)
_GREEN: Sequence[Colour] = ("green", "black")
_PUS: Sequence[Colour] = ("pus", "yellow")
_QUIET: Sequence[Colour] = ("brown", "clear", "unknown")


def _worst(said: Iterable[str], order: Sequence[str]) -> str | None:
    """The first of ``order`` that was said."""
    return min(said, key=order.index, default=None)


def strength_of(said: Sequence[str], ear: Ear) -> str | None:
    """The strength of a push: strong before weak."""
    return _told(_worst(said, _STRENGTHS), said, sentences.STRENGTHS_TAKEN, ear)


def part_of(said: Sequence[str], ear: Ear) -> str | None:
    """The part that shows; every part raises the same, so the one typed first is taken."""
    return _told(next(iter(said), None), said, sentences.PARTS_TAKEN, ear)


def amount_of(said: Sequence[str], colour: str | None, ear: Ear) -> str | None:
    """The amount of a discharge: heavy before clots before some before a streak.

    Without a colour clots come first: they are blood, and "heavy" alone need not be.
    """
    flowing = colour in {None, "unknown"} and "clots" in said
    return _told("clots" if flowing else _worst(said, _AMOUNTS), said, sentences.AMOUNTS_TAKEN, ear)


def colour_of(said: Sequence[Colour], amounts: Sequence[str], ear: Ear) -> Colour | None:
    """The colour of a discharge. Two that may each raise an alarm of their own are asked about."""
    order = _order(amounts, ear)
    colour = min(said, key=order.index, default=None)
    streak = _worst(amounts, (*_AMOUNTS, "none")) == "streak"
    alarming = (_GREEN, _PUS) if streak else (_RED, _GREEN, _PUS)
    if sum(not set(group).isdisjoint(said) for group in alarming) > 1:
        rest = [one for one in dict.fromkeys(said) if one != colour]
        ear.doubt("two-colours", sentences.TWO_COLOURS.format(colour), _also(colour, rest))
    else:
        _told(colour, said, sentences.COLOURS_TAKEN, ear)
    return colour


def _also(colour: Colour | None, rest: Sequence[Colour]) -> str:
    """Where to put the other colours, so that no alarm of the first ends by them.

    Blood and a first green stand until they are said to be over; pus ends with the next colour.
    """
    if colour in _PUS:
        return sentences.TWO_COLOURS_NOTE.format(colour, ", ".join(rest))
    return sentences.TWO_COLOURS_LINE.format(", ".join(f"discharge {one}" for one in rest))


def waters_of(said: Sequence[Colour], ear: Ear) -> Colour | None:
    """The colour of the waters: green or black first, the only ones that raise something."""
    order = (*_GREEN, *_RED, *_PUS, *_QUIET)
    colour = min(said, key=order.index, default=None)
    _told(colour, said, sentences.COLOURS_TAKEN, ear)
    return colour


def _order(amounts: Sequence[str], ear: Ear) -> Sequence[Colour]:
    """Colours of a discharge, the most serious first (our choice, from what the rules raise).

    Blood that runs sends her to the vet at once. Green before the first pup, and pus at any
    time, are a call at once. Some blood is watched first; a streak of it raises nothing.
    """
    litter = ear.context.litter
    before_first = not litter.pups and litter.caesarean is None
    others = (*_GREEN, *_PUS) if before_first else (*_PUS, *_GREEN)
    if not _FLOWING.isdisjoint(amounts):
        return (*_RED, *others, *_QUIET)
    if before_first or "streak" in amounts:
        return (*others, *_RED, *_QUIET)
    return (*_PUS, *_RED, *_GREEN, *_QUIET)


def _told(taken: str | None, said: Sequence[str], sentence: str, ear: Ear) -> str | None:
    if len(set(said)) > 1:
        ear.remarks.append(sentence.format(taken))
    return taken

"""A line that tells several things, told apart: one line, and so one entry, for each of them.

``milk all``, ``1 and 2 suckling``, ``cord 1-4 tied``. Nobody types eight lines at night to say one
thing of eight pups. Only what reads well about each pup alone is told apart, and only a line that
could not be read as it stands: nothing that has a meaning of its own is ever taken for several.
"""

import re
from collections.abc import Iterable, Iterator
from itertools import chain
from typing import NamedTuple

from boxlamp.language import sentences
from boxlamp.language.clock import cut_when
from boxlamp.language.context import Context, Doubt, Heard, NotUnderstood
from boxlamp.language.line import read_line
from boxlamp.language.pups import NUMBERS, in_digits, names_a_pup, pup_here
from boxlamp.language.say import say
from boxlamp.language.terms import ALL
from boxlamp.language.text import MAX_LINE, cleaned
from boxlamp.language.tokens import NOISE, Words, cut_note, table, words_of
from boxlamp.language.unborn import born_by
from boxlamp.model.happenings import (
    Afterbirth,
    Birth,
    Contraction,
    Death,
    Discharge,
    Feed,
    Part,
    PupState,
    Sac,
    Sexed,
    Step,
    Strike,
    Waters,
    Weight,
    What,
)
from boxlamp.model.litter import Litter

_KINDS = (Step, Feed, PupState, Sexed)
"""What can be true of several pups in one moment. An afterbirth and a weight are one pup's."""
_OF_ONE = (*_KINDS, Death, Weight)
"""What may stand side by side in one line, each of another pup."""
_SEEN_OF_HER: frozenset[type[What]] = frozenset((Waters, Sac, Part, Contraction, Discharge))
"""What may be seen of her in one moment, each an entry of its own."""
_MOST_PARTS = 4
_GAPS = (r",\s+", r",\s+(?:and\s+)?|\s+and\s+|\s+&\s+")
_PUPS = words_of("pups puppies pup")
_OF_ALL = words_of("pups puppies of them the")
_BOTH = table({"both": "both pups|both puppies|both of them|the two"})
_COUNTS = {number: word for word, number in NUMBERS.items()}
_ARE = words_of("are were have all")
"""What may stand between several pups and what is said of them."""
_PAIR = 2
_LISTED = re.compile(r"\d{1,2}(?:,\d{1,2})+")
_RANGE = re.compile(r"(\d{1,2})-(\d{1,2})")


def heard(line: str, context: Context) -> tuple[Heard, ...]:
    """What one typed line means: one thing, or the same of several pups.

    Raises :class:`NotUnderstood` when it means nothing known. Where a colour is a mark as well as
    a sign, ``red and blue limp`` may be one pup or two, and that is asked.
    """
    try:
        one = read_line(line, context)
    except NotUnderstood:
        lines = apart(line, context) or listed(line, context) or of_her(line, context)
        if not lines:
            raise
        return tuple(read_line(each, context) for each in lines)
    if isinstance(one.draft.what, Strike):
        # What follows the number is the reason, unless it is another line of the same kind.
        each = tuple(read_line(each, context) for each in listed(line, context))
        return (
            each if all(isinstance(told.draft.what, Strike) for told in each) and each else (one,)
        )
    if isinstance(one.draft.what, Birth) and _marked_by_chance(one.draft.what, one.doubts):
        return _born_and(line, context) or (one,)
    lines = apart(line, context) if isinstance(one.draft.what, PupState) else ()
    if not lines:
        return (one,)
    doubt = Doubt("several", sentences.ONE_OR_SEVERAL.format(say(one.draft.what)), ", ".join(lines))
    return (one._replace(doubts=(*one.doubts, doubt)),)


def listed(line: str, context: Context) -> tuple[str, ...]:
    """The lines that stand side by side in one: ``1 and 2 limp, 3 ok``, ``red 310g, blue 305g``."""
    text = cleaned(line).strip()
    if len(text) > MAX_LINE:
        return ()
    body, note = cut_note(cut_when(text)[1])
    before, after = text[: text.find(body)], f"; {note}" if note else ""
    for gap in _GAPS:
        parts = _parts(re.split(gap, body), context.litter)
        each = [_one_or_more(f"{before}{part}{after}", context) for part in parts]
        lines = tuple(chain.from_iterable(each))
        if len(parts) > 1 and all(each) and _side_by_side_lines(lines, context):
            return lines
    return ()


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


def _marked_by_chance(birth: Birth, doubts: tuple[Doubt, ...]) -> bool:
    """Whether the mark is made of words that nobody else wanted; of a limp pup it is not asked."""
    asked = any(doubt.code == "mark" for doubt in doubts)
    return asked or (birth.mark is not None and birth.state == "limp")


def _born_and(line: str, context: Context) -> tuple[Heard, ...]:
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
        if set(kinds) <= _SEEN_OF_HER:
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
    for gap in _GAPS:
        parts = [part for part in re.split(gap, body) if part]
        if 1 < len(parts) <= _MOST_PARTS:
            yield tuple(f"{before}{part}{after}" for part in parts)


def _read(line: str, context: Context) -> Heard | None:
    try:
        return read_line(line, context)
    except NotUnderstood:
        return None


def _parts(cut: Iterable[str], litter: Litter) -> list[str]:
    """The parts of a line that say something: ``1`` of ``1 and 2 limp`` goes with what follows."""
    found: list[str] = []
    names = ""
    for part in filter(None, cut):
        whole = f"{names} and {part}" if names else part
        words = Words(part)
        only_named = names_a_pup(words, litter, whole=True) and words.peek() is None
        names = whole if only_named else ""
        if not only_named:
            found.append(whole)
    return [*found, names] if names else found


def _one_or_more(line: str, context: Context) -> tuple[str, ...]:
    """One part as a line, or the lines that it is itself of several pups: ``1 and 2 limp``."""
    try:
        read_line(line, context)
    except NotUnderstood:
        return apart(line, context)
    return (line,)


def _side_by_side_lines(lines: tuple[str, ...], context: Context) -> bool:
    """Whether each is about another pup, or strikes another entry."""
    about: list[tuple[bool, int]] = []
    for line in lines:
        what = read_line(line, context).draft.what
        if isinstance(what, Strike):
            about.append((True, what.target))
        elif isinstance(what, _OF_ONE) and what.pup is not None:
            about.append((False, what.pup))
        else:
            return False
    return len(set(about)) == len(about)


def apart(line: str, context: Context) -> tuple[str, ...]:
    """The lines that a line about several pups stands for; none if it is not such a line."""
    text = cleaned(line).strip()
    if len(text) > MAX_LINE or not context.litter.pups:
        return ()
    for named in _groups(text, context.litter):
        lines = [f"{text[: named.start]}{pup}{named.are}{text[named.end :]}" for pup in named.pups]
        kinds = _KINDS if named.all_here else (*_KINDS, Death)
        told = [_said(*one, kinds, context) for one in zip(lines, named.pups, strict=True)]
        if None not in told:
            # Who speaks of all at an earlier time does not speak of those born since.
            born = [
                line
                for line, one, pup in zip(lines, told, named.pups, strict=True)
                if one is not None and born_by(context.litter.pups[pup], one.draft.at)
            ]
            return tuple(born if born and named.all_here else lines)
    return ()


def _said(line: str, pup: int, kinds: tuple[type[What], ...], context: Context) -> Heard | None:
    """A line that can be read, and says one of these kinds of this pup."""
    try:
        told = read_line(line, context)
    except NotUnderstood:
        return None
    what = told.draft.what
    return told if isinstance(what, kinds) and getattr(what, "pup", None) == pup else None


class _Named(NamedTuple):
    """Where a line names several pups, and which; ``are`` is `` is`` where ``are`` stood."""

    start: int
    end: int
    pups: tuple[int, ...]
    are: str
    all_here: bool


def _groups(text: str, litter: Litter) -> Iterator[_Named]:
    """Each place where a line names all the pups, or several of them side by side."""
    body, _note = cut_note(text)
    words = Words(body)
    for place in range(len(words.tokens)):
        if words.tokens[place].key in NOISE:
            continue
        words.place = place
        several = _side_by_side(words, litter)
        all_here = len(several) < _PAIR
        if all_here:
            words.place = place
            several = _every(words, litter)
        if several:
            after = words.place
            while words.key() in _ARE:
                words.place += 1
            are = " is" if words.place > after else ""
            start, end = words.tokens[place].start, words.tokens[words.place - 1].end
            yield _Named(start, end, several, are, all_here)


def _every(words: Words, litter: Litter) -> tuple[int, ...]:
    """Take ``all`` or ``both``: every pup that is here."""
    here = tuple(pup.number for pup in litter.in_order if pup.here)
    if words.phrase(ALL) is not None:
        told = {*_OF_ALL, str(len(here)), _COUNTS.get(len(here), "")}
        while words.key() in told - {""}:
            words.place += 1
        return here
    return here if words.phrase(_BOTH) is not None and len(here) == _PAIR else ()


def _side_by_side(words: Words, litter: Litter) -> tuple[int, ...]:
    """Take the pups that are named one after the other, each once."""
    if words.key() in _PUPS:
        words.place += 1
        words.tokens[words.place :] = [
            in_digits(token, litter) for token in words.tokens[words.place :]
        ]
    found: list[int] = []
    while more := _next(words, litter):
        found += more
    return tuple(dict.fromkeys(found))


def _next(words: Words, litter: Litter) -> tuple[int, ...]:
    """Take one more pup, or a run of them written without a gap: ``1,2,4`` or ``1-4``."""
    start = words.place
    token = words.peek()
    if token is None:
        words.place = start
        return ()
    run = _run(token.key)
    if run and all(number in litter.pups for number in run):
        words.place += 1
        return run
    pup = pup_here(words, litter, whole=False)
    if pup is None:
        words.place = start
        return ()
    return (pup,)


def _run(key: str) -> tuple[int, ...]:
    if _LISTED.fullmatch(key):
        return tuple(map(int, key.split(",")))
    ends = _RANGE.fullmatch(key)
    return tuple(range(int(ends[1]), int(ends[2]) + 1)) if ends else ()

"""A line that tells several things, told apart: one line, and so one entry, for each of them.

``milk all``, ``1 and 2 suckling``, ``cord 1-4 tied``. Nobody types eight lines at night to say one
thing of eight pups. Only what reads well about each pup alone is told apart, and only a line that
could not be read as it stands: nothing that has a meaning of its own is ever taken for several.
"""

import re
from collections.abc import Iterable, Iterator
from itertools import chain, islice
from typing import NamedTuple

from boxlamp.language import sentences
from boxlamp.language.beside import GAPS, born_and, marked_by_chance, of_her
from boxlamp.language.clock import cut_when
from boxlamp.language.context import Context, Doubt, Heard, NotUnderstood
from boxlamp.language.line import read_line, understand
from boxlamp.language.pups import (
    NUMBERS,
    compared,
    in_digits,
    names_a_pup,
    pup_here,
)
from boxlamp.language.say import say
from boxlamp.language.terms import ALIVE, ALL, PUP_SIGNS
from boxlamp.language.text import MAX_LINE, cleaned
from boxlamp.language.tokens import NOISE, Words, cut_note, table, words_of
from boxlamp.language.unborn import born_by
from boxlamp.model.happenings import (
    Birth,
    Death,
    Feed,
    PupState,
    Sexed,
    Step,
    Strike,
    Weight,
    What,
)
from boxlamp.model.litter import Litter

_KINDS = (Step, Feed, PupState, Sexed)
"""What can be true of several pups in one moment. An afterbirth and a weight are one pup's."""
_THE_NEWEST = sentences.TAKEN_AS.rpartition("{}")[2]
_OF_ONE = (*_KINDS, Death, Weight)
"""What may stand side by side in one line, each of another pup."""
_PUPS = words_of("pups puppies pup")
_OF_ALL = words_of("pups puppies of them the")
_BOTH = table({"both": "both pups|both puppies|both of them|the two"})
_COUNTS = {number: word for word, number in NUMBERS.items()}
_ARE = words_of("are were have all")
"""What may stand between several pups and what is said of them."""
_PAIR = 2
_MOST = 24
"""So many parts and names are looked at (our choice): no litter needs more in one line."""
_MOST_WORDS = 120
_MOST_GROUPS = 8
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
        lines = _apart_or_listed(line, context) or of_her(line, context)
        if not lines:
            raise
        return tuple(_asked(read_line(each, context), each, context) for each in lines)
    if isinstance(one.draft.what, Strike):
        # What follows the number is the reason, unless it is another line of the same kind.
        each = tuple(read_line(each, context) for each in listed(line, context))
        return (
            each if all(isinstance(told.draft.what, Strike) for told in each) and each else (one,)
        )
    if isinstance(one.draft.what, Birth) and marked_by_chance(one.draft.what, one.doubts):
        return born_and(line, context) or (one,)
    sure = _surely_several(one, line, context)
    if sure:
        return tuple(_asked(read_line(each, context), each, context) for each in sure)
    return (_asked(one, line, context),)


def _apart_or_listed(line: str, context: Context) -> tuple[str, ...]:
    """The lines of one that cannot be read as it stands.

    What follows a death is its reason, unless it is what is said of another pup.
    """
    lines = apart(line, context)
    died = [what for each in lines if isinstance(what := _what(each, context), Death)]
    if died and died[0].why:
        return listed(line, context) or lines
    return lines or listed(line, context)


def _what(line: str, context: Context) -> What:
    return read_line(line, context).draft.what


def _asked(one: Heard, line: str, context: Context) -> Heard:
    """The line as it was read, with the question whether it speaks of several pups."""
    if not isinstance(one.draft.what, PupState | Death):
        return one
    named = listed(line, context) or at_its_marks(line, context)
    lines = _of_others(named, context) or _named_together(one, line, context)
    if not lines:
        return one
    doubt = Doubt("several", sentences.ONE_OR_SEVERAL.format(say(one.draft.what)), ", ".join(lines))
    return one._replace(doubts=(*one.doubts, doubt))


def _of_others(lines: Iterable[str], context: Context) -> list[str]:
    """The lines in the words of the log, so that none of them can be taken for one pup again."""
    return [say(_what(line, context)) for line in lines]


def _named_together(one: Heard, line: str, context: Context) -> tuple[str, ...]:
    """``red and blue limp``, ``died 1 and 2 found cold``: pups that are named side by side."""
    if isinstance(one.draft.what, PupState):
        return apart(line, context)
    return _rest_of_a_death(one.draft.what, context) if isinstance(one.draft.what, Death) else ()


def _rest_of_a_death(death: Death, context: Context) -> tuple[str, ...]:
    """The lines to type where the reason of a death begins with another pup."""
    from boxlamp.language.cut_at_pups import SPANS

    words = Words(death.why)
    joined = words.key() in NOISE
    if words.peek() is None:
        return ()
    marked = not words.key().isdigit()
    pup = pup_here(words, context.litter, whole=True)
    if pup in {None, death.pup} or words.key() in SPANS or (marked and not joined):
        return ()
    if words.phrase(ALIVE) is not None:
        return (f"died {death.pup}", f"breathing {pup}")
    # Whether the other has died too is not said.
    other = f" or state {pup} ..." if words.peek() is not None else ""
    return (f"died {death.pup}", f"died {pup}{other}")


def _surely_several(one: Heard, line: str, context: Context) -> tuple[str, ...]:
    """The lines of one that could be read of one pup, and is surely of several.

    ``red ok, blue limp``: nobody calls one pup well and limp, or limp twice, in one breath.
    """
    what = one.draft.what
    if not isinstance(what, PupState | Death):
        return ()
    lines = listed(line, context) or at_its_marks(line, context)
    if lines:
        told = [_what(each, context) for each in lines]
        return lines if _at_odds(told) or not _by_a_sign(line, context) else ()
    together = apart(line, context) if isinstance(what, Death) else ()
    deaths = [_what(each, context) for each in together]
    surely = all(isinstance(each, Death) and not each.why for each in deaths)
    return together if surely and not _by_a_sign(line, context) else ()


def _at_odds(told: list[What]) -> bool:
    """Whether it cannot all be true of one pup, or is said twice."""
    signs = [sign for what in told if isinstance(what, PupState) for sign in what.signs]
    others = len(set(signs)) > 1 or len(signs) < len(told)
    return len(set(signs)) < len(signs) or ("well" in signs and others)


def _by_a_sign(line: str, context: Context) -> bool:
    """Whether a pup is named by a mark that is a sign as well: ``blue``, ``white``."""
    marks = {compared(pup.mark) for pup in context.litter.in_order if pup.mark}
    keys = {token.key for token in Words(line).tokens}
    return any(key in marks and key in PUP_SIGNS for key in keys)


def at_its_marks(line: str, context: Context) -> tuple[str, ...]:
    """The lines of one that is cut where it names the next pup: ``red fine blue limp``."""
    text = cleaned(line).strip()
    body, note = cut_note(cut_when(text)[1])
    if _too_much(text, body):
        return ()
    before, after = text[: text.find(body)], f"; {note}" if note else ""
    from boxlamp.language.cut_at_pups import cut_at_pups

    for parts in cut_at_pups(body, context.litter):
        lines = tuple(f"{before}{part}{after}" for part in parts)
        if len(lines) <= _MOST and all(_reads(each, context) for each in lines):
            whole = _whole(lines, context)
            if whole:
                return whole
    return ()


def _too_much(text: str, body: str) -> bool:
    """Whether a line is longer than any that is said of several pups: then nothing is tried."""
    return len(text) > MAX_LINE or len(Words(body).tokens) > _MOST_WORDS


def _reads(line: str, context: Context) -> bool:
    try:
        read_line(line, context)
    except NotUnderstood:
        return False
    return True


def listed(line: str, context: Context) -> tuple[str, ...]:
    """The lines that stand side by side in one: ``1 and 2 limp, 3 ok``, ``red 310g, blue 305g``."""
    text = cleaned(line).strip()
    body, note = cut_note(cut_when(text)[1])
    if _too_much(text, body):
        return ()
    before, after = text[: text.find(body)], f"; {note}" if note else ""
    if len(re.split(GAPS[-1], body, maxsplit=_MOST)) > _MOST:
        return ()
    for gap in GAPS:
        parts = _parts(re.split(gap, body), context.litter)
        if len(parts) < _PAIR:
            continue
        each = [_one_or_more(f"{before}{part}{after}", context) for part in parts]
        lines = tuple(chain.from_iterable(each))
        if all(each) and (whole := _whole(lines, context)):
            return whole
    return ()


def _whole(lines: tuple[str, ...], context: Context) -> tuple[str, ...]:
    """Lines that are each of another pup; a time behind the last holds for the whole line."""
    if not _side_by_side_lines(lines, context):
        return ()
    times = [understand(line, context).spoken for line in lines]
    typed = times[-1].typed if times[-1] is not None else ""
    untimed = times.index(times[-1])
    if not typed or any(times[:untimed]) or any(time != times[-1] for time in times[untimed:]):
        return lines
    return (*(f"{typed} {line}" for line in lines[:untimed]), *lines[untimed:])


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
        one = read_line(line, context)
    except NotUnderstood:
        return apart(line, context)
    return _surely_several(one, line, context) or (line,)


def _side_by_side_lines(lines: tuple[str, ...], context: Context) -> bool:
    """Whether each is about another pup, or strikes another entry."""
    about: list[tuple[bool, int]] = []
    for line in lines:
        reading = understand(line, context)
        what = reading.draft.what
        if isinstance(what, Strike):
            about.append((True, what.target))
        elif any(remark.endswith(_THE_NEWEST) for remark in reading.remarks):
            return False  # 2 breathing, limp: it is not the newest pup that is limp
        elif isinstance(what, _OF_ONE) and what.pup is not None:
            about.append((False, what.pup))
        else:
            return False
    return len(set(about)) == len(about)


def apart(line: str, context: Context) -> tuple[str, ...]:
    """The lines that a line about several pups stands for; none if it is not such a line."""
    text = cleaned(line).strip()
    if not context.litter.pups or _too_much(text, cut_note(text)[0]):
        return ()
    for named in islice(_groups(text, context.litter), _MOST_GROUPS):
        lines = [f"{text[: named.start]}{pup}{named.are}{text[named.end :]}" for pup in named.pups]
        kinds = _KINDS if named.all_here else (*_KINDS, Death)
        told: list[Heard] = []
        for each, pup in zip(lines, named.pups, strict=True):
            one = _said(each, pup, kinds, context)
            if one is None:
                break
            told.append(one)
        if len(told) == len(lines):
            # Who speaks of all at an earlier time does not speak of those born since.
            born = [
                line
                for line, one, pup in zip(lines, told, named.pups, strict=True)
                if born_by(context.litter.pups[pup], one.draft.at)
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

"""Which pup is meant: by number, by mark, or by any unique start of a mark."""

import re
from datetime import UTC, datetime, timedelta

from boxlamp.language import sentences
from boxlamp.language.context import Context, NotUnderstood
from boxlamp.language.ear import Ear, finish
from boxlamp.language.tokens import Token, Words, tokens_of
from boxlamp.model.happenings import Round, What
from boxlamp.model.litter import Litter, Pup

_PUP = frozenset(("pup", "puppy", "pups", "of", "for", "number"))
_TAKEN = frozenset(
    ("all", "both", "everyone", "dam", "mum", "mother", "box", "litter", "pup", "pups")
)
"""What lines call others by: a pup marked so could not be told from them."""
_OF_DIGITS = re.compile(r"[#p]?\d+(?:[,-]\d+)*")
"""What names pups by their numbers: one, a list, a run."""
_LONGEST_MARK = 6
UNITS = frozenset(
    ("min", "mins", "minute", "minutes", "hour", "hours", "hr", "hrs", "days", "day", "g",
     "gram", "grams", "kg", "ml", "oz", "more", "weeks", "times")
)  # fmt: skip
"""Behind a number: it counts something, and names no pup."""
NUMBER = "N"
"""What stands in a hint for the number of a pup that was not named."""
_NEWBORN, _APART = timedelta(minutes=30), timedelta(minutes=10)


def pup_in(words: Words, ear: Ear) -> int:
    """Take the pup a line names, or say why it cannot be told."""
    _skip_pup(words)
    litter = ear.context.litter
    token = words.peek()
    if token is None:
        return left_out(ear)
    if not litter.pups:
        raise NotUnderstood(sentences.NO_PUPS)
    number = _marked_exactly(words, litter)
    if number is None:
        number = number_in(words)
    if number is None:
        number = _marked(words, litter)
    elif number not in litter.pups:
        raise NotUnderstood(sentences.NO_SUCH_PUP.format(number, names(litter)))
    mark = litter.pups[number].mark
    if mark:
        ear.remarks.append(f"pup {number} is {mark}")
    return number


def pup_named(text: str, litter: Litter) -> int:
    """The pup that a text names all by itself, as it would be named in a line."""
    words = Words(text)
    if litter.pups and words.peek() is None:
        raise NotUnderstood(sentences.WHICH_PUP)
    number = pup_in(words, Ear(Context(datetime.min.replace(tzinfo=UTC), litter=litter)))
    finish(words)
    return number


def left_out(ear: Ear) -> int:
    """The pup nobody named: the one a correction is about, or the only one just born."""
    corrected = getattr(ear.amending.what, "pup", None) if ear.amending is not None else None
    if isinstance(corrected, int):
        return corrected
    litter, now = ear.context.litter, ear.moment()
    if not litter.pups:
        raise NotUnderstood(sentences.NO_PUPS)
    pups = [pup for pup in litter.pups.values() if pup.born <= now]
    last = max(pups, key=lambda pup: (pup.born, pup.number), default=None)
    if last is None or now - last.born > _NEWBORN:
        raise NotUnderstood(sentences.WHICH_PUP)
    if any(pup.birth.id > last.birth.id for pup in pups):
        # Another was written down since, with an earlier time: it may be the one that is meant.
        raise NotUnderstood(sentences.WHICH_PUP)
    bound = min(now, last.born + _APART) if now - last.born > _APART else now
    if any(bound - pup.born <= _APART for pup in pups if pup is not last):
        raise NotUnderstood(sentences.WHICH_PUP)
    ear.remarks.append(sentences.TAKEN_AS.format(named(last)))
    return last.number


def newest(litter: Litter) -> int:
    """The number of the pup born last; 1 when there is none."""
    return max(litter.pups, key=lambda number: (litter.pups[number].born, number), default=1)


def _skip_pup(words: Words) -> None:
    while not _ended(words) and words.key() in _PUP:
        words.pop()


def _ended(words: Words) -> bool:
    return words.peek() is None


NUMBERS = {
    "one": 1, "two": 2, "three": 3, "four": 4, "five": 5, "six": 6, "seven": 7, "eight": 8,
    "nine": 9, "ten": 10, "eleven": 11, "twelve": 12,
}  # fmt: skip
"""The numbers that people write out."""


def number_in(words: Words) -> int | None:
    """Take ``3``, ``#3`` or ``p3``; behind ``pup`` also ``three``."""
    token = words.peek()
    key = "" if token is None or token.quoted else token.key
    if key in NUMBERS and words.place and words.tokens[words.place - 1].key in _PUP:
        words.pop()
        return NUMBERS[key]
    digits = key[1:] if key[:1] in {"#", "p"} else key
    if not (digits.isascii() and digits.isdigit() and len(digits) < 3):  # noqa: PLR2004 - 1 to 99
        return None
    words.pop()
    return int(digits)


def names(litter: Litter) -> str:
    """The pups of a litter, for a person: ``1 (red), 2``."""
    return ", ".join(named(pup) for pup in litter.in_order)


def named(pup: Pup) -> str:
    """``3 (red)``, for a person."""
    return f"{pup.number} ({pup.mark})" if pup.mark else str(pup.number)


def _marks(litter: Litter) -> dict[int, str]:
    return {pup.number: compared(pup.mark) for pup in litter.pups.values() if pup.mark}


def compared(mark: str) -> str:
    """What two ways of typing one mark have in common."""
    return " ".join(filter(None, (token.key for token in tokens_of(mark))))


def _phrase(words: Words, length: int) -> str:
    tokens = words.tokens[words.place : words.place + length]
    if len(tokens) < length:
        return ""
    return " ".join(filter(None, (token.key for token in tokens)))


def _marked_exactly(words: Words, litter: Litter) -> int | None:
    """Take the longest run of words that is the whole mark of one pup, or two words of one."""
    marks = _marks(litter)
    for length in range(_LONGEST_MARK, 0, -1):
        phrase = _phrase(words, length)
        if phrase.isdigit():
            continue
        meant = [number for number, mark in marks.items() if mark == phrase != ""]
        if not meant and " " in phrase:
            meant = [number for number, mark in marks.items() if mark.startswith(phrase)]
        if len(meant) == 1:
            words.place += length
            return meant[0]
    return None


def _marked(words: Words, litter: Litter) -> int:
    """Take the longest run of words that begins the mark of exactly one pup.

    The ``N`` of a hint begins no mark: it stands for a number that is still to be put there.
    """
    marks = _marks(litter)
    left_open = words.tokens[words.place].raw == NUMBER
    for length in range(0 if left_open else _LONGEST_MARK, 0, -1):
        phrase = _phrase(words, length)
        meant = [number for number, mark in marks.items() if phrase and mark.startswith(phrase)]
        if len(meant) == 1:
            words.place += length
            return meant[0]
        if meant:
            several = " or ".join(named(litter.pups[number]) for number in meant)
            raise NotUnderstood(sentences.SEVERAL_PUPS.format(phrase, several))
    raw = words.pop().raw
    if raw == NUMBER:
        raise NotUnderstood(sentences.PUT_A_NUMBER.format(names(litter)))
    raise NotUnderstood(sentences.NO_SUCH_PUP.format(raw, names(litter)))


def names_a_pup(words: Words, litter: Litter, *, whole: bool) -> bool:
    """Take a pup's number or mark (``whole``: not a mere start of one) if there is one here."""
    return pup_here(words, litter, whole=whole) is not None


def pup_here(words: Words, litter: Litter, *, whole: bool) -> int | None:
    """Take a pup's number or mark, and say which pup it is; None, and nothing taken, if none is."""
    if _ended(words):
        return None
    start = words.place
    number = _marked_exactly(words, litter)
    if number is None:
        number = number_in(words)
    if number is None and not whole:
        try:
            number = _marked(words, litter)
        except NotUnderstood:
            number = None
    if number in litter.pups:
        return number
    words.place = start
    return None


def mentioned(words: Words, litter: Litter) -> list[int]:
    """The pups that a line names anywhere, by their numbers or whole marks, as they come."""
    found: dict[int, None] = {}
    from_here = Words(words.text, words.tokens)
    while from_here.place < len(words.tokens):
        start = from_here.place
        number = pup_here(from_here, litter, whole=True)
        if number is None or from_here.key() in UNITS:
            from_here.place = start + 1
        else:
            found[number] = None
    return [*found]


def a_line_each(hint: str, words: Words, litter: Litter) -> str:
    """A hint with the pup that the line names for ``{pup}``: a line for each, ``N`` for none."""
    pups: list[int] | list[str] = mentioned(words, litter) or [NUMBER]
    return "\n".join(hint.format(pup=pup) for pup in pups)


def spoken_of(what: What, litter: Litter) -> list[Pup]:
    """The pups that something is said of by name."""
    numbers = [one.pup for one in what.weights] if isinstance(what, Round) else []
    pups = litter.pups
    return [pups[one] for one in [*numbers, getattr(what, "pup", None)] if one in pups]


def in_digits(token: Token, litter: Litter) -> Token:
    """A number that was written out, put as it is read anywhere; a mark stays as it is."""
    number = NUMBERS.get(token.key)
    if number is None or token.key in _marks(litter).values():
        return token
    return token._replace(raw=str(number), key=str(number))


def check_mark(mark: str, pup: int | None, ear: Ear) -> str:
    """A mark that can be used: not digits alone, and not another pup's."""
    mark = mark.strip()
    if not mark:
        raise NotUnderstood(sentences.MARK_MISSING)
    if _OF_DIGITS.fullmatch(mark):
        raise NotUnderstood(sentences.MARK_OF_DIGITS)
    if compared(mark) in _TAKEN:
        raise NotUnderstood(
            sentences.MARK_OF_OTHERS.format(mark), f"mark {pup or NUMBER} {mark} collar"
        )
    for number, other in _marks(ear.context.litter).items():
        if number != pup and other == compared(mark):
            name = f"Pup {number}"
            ear.doubt("mark-taken", sentences.MARK_TAKEN.format(name), sentences.MARK_TAKEN_FIX)
    return mark

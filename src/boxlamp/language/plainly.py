"""Everyday ways of saying things, put into the words of the log before they are read.

Only what is sure is turned. A question, or a line that denies something, never becomes an event.
"""

import re
from functools import partial

from boxlamp.language import sentences
from boxlamp.language.amounts import DEGREES, WEIGHT_UNITS
from boxlamp.language.context import NotUnderstood
from boxlamp.language.corrections import take_back
from boxlamp.language.ear import Ear
from boxlamp.language.everyday import discharge, gums, of_her, udder
from boxlamp.language.one_more import one_more
from boxlamp.language.pups import NUMBERS
from boxlamp.language.pushes import pushing, stopped
from boxlamp.language.terms import (
    CRIES,
    FILLERS,
    FOR_HELP,
    OVER,
    PLAIN,
    PLAIN_ALONE,
    SLIPS,
    STUCK,
    WEAK,
)
from boxlamp.language.text import asks
from boxlamp.language.tokens import NOISE, Words, words_of
from boxlamp.model.litter import Litter

_ASKING = words_of(
    "is was were are am did does do has have had should shall can could may might when what why "
    "how who where which will would what's who's how's where's when's"
)
_WE_ARE = words_of("home back in here at")
"""What follows ``were`` where it stands for "we are"."""
_NUMBERED = r"x?(\d{1,2})x?\Z"
_AFTERBIRTHS = frozenset(("afterbirths", "placentas"))
_DEGREES_ALONE = r"(\d{2,3}[.,]\d{1,2})(\S*)\Z"
_NONE = frozenset(("no", "without"))
_SHE = frozenset(("she", "she's"))


def refuse_a_question(words: Words, litter: Litter) -> None:
    """A line that asks is no entry, whatever words it holds; who asks for help is told where."""
    _answer_for_help(words.text, litter)
    first = next((token for token in words.tokens if token.key), None)
    if first is None or first.quoted:
        return
    if asks(words.text) or (first.key in _ASKING and not _tells(words)):
        raise NotUnderstood(sentences.A_QUESTION)


def _tells(words: Words) -> bool:
    """``can see a bubble``, ``were home again``, ``had 2 pups``: no question, however it begins."""
    keys = [token.key for token in words.tokens]
    following = keys[1] if len(keys) > 1 else ""
    seen = keys[:1] == ["can"] and following == "see" and not words.text.endswith("?")
    there = keys[:1] == ["were"] and (following in _WE_ARE or keys[1:] == ["there"])
    several = keys[:1] == ["had"] and (following.isdigit() or following in NUMBERS)
    return seen or there or (several and not {"pups", "puppies"}.isdisjoint(keys))


def _answer_for_help(text: str, litter: Litter) -> None:
    """``help!``, ``what do i do``: whom to ring, and where it stands what to do and to say."""
    keys = [token.key for token in Words(re.sub(r"[?!\uff1f]", " ", text)).tokens]
    said = " ".join(key for key in keys if key not in CRIES | NOISE)
    if said in FOR_HELP or (not said and not CRIES.isdisjoint(keys)):
        numbers = (litter.details.vet_phone, litter.details.night_phone)
        known = " or ".join(dict.fromkeys(filter(None, numbers)))
        raise NotUnderstood(sentences.FOR_HELP.format(f": {known}" if known else ""))


def is_score(words: Words) -> bool:
    """Whether a ``?`` at the end may stand for a part of a score that was not taken."""
    return any(token.key in {"score", "viability"} for token in words.tokens[:4])


def without_cries(text: str) -> str:
    """The line without what was cried behind it: ``pup 2 cold help``, ``head stuck, please!``."""
    tokens = Words(text).tokens
    while len(tokens) > 1 and tokens[-1].key in CRIES and not tokens[-1].quoted:
        text = text[: tokens.pop().start].rstrip()
    return text


def in_the_words_of_the_log(text: str, ear: Ear) -> str:
    """The line with everyday words turned into the log's own, where that is sure."""
    words = Words(text)
    behind = 0
    while words.phrase(FILLERS) is not None:
        behind = words.place
    start = words.place
    if words.peek() is None:
        return text
    from boxlamp.language.one_out import of_one_out

    of_one = of_one_out(Words(text, words.tokens[behind:]), ear)
    return of_one if of_one is not None else _turned(words, start, ear)


def _turned(words: Words, start: int, ear: Ear) -> str:
    """The words from here on, turned where one of the turns is sure of them."""
    alone = words.phrase(PLAIN_ALONE)
    if alone == WEAK and words.peek() is None:
        return _who_is_weak(words, start)
    if alone is not None and words.peek() is None:
        return _over(alone, ear)
    words.place = start
    led = words.phrase(PLAIN)
    if led is not None:
        return f"{led} {_rest(words)}"
    turns = (partial(one_more, ear=ear), _afterbirths, partial(stopped, ear=ear),
             partial(pushing, ear=ear), partial(discharge, ear=ear), udder, gums, of_her, _degrees,
             _weighed)  # fmt: skip
    for turn in turns:
        words.place = start
        words.skip_noise()
        turned = turn(words)
        if turned is not None:
            return turned
    words.place = start
    return _rest(words)


def _rest(words: Words) -> str:
    return words.text[words.tokens[words.place].start :] if words.peek() is not None else ""


def _over(said: str, ear: Ear) -> str:
    if said == SLIPS:
        raise take_back(ear, sentences.A_SLIP)
    if said == OVER:
        ear.doubt("finished", sentences.IS_IT_OVER, sentences.IS_IT_OVER_FIX)
        return "finished"
    if said == STUCK:
        ear.remarks.append(sentences.STUCK_TAKEN)
    if said.startswith("!"):
        raise NotUnderstood(
            sentences.OUT_OR_SHOWING.format(said[1:])
            + " "
            + sentences.OUT_OR_SHOWING_FIX.format(said[1:], said[1:]),
            f"part {said[1:]}",
        )
    return said


def _who_is_weak(words: Words, start: int) -> str:
    """``she is very weak`` is the dam; ``weak`` alone may be she, her pushes or a pup."""
    if any(token.key in _SHE for token in words.tokens[:start]):
        return "dam dull"
    raise NotUnderstood(sentences.WHO_IS_WEAK)


def _afterbirths(words: Words) -> str | None:
    """``2 afterbirths``: a number before the plural counts them. None at all is not said so."""
    found = re.match(_NUMBERED, words.key(), re.ASCII)
    if found and words.key(1) in _AFTERBIRTHS:
        words.place += 2
        return f"afterbirth x{int(found[1])} {_rest(words)}"
    if words.key() in _NONE and words.key(1) in _AFTERBIRTHS | {"afterbirth", "placenta", "ab"}:
        raise NotUnderstood(sentences.NO_AFTERBIRTH, "afterbirth not seen")
    return None


def _degrees(words: Words) -> str | None:
    """``37.2`` or ``36.8c`` alone is the temperature of the dam."""
    found = re.match(_DEGREES_ALONE, words.key(), re.ASCII)
    if not found or (found[2] and found[2] not in DEGREES):
        return None
    text = _rest(words)
    words.pop()
    if words.key() in DEGREES:
        words.pop()
    return f"temp {text}" if words.peek() is None else None


def _weighed(words: Words) -> str | None:
    """``310g`` alone, or ``300 grams red``: a weight that begins a line is a pup's."""
    text = _rest(words)
    found = re.match(r"\d{2,4}(?:[.,]\d+)?(\D*)\Z", words.key(), re.ASCII)
    if not found or words.tokens[words.place].quoted:
        return None
    unit = found[1] or words.key(1)
    return f"weigh {text}" if unit in WEIGHT_UNITS else None

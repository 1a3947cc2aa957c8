"""Reading a birth: every part may be missing, and the parts may come in any order."""

import re
from dataclasses import dataclass, field
from decimal import Decimal
from typing import TypeVar

from boxlamp.language import amounts, sentences
from boxlamp.language.behind import time_first
from boxlamp.language.clock import A_DOTTED
from boxlamp.language.context import NotUnderstood
from boxlamp.language.ear import Ear, refuse_a_time
from boxlamp.language.pups import check_mark, number_in
from boxlamp.language.terms import (
    BIRTH_NOISE,
    BIRTH_STATES,
    DAM_SIGNS,
    IN_SAC,
    MARK_WORDS,
    NAMING,
    NOT_BORN,
    PRESENTATIONS,
    PUP_SIGNS,
    SEXES,
    VERY,
    is_plain_mark,
)
from boxlamp.language.text import same
from boxlamp.language.tokens import Words, table
from boxlamp.language.word import Word
from boxlamp.model.happenings import Birth
from boxlamp.model.quantities import plain
from boxlamp.model.seen import BirthState, Presentation, PupSign, Sex

T = TypeVar("T")

_LIGHTEST, _HEAVIEST = Decimal(50), Decimal(1200)
_LARGEST_BARE_NUMBER = 30
_LAST_PUP = 99
_LIKE_A_TEMPERATURE = 45
"""No pup weighs so few grams: such a number is how warm it is."""
_TAIL_FIRST = table({"tail first": ""})
_CAN_WAIT = frozenset(("mark", "mark-taken", "tail-first", "implausible"))


@dataclass(eq=False, repr=False)
class _Seen:
    """What has been read of a birth so far."""

    number: int | None = None
    sex: Sex | None = None
    weight: Decimal | None = None
    state: BirthState | None = None
    presentation: Presentation | None = None
    in_sac: bool = False
    mark: list[str] = field(default_factory=list)
    mark_named: bool = False


def birth(words: Words, ear: Ear) -> Birth:
    """``pup m 312g red limp head first in sac``, in any order, with anything left out."""
    seen = _Seen()
    while (token := words.peek()) is not None:
        if token.quoted:
            seen.mark, seen.mark_named = [words.pop().raw], True
        elif token.key in NAMING:
            words.pop()
            seen.mark_named = words.peek() is not None or seen.mark_named  # vet called
        elif token.key in BIRTH_NOISE:
            words.pop()
        else:
            _part(words, seen, ear)
    _as_it_was(seen, ear)
    numbered = seen.number is not None
    number = _number(seen, ear)
    question_weight(seen.weight, ear)
    _question_part(seen, words, ear)
    mark = _mark(seen, number, ear)
    if seen.state == "limp":
        _ask_later(ear)
    if ear.note:
        from boxlamp.language.another import told_behind

        told_behind(ear)
    born = Birth(
        pup=number, sex=seen.sex, weight=seen.weight, mark=mark,
        state=seen.state, presentation=seen.presentation, in_sac=seen.in_sac,
    )  # fmt: skip
    if not numbered and ear.context.litter.pups:
        from boxlamp.language.another import question_another

        question_another(born, words, ear)
    return born


def _ask_later(ear: Ear) -> None:
    """A limp pup needs its clock at once: what is unsure of it is said, and can be amended."""
    later = [doubt for doubt in ear.doubts if doubt.code in _CAN_WAIT]
    ear.remarks += [f"look again and amend: {doubt.sentence}" for doubt in later]
    ear.doubts[:] = [doubt for doubt in ear.doubts if doubt not in later]


def _own_number(words: Words) -> int | None:
    """The number of the pup itself; a bare number over 30 is a weight, ``#85`` a number."""
    start = words.place
    number = number_in(words)
    bare = number is not None and words.tokens[start].key.isdigit()
    is_weight = words.key() in amounts.WEIGHT_UNITS
    if bare and (is_weight or (number or 0) > _LARGEST_BARE_NUMBER):
        words.place = start
        return None
    return number


def _part(words: Words, seen: _Seen, ear: Ear) -> None:
    """Take one part of a birth; a word that is none of them is left for the mark."""
    if words.phrase(_TAIL_FIRST):
        ear.doubt("tail-first", sentences.TAIL_FIRST, sentences.TAIL_FIRST_FIX)
        seen.presentation = _one(seen.presentation, "rump", "positions")
        return
    in_sac = words.phrase(IN_SAC)
    state = None if in_sac else words.phrase(BIRTH_STATES)
    way = None if in_sac or state else words.phrase(PRESENTATIONS)
    sex = None if in_sac or state or way else words.phrase(SEXES)
    if in_sac:
        seen.in_sac = True
    elif state:
        seen.state = _state(seen.state, state, ear)
    elif way:
        seen.presentation = _one(seen.presentation, way, "positions")
    elif sex:
        seen.sex = _one(seen.sex, sex, "sexes")
    elif (number := _own_number(words)) is not None:
        seen.number = _one(seen.number, number, "numbers")
    elif ear.spoken is None and _like_a_clock(words):
        raise NotUnderstood(
            sentences.TIME_FIRST, time_first([token.raw for token in words.tokens], words.place)
        )
    elif (grams := amounts.weight(words, ear.remarks)) is not None:
        seen.weight = _one(seen.weight, grams, "weights")
    else:
        if not seen.mark_named:
            refuse_a_time(words)
        seen.mark.append(words.pop().raw)


def _like_a_clock(words: Words) -> bool:
    """Whether ``2.05`` stands here, which is no weight of a pup in grams."""
    clock = re.match(rf"{A_DOTTED}\Z", words.key(), re.ASCII) is not None
    return clock and words.key(1) not in amounts.WEIGHT_UNITS


def _state(old: BirthState | None, new: BirthState, ear: Ear) -> BirthState:
    """How it is; of two words the one that starts a clock, and dead only when nothing denies it."""
    said = {old, new} - {None}
    if said == {"limp", "alive"}:
        ear.remarks.append(sentences.STATES_TAKEN)
        return "limp"
    if said == {"limp", "dead"}:
        ear.doubt("two-states", sentences.LIMP_OR_DEAD, sentences.LIMP_OR_DEAD_FIX)
        return "limp"
    return _one(old, new, "states") or new


def _one(old: T | None, new: T | None, what: str) -> T | None:
    if old is not None and new != old:
        raise NotUnderstood(sentences.TWO_OF.format(what), "pup m 312g red limp head first in sac")
    return new


def _number(seen: _Seen, ear: Ear) -> int:
    """The new pup's number; one that was typed must not be taken already."""
    if ear.amending is not None and isinstance(ear.amending.what, Birth):
        mine = ear.amending.what.pup
        if seen.number in {None, mine}:
            return mine
    following = ear.context.next_pup
    number = seen.number or following
    if number in ear.context.litter.pups:
        nearest = f"state {number} {seen.state}" if seen.state == "limp" else ""
        if seen.sex and not (nearest or seen.weight or seen.mark):
            nearest = f"sex {number} {seen.sex}"
        elif seen.weight and seen.weight <= _LIKE_A_TEMPERATURE:
            nearest = f"temp pup {number} {plain(seen.weight)}"
        elif seen.weight:
            nearest = f"weigh {number} {plain(seen.weight)}g"
        nearest = nearest or f"note pup {number} ..."
        raise NotUnderstood(sentences.PUP_TAKEN.format(number, following), nearest)
    if number > _LAST_PUP:
        raise NotUnderstood(sentences.TOO_MANY_PUPS)
    if number > following:
        sentence = sentences.PUP_AHEAD.format(following, number)
        ear.doubt("pup-number", sentence, sentences.PUP_AHEAD_FIX)
    ear.remarks.append(f"this is pup {number}")
    return number


def _as_it_was(seen: _Seen, ear: Ear) -> None:
    """A correction changes only what it says: the rest stays as the entry now reads."""
    old = ear.before(Birth)
    if old is None or seen.number not in {None, old.pup}:
        return
    seen.sex = seen.sex or old.sex
    seen.weight = old.weight if seen.weight is None else seen.weight
    seen.state = seen.state or old.state
    seen.presentation = seen.presentation or old.presentation
    seen.in_sac = seen.in_sac or old.in_sac
    if not seen.mark and old.mark is not None:
        seen.mark, seen.mark_named = [old.mark], True


def question_weight(weight: Decimal | None, ear: Ear) -> None:
    """Ask about a weight that a newborn pup hardly has."""
    if weight is not None and not _LIGHTEST <= weight <= _HEAVIEST:
        how = "light" if weight < _LIGHTEST else "heavy"
        sentence = sentences.IMPLAUSIBLE_WEIGHT.format(f"{plain(weight)} g", how)
        ear.doubt("implausible", sentence, sentences.IMPLAUSIBLE_FIX)


def _question_part(seen: _Seen, words: Words, ear: Ear) -> None:
    """``pup head`` alone may be a pup of which only the head is showing."""
    said_more = seen.sex or seen.weight or seen.state or seen.mark or seen.number
    surely = {"first", "born", "birth", "out", "breech"}
    if seen.presentation and not said_more and surely.isdisjoint(one.key for one in words.tokens):
        part = seen.presentation
        sentence = sentences.OUT_OR_SHOWING.format(part)
        ear.doubt("birth-or-part", sentence, sentences.OUT_OR_SHOWING_FIX.format(part, part))


def _mark(seen: _Seen, number: int, ear: Ear) -> str | None:
    """The words nobody else wanted. Unless they are plainly a mark, ask: it may be a slip."""
    if not seen.mark:
        return None
    mark = " ".join(seen.mark)
    keys = [same(word).strip(".!:-") for word in seen.mark]
    plain_mark = is_plain_mark([part for key in keys for part in key.split("-")])
    if not seen.mark_named and not plain_mark:
        _refuse_what_is_no_birth(mark, keys)
        signs = _all_signs(mark)
        if signs:
            _question_signs(mark, f"state {number} {' '.join(signs)}", ear)
            return None
        _question_mark(mark, ear)
    return check_mark(mark, number, ear)


def _refuse_what_is_no_birth(mark: str, keys: list[str]) -> None:
    if any(key in NOT_BORN for key in keys):
        raise NotUnderstood(sentences.NOT_A_BIRTH.format(mark), "part head")
    for key in keys:
        if key in DAM_SIGNS and key not in PUP_SIGNS:
            raise NotUnderstood(sentences.NOT_A_BIRTH.format(mark), f"dam {DAM_SIGNS[key]}")


def _all_signs(mark: str) -> list[PupSign]:
    """The signs, where the words that are left say nothing but how the pup is."""
    words, signs = Words(mark), list[PupSign]()
    while words.peek() is not None:
        sign = words.phrase(PUP_SIGNS)
        if sign is not None:
            signs.append(sign)
        elif words.pop().key not in VERY:
            return []
    return signs


def _question_signs(mark: str, line: str, ear: Ear) -> None:
    """A sign is never offered as a mark: the pup would be called by it for good."""
    fix = sentences.SIGN_IS_NO_MARK_FIX.format(ear.timed(line))
    ear.doubt("mark", sentences.SIGN_IS_NO_MARK.format(mark), fix)


def _question_mark(mark: str, ear: Ear) -> None:
    from difflib import get_close_matches

    known = [*BIRTH_STATES, *PRESENTATIONS, *SEXES, *MARK_WORDS]
    close = get_close_matches(same(mark), known, n=1, cutoff=0.6)
    fix = sentences.IS_IT_A_MARK_FIX.format(mark)
    if close:
        fix = sentences.IS_IT_A_MARK_OR.format(mark, close[0])
    ear.doubt("mark", sentences.IS_IT_A_MARK.format(mark), fix)


WORDS = (
    Word(
        "pup", "pup [m/f] [312g] [mark] [alive/limp/dead] [head/feet/rump first] [in sac]",
        "A pup is out. Every part may be left out and added later.",
        ("pup m 312g red", "pup f 11oz limp feet first in sac", "boy 312 g", "dead pup", "born",
         "pup dog 1lb 3oz mark Luna"),
        birth,
        synonyms=("puppy", "born", "birth", "pup born", "puppy born", "pup out"),
        telling=("dog", "bitch", "boy", "girl", "male", "female", "dog pup", "bitch pup",
                 "dead pup", "dead puppy", "live pup", "limp pup", "stillborn", "stillborn pup",
                 "stillbirth", "breech pup"),
    ),
)  # fmt: skip

"""What is said of a pup that is out, without its number: ``the boy is limp``, ``pup red is cold``.

Read as a birth such a line would be a pup that never was, and end the clocks that wait for one.
So it is the state of the pup that fits, and the answer says which, and what to type if another
was born. ``pup boy limp`` stays a birth: nobody who looks at a pup he knows speaks so.
"""

from dataclasses import dataclass, field
from typing import NoReturn

from boxlamp.language import sentences
from boxlamp.language.context import NotUnderstood
from boxlamp.language.dead import SIGNS_OF_NEED
from boxlamp.language.ear import Ear
from boxlamp.language.pups import NUMBER, compared, mentioned, named
from boxlamp.language.say import say
from boxlamp.language.terms import (
    BIRTH_STATES,
    DAM_SIGNS,
    MARK_COLOURS,
    MARK_WORDS,
    PUP_SIGNS,
    SEXES,
    VERY,
)
from boxlamp.language.tokens import NOISE, Words, words_of
from boxlamp.model.happenings import Birth
from boxlamp.model.litter import Litter, Pup
from boxlamp.model.seen import PupSign, Sex

_PUP = frozenset(("pup", "puppy"))
_TELLS_OF_ONE = words_of(
    "the is was with has isn't isnt doesn't doesnt won't wont looks seems feels gone went stopped"
)
"""Words by which a line speaks of a pup that is known already."""
_BESIDE = NOISE | VERY | words_of("gone went")
_NOT_IN_NEED: frozenset[PupSign] = frozenset(("well", "crying"))
_SIGN_AND_COLOUR = "blue"
_OR_THE_DAM = frozenset(("bitch", "dog"))
"""Words for a pup's sex that people say of the dam as well."""
_DIED = "died"
_DEAD = (_DIED, "dead")


@dataclass(eq=False, repr=False)
class _Said:
    """What a line says of one pup."""

    sex: Sex | None = None
    mark: list[str] = field(default_factory=list)
    signs: list[PupSign] = field(default_factory=list)
    called: bool = False
    known: bool = False
    at_birth: bool = False
    """Whether one of the signs is such as a birth has; ``later`` are those that none has."""
    later: list[PupSign] = field(default_factory=list)
    dead: str = ""
    dam: str = ""
    """What the same sign is called in the dam."""


def of_one_out(words: Words, ear: Ear) -> str | None:
    """The line as the state of the pup that it speaks of; None where it is not such a line."""
    litter = ear.context.litter
    said = None if ear.inside else _read(Words(words.text, words.tokens), litter)
    if said is None or not _of_a_pup_in_need(said):
        return None
    if said.dam and said.known and not said.called and not _OR_THE_DAM.isdisjoint(_keys(words)):
        lines = [f"dam {said.dam}"]
        lines += [f"state {NUMBER} {' '.join(said.signs)}"] if litter.pups else []
        raise NotUnderstood(f"{sentences.NO_CLOCK} {sentences.DAM_OR_PUP}", "\n".join(lines))
    if not litter.pups:
        return None
    exact = mentioned(Words(words.text, words.tokens), litter)
    if exact and (said.dead or said.sex is None):
        return None  # it is named, and read so
    fitting = _fitting(said, [pup for pup in _here(ear) if not exact or pup.number in exact])
    if said.dead:
        return _dead(said, fitting[-1], ear) if fitting else None
    return _state(said, fitting, ear, exact=bool(exact))


def _keys(words: Words) -> set[str]:
    return {token.key.removesuffix("'s") for token in words.tokens}


def _of_a_pup_in_need(said: _Said) -> bool:
    if not (said.called or said.sex):
        return False
    if said.dead:
        return not said.signs and (said.known or said.dead == _DIED)
    return "well" not in said.signs and not _NOT_IN_NEED.issuperset(said.signs)


def _state(said: _Said, fitting: list[Pup], ear: Ear, *, exact: bool) -> str | None:
    """The line for the one that fits; of several the newest, where it must not wait."""
    by_its_mark = bool(said.mark) and any(pup.mark for pup in fitting)
    a_birth = not (exact or said.known or by_its_mark) and said.at_birth
    if a_birth or (not fitting and (said.at_birth or exact)):
        return None
    if not fitting:
        _refuse(said, sentences.NONE_FITS)
    if len(fitting) > 1 and SIGNS_OF_NEED.isdisjoint(said.signs):
        _refuse(said, sentences.WHICH_OF.format(", ".join(map(named, fitting))))
    pup = fitting[-1]
    if not exact:
        ear.remarks.append(sentences.OF_ONE_OUT.format(named(pup), _born(said, ear)))
    return f"state {pup.number} {' '.join(said.signs)}"


def _read(words: Words, litter: Litter) -> _Said | None:
    """Every word of the line, or None where one of them tells of something else."""
    said = _Said()
    while words.place < len(words.tokens):
        token = words.tokens[words.place]
        key = token.key.removesuffix("'s")
        said.known = said.known or token.key in _TELLS_OF_ONE or key != token.key
        if token.quoted:
            return None
        if token.key in _BESIDE or key in _PUP:
            said.called = said.called or key in _PUP
            words.place += 1
        elif key != token.key and key in SEXES:
            words.tokens[words.place] = token._replace(key=key)
        elif not (_take_sign(words, said) or _take_what_it_is(words, said, litter)):
            return None
    return said


def _take_what_it_is(words: Words, said: _Said, litter: Litter) -> bool:
    """Take a sex, a word of a mark or the number of a pup that is there."""
    key = words.key()
    digits = key.lstrip("#p")
    if (sex := words.phrase(SEXES)) is not None:
        told, said.sex = said.sex, sex
        return told in {None, sex}
    if key in MARK_WORDS or _of_a_mark(key, litter):
        said.mark.append(key)
    elif not (digits.isascii() and digits.isdigit() and int(digits[:3]) in litter.pups):
        return False
    words.place += 1
    return True


def _take_sign(words: Words, said: _Said) -> bool:
    """Take a sign, or that it is dead; some of them a birth may have."""
    start = words.place
    if words.key() in _DEAD:
        said.dead = words.pop().key
        return True
    sign = _sign(words, said)
    if sign is None:
        return False
    keys = [token.key for token in words.tokens[start : words.place]]
    said.signs.append(sign)
    said.known = said.known or not _TELLS_OF_ONE.isdisjoint(keys)
    phrase = " ".join(keys).replace("-", " ")
    said.dam = said.dam or DAM_SIGNS.get(phrase, "")
    if phrase in BIRTH_STATES:
        said.at_birth = True
    else:
        said.later.append(sign)
    return True


def _sign(words: Words, said: _Said) -> PupSign | None:
    """Take a sign. A word of marks is a mark before the verb, and a colour but for blue behind."""
    start = words.place
    key = words.key()
    sign = words.phrase(PUP_SIGNS)
    alone = key in MARK_WORDS and words.place == start + 1
    a_colour = key in MARK_COLOURS - {_SIGN_AND_COLOUR} or words.key() in MARK_COLOURS
    if sign is not None and alone and (a_colour or not said.known):
        words.place = start
        return None
    return sign


def _of_a_mark(key: str, litter: Litter) -> bool:
    return any(pup.mark and key in compared(pup.mark).split() for pup in litter.in_order)


def _here(ear: Ear) -> list[Pup]:
    """The living pups that were out by then, the newest last."""
    moment = ear.moment()
    return [
        pup for pup in ear.context.litter.in_order
        if pup.alive and pup.here and pup.born <= moment
    ]  # fmt: skip


def _fitting(said: _Said, pups: list[Pup]) -> list[Pup]:
    """Those of which all of it is known; else those that nothing speaks against."""
    words = set(said.mark)
    fit = [
        pup
        for pup in pups
        if (said.sex is None or pup.sex in {None, said.sex})
        and (not pup.mark or words <= set(compared(pup.mark).split()))
    ]
    surely = [
        pup for pup in fit if (not said.sex or pup.sex) and (not words or pup.mark)
    ]  # fmt: skip
    return surely or fit


def _born(said: _Said, ear: Ear) -> str:
    """The lines for another pup that was born so."""
    state = "limp" if said.at_birth else None
    number, mark = ear.context.next_pup, " ".join(said.mark) or None
    lines = [say(Birth(pup=number, sex=said.sex, mark=mark, state=state))]
    if said.later:
        lines.append(f"state {number} {' '.join(said.later)}")
    return " and ".join(f"`{ear.timed(line)}`" for line in lines)


def _dead(said: _Said, pup: Pup, ear: Ear) -> str:
    """``the boy is dead``, ``pup died``: nothing is taken as a death unasked unless it is named."""
    mark = " ".join(said.mark) or None
    born = say(Birth(pup=ear.context.next_pup, sex=said.sex, mark=mark, state="dead"))
    died = f"died {pup.number}"
    sentence = sentences.BORN_DEAD_OR_DIED if said.dead == _DIED else sentences.DEAD_OR_BORN
    fix = sentences.BORN_DEAD_OR_DIED_FIX.format(pup.number, ear.timed(died), ear.timed(born))
    ear.doubt("another-pup", sentence.format(pup.number), fix)
    return died if said.dead == _DIED else born


def _refuse(said: _Said, why: str) -> NoReturn:
    signs = " ".join(said.signs)
    raise NotUnderstood(f"{sentences.NO_CLOCK} {why}", f"state {NUMBER} {signs}")

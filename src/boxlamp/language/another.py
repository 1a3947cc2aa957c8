"""Asking whether a line that reads like a birth tells of another pup, or of one that is out.

A pup that never was ends the clocks that wait for one, and the count comes out right with a pup
missing. So where a line may as well tell of a pup again, it is asked, with both lines to type. A
limp pup is taken at once, for its clock must not wait for an answer, unless that clock runs.
"""

import re
from datetime import datetime, timedelta

from boxlamp.language import sentences
from boxlamp.language.ear import Ear
from boxlamp.language.pups import compared, newest
from boxlamp.language.say import say
from boxlamp.language.terms import SEXES
from boxlamp.language.text import shortened
from boxlamp.language.tokens import Words
from boxlamp.model.happenings import Birth
from boxlamp.model.litter import Pup
from boxlamp.model.quantities import plain

_SAME_MOMENT = timedelta(minutes=1)
"""Our choice: two pups are seldom born so close, and one pup is easily written down twice."""
_KEY_TWICE = timedelta(seconds=2)
"""Our choice: by caesarean pups do come so close, but no two lines about them are typed so fast."""
_JUST_BORN = timedelta(minutes=15)
"""Our choice: so long a line such as "a girl, out" may be about the one that is out."""

_PUP = frozenset(("pup", "puppy"))
_SURELY_BORN = frozenset(("born", "birth", "delivered", "stillborn", "stillbirth"))
_COMES = frozenset(("out", "here", "came", "arrived", "popped", "newborn", "another", "next"))
"""Long after the last birth these say that there is one more."""
_HOW_IT_IS = frozenset(("breathing", "crying", "breath", "moving", "is"))
_MORE_OF_THEM = frozenset(("another", "next", "second", "third", "fourth", "fifth", "sixth"))
_WEIGHED = re.compile(r"\d{2,4}(?:[.,]\d+)?(?:g|gr|grams|oz)\Z|\d{3}\Z", re.ASCII)
_SHOWN = 60
_NO_BREATH = frozenset(("limp", "not-breathing"))


def question_another(birth: Birth, words: Words, ear: Ear) -> None:
    """Ask about a birth without a number that may be one that is written down already."""
    litter = ear.context.litter
    if ear.inside:
        return
    moment = ear.moment()
    again = _beside(birth, moment, ear)
    last = litter.pups[newest(litter)]
    just_born = timedelta(0) <= moment - last.born <= _JUST_BORN
    keys = {token.key for token in words.tokens}
    if just_born and _tells_how_it_is(birth, keys):
        _ask_how_it_is(birth, last, ear)
    elif again is not None:
        _ask(birth, again, ear)
    elif birth.state == "dead" and (found := _found_dead(birth, words, moment, ear)) is not None:
        sentence = sentences.DEAD_OR_BORN.format(found.number)
        fix = (found.number, ear.timed(f"died {found.number}"), ear.timed(say(birth)))
        ear.doubt("another-pup", sentence, sentences.BORN_DEAD_OR_DIED_FIX.format(*fix))
    elif (just_born or _said_last(last, moment, ear)) and _only_describes(birth, last, keys):
        _ask(birth, last, ear)
    elif (described := _described(birth, keys, moment, ear)) is not None:
        _ask(birth, described, ear)


def _beside(birth: Birth, moment: datetime, ear: Ear) -> Pup | None:
    """The pup born nearest to this moment, if that is so near that it may be the same."""
    cut = ear.context.litter.caesarean
    timed = ear.spoken is not None or ear.inner is not None
    near = []
    for pup in ear.context.litter.pups.values():
        apart = abs(moment - pup.born)
        by_caesarean = pup.by_caesarean and cut is not None and moment >= cut
        bound = _KEY_TWICE if by_caesarean else _SAME_MOMENT
        marked_otherwise = birth.mark and pup.mark and not _same(birth.mark, pup.mark)
        same_mark = birth.mark and pup.mark and not marked_otherwise
        sexed_otherwise = birth.sex and pup.sex and birth.sex != pup.sex and not same_mark
        otherwise = marked_otherwise or sexed_otherwise
        if apart <= bound and not otherwise and not (by_caesarean and timed):
            near.append((apart, -pup.number, pup))
    return min(near)[-1] if near else None


def _said_last(pup: Pup, moment: datetime, ear: Ear) -> bool:
    """Whether the line before this one told the birth of this pup, however long ago that was."""
    return moment >= pup.born and max(ear.context.entries or (), default=0) == pup.birth.id


def _same(one: str, other: str) -> bool:
    return compared(one) == compared(other)


def _only_describes(birth: Birth, pup: Pup, keys: set[str]) -> bool:
    """``a boy, red, 380 g`` where this pup lacks some of it, and has nothing against it."""
    if birth.presentation or birth.in_sac or not keys.isdisjoint(_PUP | _SURELY_BORN):
        return False
    said = (birth.sex, birth.weight, birth.mark and compared(birth.mark), birth.state)
    known = (pup.sex, pup.weight, pup.mark and compared(pup.mark), pup.state)
    told = [(new, old) for new, old in zip(said, known, strict=True) if new is not None]
    lacks = any(old is None for _new, old in told)
    return lacks and all(old is None or new == old for new, old in told)


def _described(birth: Birth, keys: set[str], moment: datetime, ear: Ear) -> Pup | None:
    """The newest pup that a line may describe, however long it has been out."""
    if not keys.isdisjoint(_COMES):
        return None
    pups = [pup for pup in ear.context.litter.pups.values() if pup.born <= moment]
    pups.sort(key=lambda pup: (pup.born, pup.number), reverse=True)
    return next((pup for pup in pups if _only_describes(birth, pup, keys)), None)


def _found_dead(birth: Birth, words: Words, moment: datetime, ear: Ear) -> Pup | None:
    """The newest living pup that ``dead puppy`` may be said of.

    A word of birth tells of one born dead; a pup that was born is never taken as dead unasked.
    """
    keys = [token.key for token in words.tokens]
    if "puppy" not in keys[1:] or not (_COMES | _SURELY_BORN).isdisjoint(keys):
        return None
    return next((
        pup for pup in reversed(ear.context.litter.in_order)
        if pup.alive and pup.here and pup.born <= moment and pup.sex in {None, birth.sex or pup.sex}
    ), None)  # fmt: skip


def _tells_how_it_is(birth: Birth, keys: set[str]) -> bool:
    """``pup crying``, ``pup is not breathing``: most likely the pup that is out."""
    more = birth.sex or birth.weight or birth.mark or birth.presentation or birth.in_sac
    named = not keys.isdisjoint(_PUP) and keys.isdisjoint(_SURELY_BORN)
    return bool(birth.state) and not more and named and not keys.isdisjoint(_HOW_IT_IS)


def _ask_how_it_is(birth: Birth, pup: Pup, ear: Ear) -> None:
    number = pup.number
    how = f"breathing {number}" if birth.state == "alive" else f"state {number} not-breathing"
    fix = sentences.ANOTHER_PUP_FIX.format(ear.timed(say(birth)), number, f"`{how}`")
    ear.doubt("another-pup", sentences.ANOTHER_LOOK.format(number), fix)


def _ask(birth: Birth, pup: Pup, ear: Ear) -> None:
    if birth.state == "limp" and not _is_limp(pup):
        ear.remarks.append(sentences.ANOTHER_LIMP.format(pup.number, pup.number))
        return
    number = pup.number
    again = ", ".join(f"`{line}`" for line in _said_of(birth, pup, ear)) or sentences.LEAVE_IT_OUT
    fix = sentences.ANOTHER_PUP_FIX.format(ear.timed(say(birth)), number, again)
    ear.doubt("another-pup", sentences.ANOTHER_PUP.format(number), fix)


def _is_limp(pup: Pup) -> bool:
    """Whether the clock of a limp pup runs for this one."""
    limp = pup.state == "limp" or not _NO_BREATH.isdisjoint(pup.signs)
    return pup.alive and limp and "breathing" not in pup.steps


def _said_of(birth: Birth, pup: Pup, ear: Ear) -> list[str]:
    """The lines that say of a pup that is there what the birth says and it lacks."""
    number = pup.number
    lines = []
    if birth.sex and birth.sex != pup.sex:
        lines.append(f"sex {number} {birth.sex}")
    if birth.mark and not (pup.mark and _same(birth.mark, pup.mark)):
        lines.append(f"mark {number} {birth.mark}")
    if birth.weight and birth.weight != pup.weight:
        lines.append(f"weigh {number} {plain(birth.weight)}g")
    states = {"alive": f"breathing {number}", "dead": f"died {number}"}
    if birth.state in states and birth.state != pup.state:
        lines.append(ear.timed(states[birth.state]))
    if birth.presentation or birth.in_sac:
        rest = Birth(pup=number, presentation=birth.presentation, in_sac=birth.in_sac)
        lines.append(f"amend {pup.birth.id} {say(rest)}")
    return lines


def told_behind(ear: Ear) -> None:
    """Say that a birth in the note behind a birth is not counted, where a note begins like one."""
    words = Words(ear.note)
    words.skip_noise()
    keys = [token.key for token in words.tokens[words.place :]]
    led = bool(keys) and (keys[0] in _PUP | _MORE_OF_THEM or keys[0] in SEXES)
    sexed = any(key in SEXES for key in keys)
    weighed = any(_WEIGHED.match(key) for key in keys)
    one_more = bool(keys) and keys[0] in _MORE_OF_THEM and not (_PUP | {"one"}).isdisjoint(keys)
    pup = sexed and not _PUP.isdisjoint(keys)
    if led and (weighed or pup or one_more or (sexed and keys[0] in _MORE_OF_THEM)):
        rest = ear.note[words.tokens[words.place].start :]
        typed = rest if keys[0] in _PUP | _MORE_OF_THEM else f"pup {rest}"
        ear.remarks.append(sentences.SECOND_BEHIND.format(f"`{shortened(typed, _SHOWN)}`"))

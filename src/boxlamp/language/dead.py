"""A pup that is written down as dead: the line that says it is alive, and lines that forget it.

A pup that is worked on may come back after minutes. Then its clocks have to run again, so every
line about it that comes after its death says what the record holds, and what to type.
"""

from datetime import datetime, timedelta

from boxlamp.language import sentences
from boxlamp.language.context import NotUnderstood
from boxlamp.language.ear import Ear
from boxlamp.language.moments import shown
from boxlamp.language.pups import in_digits, named, names_a_pup, pup_in, spoken_of
from boxlamp.language.terms import ALIVE
from boxlamp.language.tokens import Token, Words, words_of
from boxlamp.model.entry import Entry
from boxlamp.model.happenings import (
    Birth,
    Death,
    Feed,
    Milestone,
    PupState,
    Reflexes,
    Round,
    Score,
    Step,
    Temperature,
    Weight,
    What,
)
from boxlamp.model.litter import Pup
from boxlamp.model.seen import PupSign
from boxlamp.model.spans import in_words

_PUP = frozenset(("pup", "puppy"))
_MORE = words_of("after all and back now breathing breathes crying moving pup puppy")
"""What may stand behind "alive" and says nothing else."""
SIGNS_OF_NEED: frozenset[PupSign] = frozenset(("limp", "not-breathing", "gasping", "blue"))
"""What starts a clock that must not wait for an answer."""
_OF_THE_LIVING = (Feed, Milestone, Reflexes, Round, Score, Temperature, Weight)
# Our choice: whoever is rubbed back to life is so within the hour; later it is another pup, or a
# line that was wrong from the first.
_COMES_BACK = timedelta(hours=1)


def alive_again(words: Words, ear: Ear) -> Words | None:
    """``pup 1 alive``, ``1 revived``, ``alive 1``: a pup that is written down as dead breathes."""
    litter, start = ear.context.litter, words.place
    called = words.peek() is not None and words.key() in _PUP
    first = words.phrase(ALIVE) is not None
    while words.peek() is not None and words.key() in _PUP:
        words.pop()
    place = words.place
    is_named = names_a_pup(words, litter, whole=called)
    pup = words.tokens[place : words.place]
    says = first or words.phrase(ALIVE) is not None
    while words.peek() is not None and words.key() in _MORE:
        words.pop()
    whole = words.peek() is None
    words.place = start
    if not says or not whole or ear.inside:
        return None
    if not is_named:
        _of_whom(ear, called=called)
        return None
    if called:
        pup = [in_digits(token, litter) for token in pup]
    number = pup_in(Words("", pup), Ear(ear.context))
    if not litter.pups[number].alive:
        return Words(words.text, [Token("breathing", "breathing", 0, 0), *pup])
    if called:
        return None  # a birth with a number that is taken: that has an answer of its own
    raise NotUnderstood(sentences.NOT_RECORDED_DEAD.format(number), f"breathing {number}")


def _of_whom(ear: Ear, *, called: bool) -> None:
    """Nobody is named: ask, where there is a pup of which it can be said."""
    dead = [pup for pup in ear.context.litter.in_order if not pup.alive]
    if not dead:
        return
    number = dead[-1].number
    if not called:
        known = ", ".join(named(pup) for pup in dead)
        raise NotUnderstood(f"{sentences.WHICH_PUP} {sentences.DEAD_ARE.format(known)}", "alive N")
    if ear.moment() - (dead[-1].died or dead[-1].born) <= _COMES_BACK:
        sentence = sentences.NEW_OR_ALIVE.format(number)
        ear.doubt("another-pup", sentence, sentences.NEW_OR_ALIVE_FIX.format(number, number))


def question_the_dead(what: What, at: datetime, ear: Ear) -> None:
    """Say or ask about a line on a pup that was dead by then.

    In a night file nobody can be told. What may be said of a dead pup (its sex, that it was
    rubbed), and what starts a clock that must not wait for an answer, is taken and answered.
    """
    if ear.amending is not None or ear.context.after is not None:
        return
    for pup in spoken_of(what, ear.context.litter):
        if pup.died is None or at < pup.died:
            continue
        if isinstance(what, Step) and what.step == "breathing":
            _comes_back(pup, at - pup.died, ear)
        elif _only_of_the_living(what):
            fix = sentences.IF_ALIVE.format(pup.number)
            said = _shown(_said_dead(pup, ear), ear)
            ear.doubt("gone", sentences.RECORDED_DEAD.format(named(pup), said), fix)
        else:
            ear.remarks.append(sentences.RECORDED_DEAD_SAID.format(named(pup), pup.number))


def _only_of_the_living(what: What) -> bool:
    if isinstance(what, PupState):
        return SIGNS_OF_NEED.isdisjoint(what.signs)
    if isinstance(what, Step):
        return what.step in {"milk", "teat"}
    return isinstance(what, _OF_THE_LIVING)


def _comes_back(pup: Pup, gone: timedelta, ear: Ear) -> None:
    """It breathes: say how its death is taken now; long after it, ask."""
    entry = _said_dead(pup, ear)
    born_dead, said = isinstance(entry.what, Birth), _shown(entry, ear)
    if gone > _COMES_BACK:
        mend = f"amend {entry.id} pup {pup.number} alive" if born_dead else f"strike {entry.id}"
        sentence = sentences.DEAD_SO_LONG.format(named(pup), said, in_words(gone))
        ear.doubt("gone", sentence, sentences.DEAD_SO_LONG_FIX.format(mend))
    taken = "limp at birth" if born_dead else "not breathing"
    ear.remarks.append(sentences.ALIVE_AGAIN.format(said, taken, pup.number))


def _said_dead(pup: Pup, ear: Ear) -> Entry:
    """The entry that says it is dead: its birth, or the last that tells a death."""
    known = ear.context.current if ear.context.current is not None else ear.context.entries
    said = [
        entry
        for entry in (known or {}).values()
        if isinstance(entry.what, Death) and entry.what.pup == pup.number
    ]
    if pup.state == "dead" or not said:
        return pup.birth
    return max(said, key=lambda entry: (entry.at, entry.id))


def _shown(entry: Entry, ear: Ear) -> str:
    """``entry 3, 02:14``."""
    return f"entry {entry.id}, {shown(entry.at, entry.certainty, ear.context)}"

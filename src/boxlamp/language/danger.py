"""A line that could not be read, but that holds a word of danger: what to type if it is meant.

Such a line is kept as a note, and a note runs no clock. Whoever typed it may believe that it was
heard. So the answer says what to type for each danger that the words may stand for.
"""

from contextlib import suppress
from typing import NamedTuple

from boxlamp.language.clock import cut_when
from boxlamp.language.context import Context, NotUnderstood
from boxlamp.language.pups import compared, mentioned, newest_living
from boxlamp.language.text import cleaned
from boxlamp.language.tokens import Words, table, words_of
from boxlamp.language.vocabulary import COMMANDS
from boxlamp.model.litter import Litter

_LOOKED_AT = 60
_MOST = 3
"""So many are told (our choice: the answer has to fit under the board)."""


class Meant(NamedTuple):
    """What may be meant: how it is asked, and the line to type."""

    asked: str
    line: str


_GREEN = Meant("If a discharge is green,", "discharge green")
_BLACK = Meant("If a discharge is black or dark green,", "discharge black")
_BLOOD = Meant("If she bleeds, more than a streak,", "discharge red heavy")
_FOUL = Meant("If a discharge smells foul,", "discharge foul")
_STUCK = Meant("If a head shows (or feet, or a tail), ring the vet now and", "part head")
_COLLAPSED = Meant("If she has collapsed or cannot stand,", "dam collapsed")
_FITS = Meant("If she has a fit,", "dam fits")
_STIFF = Meant("If she is stiff,", "dam stiff")
_STARING = Meant("If she is staring or not herself,", "dam staring")
_BLUE = Meant("If her gums or tongue are blue,", "dam blue")
_PALE = Meant("If her gums are pale or white,", "dam pale")
_UDDER = Meant("If a gland of her udder is hot, hard or painful,", "dam udder-hard")

_OF_HER: dict[str, Meant] = {
    phrase: meant
    for meant, phrases in (
        (_GREEN, "green|greenish|greeny|olive"),
        (_BLACK, "black|blackish|dark|tarry|darkish"),
        (_BLOOD, "blood|bloody|bleed|bleeds|bleeding|haemorrhage|hemorrhage"),
        (_FOUL, "foul|smell|smells|smelly|smelling|stinks|stink|stinking|stench|rotten|pus"),
        (_STUCK, "stuck|wedged|jammed|half out"),
        (_COLLAPSED, "collapse|collapsed|collapses|collapsing|unconscious|fainted"),
        (_FITS, "fit|fits|fitting|seizure|seizures|convulsing|convulsion|convulsions"),
        (_STIFF, "stiff|rigid|stiffness"),
        (_STARING, "staring|stares|unsteady|wobbly|staggering"),
        (_UDDER, "udder|mastitis"),
        (_PALE, "gums"),
    )
    for phrase in phrases.split("|")
}
_OF_A_PUP: dict[str, str] = table({
    "not-breathing": "no breath|not breathe|isn't breathing|doesn't breathe|isnt breathing"
                     "|doesnt breathe|stopped breathing|gasping|no breathing|cannot breathe",
    "limp": "floppy|lifeless|not moving|isn't moving|won't move",
    "blue": "bluish|purple",
    "dead": "died|dying|stillborn",
})  # fmt: skip
_ILL: dict[str, str] = table({
    "weak": "feeble|fading|weaker",
    "cold": "chilled|freezing|colder",
    "bloated": "bloat",
})  # fmt: skip
"""What is a danger in a pup, and may be said of much else: a push is weak, a room is cold."""
_SAID_OF_A_PUP = {
    "not-breathing": "does not breathe", "limp": "is limp", "blue": "is blue", "dead": "is dead",
    "weak": "is weak", "cold": "is cold", "bloated": "is bloated",
}  # fmt: skip
_WEAK = Meant("If she is weak or dull,", "dam dull")
_WEAKLY = Meant("If her pushes are weak,", "contraction weak")
_ONE = words_of("pup puppy pups baby one it he")
_PUSHES = words_of("push pushes pushing contraction contractions straining strain c")
_ALONE = 2
_BLUE_OF_HER = words_of("gums tongue she mum dam")
_DENYING = frozenset(("not", "no", "never", "isn't", "isnt", "hasn't", "hasnt", "without"))


def if_meant(line: str, context: Context) -> tuple[str, ...]:
    """What to type, one sentence each, for the dangers a line may speak of; the likeliest first."""
    body = cleaned(line).strip()
    with suppress(NotUnderstood):
        body = cut_when(body)[1]
    words = Words(body.replace("?", " "))
    del words.tokens[_LOOKED_AT:]
    command = words.phrase(COMMANDS)
    about_a_pup = command is not None and command[0].of_pup
    words.place = 0
    found: dict[Meant, None] = {}
    ills: dict[Meant, None] = {}
    before, of_pups = "", False
    while words.peek() is not None:
        key = words.key()
        of_pup = words.phrase(_OF_A_PUP)
        if of_pup is not None:
            called = about_a_pup and of_pup == "blue"  # milk blue: a pup that is not there
            if not (before in _DENYING or called or _a_mark(key, context.litter)):
                found[_pup(of_pup, words, context.litter)] = None
                of_pups = True
        elif (of_her := words.phrase(_OF_HER)) is not None:
            if not (before in _DENYING or about_a_pup or _a_mark(key, context.litter)):
                found[of_her] = None
        elif (ill := words.phrase(_ILL)) is not None:
            if before not in _DENYING:
                ills |= dict.fromkeys(_ill(ill, words, context.litter))
        else:
            words.pop()
        before = key
    if not of_pups:  # who is limp and cold is limp first
        found |= ills
    return tuple(f"{meant.asked} type: {meant.line}" for meant in [*found][:_MOST])


def _ill(sign: str, words: Words, litter: Litter) -> list[Meant]:
    """Who may be weak or cold, as far as the line tells: a pup that is there, or the dam."""
    keys = {token.key for token in words.tokens}
    named = mentioned(words, litter) is not None or not _ONE.isdisjoint(keys)
    alone = len(words.tokens) <= _ALONE
    found = [_pup(sign, words, litter)] if litter.pups and (named or alone) else []
    if sign == "weak" and not named and _PUSHES.isdisjoint(keys):
        pushes = [_WEAKLY] if alone and litter.phase != "after whelping" else []
        return [_WEAK, *found, *pushes]
    return found


def _a_mark(key: str, litter: Litter) -> bool:
    """Whether the word is how a pup is called, and so says nothing of a danger."""
    return any(pup.mark and key in compared(pup.mark).split() for pup in litter.in_order)


def _pup(state: str, words: Words, litter: Litter) -> Meant:
    """How to write it of a pup that is there, or of one just born."""
    if state == "blue" and not _BLUE_OF_HER.isdisjoint(token.key for token in words.tokens):
        return _BLUE
    said = _SAID_OF_A_PUP[state]
    if not litter.pups:
        born = "pup dead" if state == "dead" else "pup limp"
        return Meant(f"If a pup is born and {said},", born)
    number = mentioned(words, litter) or newest_living(litter)
    line = f"died {number}" if state == "dead" else f"state {number} {state}"
    return Meant(f"If pup {number} {said} (another: its number),", line)

"""A line that could not be read, but that holds a word of danger: what to type if it is meant.

Such a line is kept as a note, and a note runs no clock. Whoever typed it may believe that it was
heard. So the answer says what to type for each danger that the words may stand for.
"""

from collections.abc import Iterable, Iterator, Sequence
from contextlib import suppress

from boxlamp.language.behind import cut_behind
from boxlamp.language.clock import Spoken, begins_like_a_time, cut_when
from boxlamp.language.context import Context, NotUnderstood
from boxlamp.language.endangered import (
    ILL,
    LIMP_AT_BIRTH,
    OF_A_PUP,
    OUT_LIMP,
    Meant,
    is_a_mark,
    of_a_cord,
    of_a_pup,
)
from boxlamp.language.everyday import LEAKS, STUFF
from boxlamp.language.lasting import a_timed_push, lasted, since_when
from boxlamp.language.pups import mentioned, number_in
from boxlamp.language.pushes import speaks_of_pushing, weak_pushes
from boxlamp.language.terms import PARTS
from boxlamp.language.text import cleaned
from boxlamp.language.tokens import Words, table, words_of
from boxlamp.language.vocabulary import COMMANDS
from boxlamp.model.litter import Litter

_LOOKED_AT = 60
_MOST = 3
"""So many are told (our choice: the answer has to fit under the board)."""


_GREEN = Meant("If a discharge is green,", "discharge green")
_BLACK = Meant("If a discharge is black or dark green,", "discharge black")
_BLOOD = Meant("If she bleeds, more than a streak,", "discharge red heavy")
_FOUL = Meant("If a discharge smells foul,", "discharge foul")
_STUCK = Meant("If a head shows (or feet, or a tail), ring the vet now and", "part head")
_NO_PUP = Meant("If she has pushed and no pup comes,", "contraction")
_PUSHING_NOW = Meant("If she pushes,", "contraction")
_WATERS = Meant("If her waters broke,", "waters")
_RESTS = Meant("If she rests, and wakes when you touch her,", "rest")
_NOT_WOKEN = Meant("If she cannot be woken,", "dam collapsed")
_OUT = Meant("If a pup is out and moves,", "pup")
_COLLAPSED = Meant("If she has collapsed or cannot stand,", "dam collapsed")
_FITS = Meant("If she has a fit,", "dam fits")
_STIFF = Meant("If she is stiff,", "dam stiff")
_STARING = Meant("If she is staring or not herself,", "dam staring")
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
        (_STUCK, "get it out|get him out|get her out|get pup out|get the pup out|won't come out"),
        (_NO_PUP, "nothing for|nothing since|nothing happening|nothing yet|nothing after"),
        (_NO_PUP, "nothing comes|nothing coming"),
        (_COLLAPSED, "collapse|collapsed|collapses|collapsing|unconscious|fainted|fallen|fell"),
        (_FITS, "fit|fits|fitting|seizure|seizures|convulsing|convulsion|convulsions"),
        (_STIFF, "stiff|rigid|stiffness"),
        (_STARING, "staring|stares|unsteady|wobbly|staggering"),
        (_UDDER, "udder|mastitis"),
        (_PALE, "gums"),
    )
    for phrase in phrases.split("|")
}
_PARTS = {key: part for key, part in PARTS.items() if part in {"head", "feet", "tail"}}
_SHOWING = words_of("out sticking hanging poking showing dangling")
_PULLED = words_of("pulled pull pulling")
_EXCEPT = table({"except": "apart from|but not|besides|all but|not"})
_ALL = words_of("all everyone both rest others pups puppies")
_WEAK = Meant("If she is weak or dull,", "dam dull")
_WEAKLY = Meant("If her pushes are weak,", "contraction weak")
_ONE = words_of("pup puppy pups baby one it he")
_PUSHES = words_of("push pushes pushing contraction contractions straining strain c")
_OF_A_PUSH = (_NO_PUP, _PUSHING_NOW, _WEAKLY)
_BREAKING = words_of("water waters bag")
_ABOUT_THE_RECORD = words_of("amend strike limit set ack kit")
_WORN = words_of("collar string ribbon tag wool yarn")
_LYING = words_of("lies lying lays laying")
_ASLEEP = words_of("asleep sleeps sleeping")
_SHE = words_of("she she's shes dam mum mother bitch")
_BORN = words_of("pup puppy girl boy dog bitch")
_ALONE, _NEAR = 2, 4
_DENYING = frozenset(("not", "no", "never", "isn't", "isnt", "hasn't", "hasnt", "without"))


def if_meant(line: str, context: Context, nearest: str = "") -> tuple[str, ...]:
    """What to type, one sentence each, for the dangers a line may speak of; the likeliest first.

    ``nearest`` is what its refusal offers: a push there keeps a time that only it could read.
    """
    body, spoken = cleaned(line).strip(), None
    typed = "HH:MM" if begins_like_a_time(body) else ""
    with suppress(NotUnderstood):
        spoken, body = cut_when(body)
        if spoken is None:
            spoken = cut_behind(body)[0]
    words = Words(body.replace("?", " "))
    del words.tokens[_LOOKED_AT:]
    command = words.phrase(COMMANDS)
    found = _dangers(words, context.litter, about_a_pup=command is not None and command[0].of_pup)
    if command is not None and command[0].word == "pup":
        found = dict.fromkeys(_born_so(found, words, context.litter))
        spoken = spoken or _offered_time(nearest)
    untimed = "" if spoken or typed else body
    pushes = a_timed_push(nearest, context)
    meant = _with_a_push(
        [*found], words, command[0].word if command else "", context.litter, pushes
    )
    told = tuple(
        f"{one.asked} type: {_timed(one.line, _then(one, untimed, words) or typed, spoken)}"
        for one in meant
    )
    return (*told, *_none_counted(meant, line, context))


def _dangers(words: Words, litter: Litter, *, about_a_pup: bool) -> dict[Meant, None]:
    """Whatever the words may stand for, but for a push."""
    words.place = 0
    found: dict[Meant, None] = dict.fromkeys(
        (*_shows(words), *_pulled(words), *_left_out(words, litter))
    )
    shows = bool(found)
    found |= dict.fromkeys(_asleep(words, litter))
    asleep = _RESTS in found
    ills: dict[Meant, None] = {}
    denied = before = ""
    of_pups = False
    keys = {token.key for token in words.tokens}
    worn = not _WORN.isdisjoint(keys) or {"put", "mark"} <= keys
    leaks = not (LEAKS | STUFF).isdisjoint(keys)
    while words.peek() is not None:
        key = words.key()
        of_pup = words.phrase(OF_A_PUP)
        if of_pup is not None:
            # milk blue: a pup that is not there; a blue collar: none that suffocates
            called = of_pup == "blue" and (about_a_pup or (worn and not leaks))
            if not (shows or before in _DENYING or called or is_a_mark(key, litter)):
                found |= dict.fromkeys(of_a_pup(of_pup, words, litter))
                of_pups = True
        elif (of_her := words.phrase(_OF_HER)) is not None:
            of_a_mark = (before in _BORN and denied not in _DENYING) or (worn and not leaks)
            called = about_a_pup or (of_a_mark and of_her in {_GREEN, _BLACK})
            called = called or (is_a_mark(key, litter) and not leaks)
            called = called or (asleep and of_her is _COLLAPSED)  # fallen asleep
            of_cord = of_a_cord(keys, words, litter) if of_her is _BLOOD else []
            if before not in _DENYING and (of_cord or not called):
                found |= dict.fromkeys(of_cord or [of_her])
        elif (ill := words.phrase(ILL)) is not None:
            if before not in _DENYING:
                ills |= dict.fromkeys(_ill(ill, words, litter))
        else:
            words.pop()
        denied, before = before, key
    found = dict.fromkeys((*_marks(found, words, litter), *found))
    if not of_pups:  # who is limp and cold is limp first
        found |= ills
    return found


def _born_so(found: Iterable[Meant], words: Words, litter: Litter) -> Iterator[Meant]:
    """``pup born 17:20 boy not breathing``: it is one more, unless it is named by its number."""
    words.place = 0
    named = words.phrase(COMMANDS) is not None and number_in(words) in litter.pups
    for meant in found:
        urgent = meant.line.startswith("state ") and meant.line.endswith(LIMP_AT_BIRTH)
        yield OUT_LIMP if urgent and not named else meant


def _offered_time(nearest: str) -> Spoken | None:
    with suppress(NotUnderstood):
        return cut_when(nearest)[0]
    return None


def _marks(found: Iterable[Meant], words: Words, litter: Litter) -> Iterator[Meant]:
    """``pup 1 isnt red hes blue``: most likely it is its mark that is told."""
    if not any(meant.line.startswith("state") and meant.line.endswith(" blue") for meant in found):
        return
    from boxlamp.language.otherwise import another_mark

    line = another_mark(words, [token.key for token in words.tokens], litter)
    if line:
        yield Meant("If that is the mark of the pup,", line)


def _then(meant: Meant, untimed: str, words: Words) -> str:
    """The time for what is offered, as far as words inside a line without a time tell it."""
    if meant in {_OUT, OUT_LIMP, _RESTS, _NOT_WOKEN} or not untimed:
        return ""
    if meant in {*_OF_A_PUSH, _WATERS}:
        ago = since_when(untimed, words)
        return ago if meant is not _WATERS or ago == "HH:MM" else ""
    return lasted(untimed, of_a_pup=meant.line.startswith("state"))


def _with_a_push(
    found: list[Meant], words: Words, command: str, litter: Litter, offered: str
) -> Sequence[Meant]:
    """What may be meant, with the push, where the line speaks of one: it is never left out."""
    pushes = command not in _ABOUT_THE_RECORD and speaks_of_pushing(words)
    of_pups = litter.phase == "after whelping" and mentioned(words, litter)
    if not pushes or of_pups or any(meant.line.startswith("contraction") for meant in found):
        return found[:_MOST]
    broke = not _BREAKING.isdisjoint(token.key for token in words.tokens)
    push = _WEAKLY if weak_pushes(words) else _PUSHING_NOW
    if offered and not broke:
        push = Meant(push.asked, offered)
    mine = [push, *([_WATERS] if broke else [])]
    return (*found[: _MOST - len(mine)], *mine)


def _asleep(words: Words, litter: Litter) -> Iterator[Meant]:
    """``she just lies there``, in labour: she rests, or she cannot be woken."""
    keys = {token.key for token in words.tokens}
    lies = not _LYING.isdisjoint(keys) and "there" in keys
    sleeps = not _ASLEEP.isdisjoint(keys) or {"to", "sleep"} <= keys
    she = not _SHE.isdisjoint(keys) and _ONE.isdisjoint(keys) and _DENYING.isdisjoint(keys)
    if she and (lies or sleeps) and litter.phase != "after whelping":
        yield from (_RESTS, _NOT_WOKEN)


def _none_counted(found: Iterable[Meant], line: str, context: Context) -> list[str]:
    """That no pup was counted, behind a danger that offers no birth itself."""
    lines = [meant.line for meant in found]
    if not lines or any(offered.startswith("pup") for offered in lines):
        return []
    from boxlamp.language.uncounted import uncounted

    return [told] if (told := uncounted(line, context)) else []


def _timed(line: str, typed: str, spoken: Spoken | None) -> str:
    """The line with the time that was typed: a clock without it would start too late."""
    if spoken is None and not typed:
        return line
    from boxlamp.language.fair import timed

    return timed(line, typed, spoken)


def _shows(words: Words) -> Iterator[Meant]:
    """``feet sticking out not moving``: a part of a pup shows, and is no pup that is born."""
    keys = [token.key for token in words.tokens]
    for place, key in enumerate(keys):
        if key in _PARTS and not _SHOWING.isdisjoint(keys[place + 1 : place + _NEAR]):
            said = {"feet": "feet show"}.get(_PARTS[key], f"a {_PARTS[key]} shows")
            yield Meant(f"If {said}, ring the vet now and", f"part {_PARTS[key]}")


def _pulled(words: Words) -> Iterator[Meant]:
    """``pulled pup out``: it is born, or a part of it still shows."""
    keys = {token.key for token in words.tokens}
    if not _PULLED.isdisjoint(keys) and "out" in keys:
        yield from (_OUT, OUT_LIMP, _STUCK)


def _left_out(words: Words, litter: Litter) -> Iterator[Meant]:
    """``all breathing except 4``: what may be wrong with the one that is taken out."""
    words.place = 0
    every = False
    while words.peek() is not None:
        taken_out = words.phrase(_EXCEPT) is not None
        if taken_out and every:
            rest = Words(words.text, words.tokens[words.place :])
            for sign in ("not-breathing", "limp", "weak") if mentioned(rest, litter) else ():
                yield from of_a_pup(sign, rest, litter)
            break
        if not taken_out:
            every = words.pop().key in _ALL or every
    words.place = 0


def _ill(sign: str, words: Words, litter: Litter) -> list[Meant]:
    """Who may be weak or cold, as far as the line tells: a pup that is there, or the dam."""
    keys = {token.key for token in words.tokens}
    named = bool(mentioned(words, litter)) or not _ONE.isdisjoint(keys)
    alone = len(words.tokens) <= _ALONE
    found = of_a_pup(sign, words, litter) if litter.pups and (named or alone) else []
    if sign == "weak" and not named and _PUSHES.isdisjoint(keys):
        pushes = [_WEAKLY] if alone and litter.phase != "after whelping" else []
        return [_WEAK, *found, *pushes]
    return found

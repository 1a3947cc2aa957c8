"""One more pup, said without its number: ``another girl``, ``first pup born``, ``another one``.

What surely says that one more is out gets its number. ``another one`` may be a push or an
afterbirth, so it is asked; and of several at once each needs a line, for each has its own time.
"""

import re

from boxlamp.language import sentences
from boxlamp.language.context import NotUnderstood
from boxlamp.language.dead import SIGNS_OF_NEED
from boxlamp.language.ear import Ear
from boxlamp.language.pups import NUMBER, NUMBERS
from boxlamp.language.terms import BIRTH_STATES, MARK_WORDS, PUP_SIGNS, SEXES, VERY
from boxlamp.language.tokens import NOISE, Words, words_of
from boxlamp.model.seen import PupSign

_FIRSTS = {"first": 1, "second": 2, "third": 3, "fourth": 4, "fifth": 5, "sixth": 6,
           "seventh": 7, "eighth": 8, "ninth": 9, "tenth": 10, "1st": 1, "2nd": 2, "3rd": 3,
           "4th": 4, "5th": 5, "6th": 6, "7th": 7, "8th": 8, "9th": 9}  # fmt: skip
_NEXT = frozenset(("another", "next", "new", "newborn"))
_PUP = frozenset(("pup", "puppy"))
_PUPS = frozenset(("pups", "puppies"))
_SEXES_OF_SEVERAL = words_of("boys girls dogs bitches males females")
_OUT = words_of("out here born arrived come came popped")
_BESIDE = words_of("is are has have now already just more and both")
_LEADS = (("another", "one"), ("another",), ("one", "more"), ("next", "one"))
_ALONE = _LEADS[:2]
"""What says it without a word for being out."""
_GOT = words_of("got have had has we i she we've i've she's")
_SEXES = frozenset(word for word in SEXES if len(word) > 1)
_TOO = words_of("too as well")
_NUMBER = words_of("no number nr")
_DESCRIBES = _OUT | _BESIDE | _TOO | MARK_WORDS | SEXES.keys()
_WEIGHT = re.compile(r"\d{2,4}(?:g|gr|grams)?\Z", re.ASCII)
_MOST = 20
_LOST = words_of("dead died stillborn lost")
_DEAD = (["dead"],)
_STILLBORN = (["stillborn"], ["stillborn", "pup"], ["stillborn", "puppy"])


def one_more(words: Words, ear: Ear) -> str | None:
    """A line about one more pup in the words of the log; several in one line are refused."""
    start = words.place
    _refuse_several(words, ear)
    key = words.key()
    of_more = key == "one" and words.key(1) == "more"
    new = of_more or key in _NEXT
    following = words.key(1 + of_more)
    if following in _PUP and (new or key in _FIRSTS):
        words.place += 2 + of_more
    elif new and following in SEXES:
        words.place += 1 + of_more
    else:
        words.place = start
        return _by_its_number(words) or _got_one(words, ear) or _another_what(words, ear)
    # Its number says that it is none of those that are out.
    anew = "" if ear.inside else f"#{ear.context.next_pup}"
    return f"pup {anew if new else _FIRSTS[key]} {_rest(words)}"


def _rest(words: Words) -> str:
    return words.text[words.tokens[words.place].start :] if words.peek() is not None else ""


def _describes(keys: list[str]) -> bool:
    """Whether these words say only that it is out, and what it is like."""
    return all(key in _DESCRIBES or _WEIGHT.match(key) for key in keys)


def _by_its_number(words: Words) -> str | None:
    """``number 3 is here``, ``no 3 born girl``: ``no`` before a number denies nothing."""
    start = words.place
    keys = [token.key for token in words.tokens[start:]]
    digits = keys[1] if len(keys) > 1 else ""
    numbered = keys[0] in _NUMBER and digits.isascii() and digits.isdigit()
    told = not _OUT.isdisjoint(keys) or not _SEXES.isdisjoint(keys)
    if not (numbered and told and _describes(keys[2:])):
        return None
    words.place = start + 2
    return f"pup #{digits} {_rest(words)}"


def _got_one(words: Words, ear: Ear) -> str | None:
    """``got a girl``, ``we have a boy 300g``; ``too`` says that it is one more."""
    start = words.place
    keys = [token.key for token in words.tokens[start:]]
    led = next((place for place, key in enumerate(keys) if key not in _GOT | {"a", "an"}), 0)
    led_by = _GOT & set(keys[:led]) - {"we", "i", "she"}
    if not led_by or keys[led] not in _SEXES | _PUP or not _describes(keys[led + 1 :]):
        return None
    rest = [token.raw for token in words.tokens[start + led :] if token.key not in _TOO]
    anew = f"pup #{ear.context.next_pup} " if not (ear.inside or _TOO.isdisjoint(keys)) else ""
    return f"{anew}{' '.join(rest)}"


def _another_what(words: Words, ear: Ear) -> str | None:  # noqa: PLR0911 - one for each way
    """``another one``, ``next one out``: most likely a pup, and asked unless it says born.

    In a night file nobody can be asked.
    """
    keys = [token.key for token in words.tokens[words.place :]]
    nobody_asked = ear.inside or ear.context.after is not None
    if nobody_asked or any(token.quoted for token in words.tokens):
        return None
    led: tuple[str, ...] | None = next(
        (lead for lead in _LEADS if keys[: len(lead)] == [*lead]), None
    )
    number = ear.context.next_pup
    if keys[:1] and keys[0] in _FIRSTS and led is None:
        led, number = (keys[0], "one")[: 1 + (keys[1:2] == ["one"])], _FIRSTS[keys[0]]
    if led is None:
        return None
    rest = keys[len(led) :]
    if led in _LEADS:
        _refuse_one_in_need(rest)
    if led in _LEADS and rest in _STILLBORN:
        words.place = len(words.tokens)
        return f"pup #{number} dead"
    comes = not _OUT.isdisjoint(keys)
    if led not in _ALONE and not comes:
        return None
    if not _SEXES.isdisjoint(rest) and _describes(rest):
        words.place += len(led)
        return f"pup #{number} {_rest(words)}"
    if not set(rest) <= _OUT | _BESIDE:
        return None
    pup = f"pup {number}"
    if "born" not in keys:
        fix = map(ear.timed, (pup, "contraction", "afterbirth"))
        ear.doubt("another-pup", sentences.ANOTHER_WHAT, sentences.ANOTHER_WHAT_FIX.format(*fix))
    return pup.replace(" ", " #")


def _refuse_one_in_need(rest: list[str]) -> None:
    """``another one limp``: one more was born so, or it is one more of those that are out."""
    said = [key for key in rest if key not in _PUP | NOISE | VERY]
    if said in _DEAD:
        raise NotUnderstood(sentences.ONE_MORE_SO, f"pup {said[0]}\ndied {NUMBER}")
    words = Words(" ".join(said))
    sign = words.phrase(PUP_SIGNS)
    if sign in SIGNS_OF_NEED and words.peek() is None:
        birth = "pup limp" if " ".join(said) in BIRTH_STATES else "pup"
        lines = f"{birth}\nstate {NUMBER} {sign}"
        raise NotUnderstood(f"{sentences.NO_CLOCK} {sentences.ONE_MORE_SO}", lines)


def _refuse_several(words: Words, ear: Ear) -> None:
    """``twins``, ``2 pups``, ``two more pups born``: each has a time and a line of its own."""
    keys = [token.key for token in words.tokens[words.place :]]
    twins = keys[:1] == ["twins"]
    first = keys[0] if keys else ""
    digits = first if first.isascii() and first.isdigit() and len(first) < 3 else ""  # noqa: PLR2004 - 1 to 99
    several = 1 < (NUMBERS.get(first) or int(digits or 0)) <= _MOST
    sexes = _SEXES_OF_SEVERAL if set(keys[1:2]) <= _SEXES_OF_SEVERAL | {"more"} else set[str]()
    named = set(keys[1:]) & (_PUPS | sexes)
    beside = _PUPS | sexes | _OUT | _BESIDE
    if (twins or (several and named)) and set(keys[1:]) <= beside:
        raise NotUnderstood(
            sentences.EACH_BIRTH, "pup" if ear.spoken or ear.behind else "HH:MM pup"
        )
    if several and not _PUPS.isdisjoint(keys[1:3]):
        _refuse_how_several_are(Words(" ".join(keys[1:])), ear)


def _refuse_how_several_are(words: Words, ear: Ear) -> None:
    """``2 pups limp``, ``2 dead pups``: so many, and no pup has that number by it."""
    signs: list[PupSign] = []
    dead = False
    while words.peek() is not None:
        if (sign := words.phrase(PUP_SIGNS)) is not None:
            signs.append(sign)
            continue
        key = words.pop().key
        dead = dead or key in _LOST
        if key not in _PUPS | _LOST | _OUT | _BESIDE | VERY:
            return
    lines = [f"died {NUMBER}"] if dead else []
    lines += [f"state {NUMBER} {' '.join(dict.fromkeys(signs))}"] if signs else []
    if lines:
        born = sentences.OR_BORN_DEAD.format(ear.timed("pup dead"))
        why = sentences.WHICH_PUPS
        why = f"{why} {born}" if dead else f"{sentences.NO_CLOCK} {why}"
        raise NotUnderstood(why, "\n".join(lines))

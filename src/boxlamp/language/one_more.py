"""One more pup, said without its number: ``another girl``, ``first pup born``, ``another one``.

What surely says that one more is out gets its number. ``another one`` may be a push or an
afterbirth, so it is asked; and of several at once each needs a line, for each has its own time.
"""

from boxlamp.language import sentences
from boxlamp.language.context import NotUnderstood
from boxlamp.language.ear import Ear
from boxlamp.language.pups import NUMBERS
from boxlamp.language.terms import SEXES
from boxlamp.language.tokens import Words, words_of

_FIRSTS = {"first": 1, "second": 2, "third": 3, "fourth": 4, "fifth": 5, "sixth": 6,
           "seventh": 7, "eighth": 8, "ninth": 9, "tenth": 10, "1st": 1, "2nd": 2, "3rd": 3,
           "4th": 4, "5th": 5, "6th": 6, "7th": 7, "8th": 8, "9th": 9}  # fmt: skip
_NEXT = frozenset(("another", "next", "new"))
_PUP = frozenset(("pup", "puppy"))
_PUPS = frozenset(("pups", "puppies"))
_OUT = words_of("out here born arrived come came popped")
_BESIDE = words_of("is are has have now already just more and both")
_LEADS = (("another", "one"), ("another",), ("one", "more"), ("next", "one"))
_ALONE = _LEADS[:2]
"""What says it without a word for being out."""
_MOST = 20


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
        return _another_what(words, ear)
    # Its number says that it is none of those that are out.
    anew = "" if ear.inside else f"#{ear.context.next_pup}"
    return f"pup {anew if new else _FIRSTS[key]} {_rest(words)}"


def _rest(words: Words) -> str:
    return words.text[words.tokens[words.place].start :] if words.peek() is not None else ""


def _another_what(words: Words, ear: Ear) -> str | None:
    """``another one``, ``next one out``: most likely a pup, and asked unless it says born.

    In a night file nobody can be asked.
    """
    keys = [token.key for token in words.tokens[words.place :]]
    nobody_asked = ear.inside or ear.context.after is not None
    if nobody_asked or any(token.quoted for token in words.tokens):
        return None
    led = next((lead for lead in _LEADS if keys[: len(lead)] == [*lead]), None)
    if led is None or not set(keys[len(led) :]) <= _OUT | _BESIDE:
        return None
    comes = not _OUT.isdisjoint(keys)
    if led not in _ALONE and not comes:
        return None
    pup = f"pup {ear.context.next_pup}"
    if "born" not in keys:
        fix = (_at(line, ear) for line in (pup, "contraction", "afterbirth"))
        ear.doubt("another-pup", sentences.ANOTHER_WHAT, sentences.ANOTHER_WHAT_FIX.format(*fix))
    return pup.replace(" ", " #")


def _at(line: str, ear: Ear) -> str:
    spoken = ear.spoken or ear.inner
    return f"{spoken.typed} {line}" if spoken is not None else line


def _refuse_several(words: Words, ear: Ear) -> None:
    """``twins``, ``2 pups``, ``two more pups born``: each has a time and a line of its own."""
    keys = [token.key for token in words.tokens[words.place :]]
    twins = keys[:1] == ["twins"]
    first = keys[0] if keys else ""
    digits = first if first.isascii() and first.isdigit() and len(first) < 3 else ""  # noqa: PLR2004 - 1 to 99
    several = 1 < (NUMBERS.get(first) or int(digits or 0)) <= _MOST
    named = set(keys[1:]) & _PUPS
    if (twins or (several and named)) and set(keys[1:]) <= _PUPS | _OUT | _BESIDE:
        raise NotUnderstood(
            sentences.EACH_BIRTH, "pup" if ear.spoken or ear.behind else "HH:MM pup"
        )

"""What to try instead of a line that could not be read: something close, or nothing at all.

A hint is typed in a hurry. So nothing that counts a pup, ends a night or silences an alert is
ever offered to a line that did not say so.
"""

import re

from boxlamp.language import sentences
from boxlamp.language.clock import SOME_WHILE
from boxlamp.language.context import NotUnderstood
from boxlamp.language.corrections import take_back
from boxlamp.language.ear import Ear
from boxlamp.language.pups import compared, mentioned, names, names_a_pup, newest
from boxlamp.language.terms import AMOUNTS, COLOURS, DAM_SIGNS, FOUL, MARK_COLOURS, PUP_SIGNS
from boxlamp.language.text import shortened
from boxlamp.language.tokens import Words, words_of
from boxlamp.language.vocabulary import COMMANDS
from boxlamp.language.word import Word
from boxlamp.model.litter import Litter
from boxlamp.model.seen import Colour

NEVER_OFFERED = frozenset(("pup", "died", "ack", "caesarean", "finished", "state"))
_CLOSE = 0.8
_SHORTEST = 3
_LOOKED_AT = 8
_KEPT = 80
_LONG_ENOUGH = 5
_KNOWN = frozenset((*COLOURS, *MARK_COLOURS, *DAM_SIGNS, *PUP_SIGNS))
"""Words that are no slip for another: they say a colour, or how somebody is."""
_WORD_AND_PUP = 2

_TAKE_BACK = "strike"

# The first row with a word of the line gives the hint.
_BY_WORD = (
    (words_of("delete remove erase typo mistyped"), _TAKE_BACK),
    (words_of("cord navel"), "cord {pup} bleeding"),
    (words_of("breath breathe breathing breathes gasping"), "state {pup} not-breathing"),
    (words_of("placenta placentas afterbirth afterbirths"), "afterbirth"),
    (words_of("push pushing pushed contraction contractions strain straining"), "contraction"),
    (words_of("bleed bleeding bleeds blood bloody"), "discharge red heavy"),
    (words_of("head"), "part head"),
    (words_of("foot feet paw paws leg legs"), "part feet"),
    (words_of("tail"), "part tail"),
    (words_of("stuck wedged"), "part head"),
    (words_of("water waters fluid"), "waters {colour}"),
    (words_of("bubble balloon"), "sac"),
    (words_of("shaking trembling tremble shakes"), "dam trembling"),
    (words_of("fit fits seizure convulsion convulsing"), "dam fits"),
    (words_of("collapse collapsed"), "dam collapsed"),
    (words_of("smell smells smelly stinks"), "discharge foul"),
)
_DISCHARGE = words_of("discharge lochia colour")
_DENIED = words_of("not no never isn't isnt hasn't hasnt stopped without")
_BREATH = words_of("breath breathe breathing breathes")
_PUSHES = words_of("push pushing pushes contraction contractions straining strain")


_NEVER_INSTEAD = frozenset(("ack", "caesarean", "finished"))
"""Words whose bare form is no example: typed by mistake it would end or silence something."""

_ONLY_AS_A_NOTE = frozenset(
    ("dam", "state", "died", "feed", "milk", "to-teat", "chip", "cord-off", "eyes-open",
     "ears-open", "walking", "toilet", "weaned", "wormed", "vaccinated")
)  # fmt: skip
"""Words whose example would be a lie if it were copied: how she is, who drank, whose chip."""


def instead(word: Word, words: Words, ear: Ear, *, telling: bool) -> str:
    """What to try when a known word was not followed by what it needs."""
    if word.word in _NEVER_INSTEAD:
        return ""
    if word.word == "discharge":
        return _discharge(words)
    keys = [one.key[:40] for one in words.tokens[:_LOOKED_AT]]
    nearest = _by_word(keys, ear.context.litter, ear) if telling and word.word != "pup" else ""
    if not nearest and word.word in _ONLY_AS_A_NOTE and len(words.tokens) > _WORD_AND_PUP:
        return _as_a_note(words)
    litter = ear.context.litter
    named = mentioned(words, litter) if word.of_pup else None
    return nearest or real(word.examples[0], litter, of_pup=word.of_pup, pup=named)


def _discharge(words: Words) -> str:
    """The line with what could not be read put behind a ``;``, its own colour kept.

    Without a colour the line is offered as a note: an example would be of some other colour.
    """
    words.place = 0
    colour: Colour | None = None
    known: list[str] = []
    unread: list[str] = []
    while (token := words.peek()) is not None and token.key not in _DENIED:
        found = words.phrase(COLOURS)
        other = None if found else words.phrase(FOUL) or words.phrase(AMOUNTS)
        if other and other != "none":
            known.append(other)
        elif not found and not other and words.pop().key not in _DISCHARGE:
            found = _misspelt_colour(token.key)
            unread += [] if found else [token.raw]
        colour = colour or found
    if colour is None:
        return _as_a_note(words)
    said = " ".join(dict.fromkeys(("discharge", colour, *known)))
    unread += filter(None, [words.free()])
    return shortened("; ".join(filter(None, (said, " ".join(unread)))), _KEPT)


def _misspelt_colour(key: str) -> Colour | None:
    from difflib import get_close_matches

    close = get_close_matches(key[:40], COLOURS, 1, _CLOSE)
    return COLOURS[close[0]] if close else None


def _as_a_note(words: Words) -> str:
    """The line as it stands, as free words: that much is surely meant."""
    return shortened(f"note {words.text.strip()}", _KEPT)


def unknown(words: Words, ear: Ear) -> NotUnderstood:
    """Why a line has no known word, with a near line if there surely is one."""
    token = words.peek()
    if token is None:
        return NotUnderstood(sentences.NOTHING, "contraction strong")
    _refuse_a_while(words, ear)
    keys = [one.key[:40] for one in words.tokens[words.place : words.place + _LOOKED_AT]]
    why = sentences.UNKNOWN_WORD.format(shortened(token.raw, 40))
    if not _DENIED.isdisjoint(keys) and _BREATH.isdisjoint(keys):
        pushing = not _PUSHES.isdisjoint(keys) and keys[0] in _DENIED
        return NotUnderstood(sentences.NOT_THE_EVENT, "rest" if pushing else "")
    litter = ear.context.litter
    if (
        keys[0] in MARK_COLOURS
        and any(key in PUP_SIGNS for key in keys[1:])
        and not any(pup.mark and keys[0] in compared(pup.mark).split() for pup in litter.in_order)
    ):
        known = sentences.NO_SUCH_PUP.format(token.raw, names(litter)) if litter.pups else ""
        return NotUnderstood(f"{sentences.NO_CLOCK} {known or sentences.NO_PUPS}")
    nearest = _by_word(keys, ear.context.litter, ear)
    if not nearest and names_a_pup(words, ear.context.litter, whole=False):
        alone = len(words.tokens) == 1
        nearest = f"weigh {token.raw} 340g" if alone else _as_a_note(words)
    nearest = nearest or _close(keys[0], ear)
    return NotUnderstood(why, shortened(nearest, _KEPT))


def _refuse_a_while(words: Words, ear: Ear) -> None:
    """``5m push``: five minutes ago, or for five minutes? The one that is a time is offered."""
    text = words.text[words.tokens[words.place].start :]
    found = re.match(rf"(?P<span>{SOME_WHILE})(?=[\s,]|\Z)", text, re.IGNORECASE | re.ASCII)
    if found is None:
        return
    rest = text[found.end() :].strip(" ,.")
    in_a_file = ear.context.after is not None
    nearest = f"{found['span'].strip()} ago {rest}" if rest and not in_a_file else ""
    raise NotUnderstood(sentences.A_WHILE.format(found["span"].strip()), shortened(nearest, _KEPT))


def _by_word(keys: list[str], litter: Litter, ear: Ear) -> str:
    for known, hint in _BY_WORD:
        if known.isdisjoint(keys) or ("{pup}" in hint and not litter.pups):
            continue
        if hint == _TAKE_BACK:
            return take_back(ear, "").nearest
        colour = next((COLOURS[key] for key in keys if key in COLOURS), "clear")
        return hint.format(pup=newest(litter), colour=colour)
    return ""


def _close(key: str, ear: Ear) -> str:
    from difflib import get_close_matches

    if len(key) < _SHORTEST or key in _KNOWN:
        return ""
    close = get_close_matches(key, COMMANDS, 1, _CLOSE)
    if not close or COMMANDS[close[0]][0].word in NEVER_OFFERED:
        return ""
    if len(key) < _LONG_ENOUGH and close[0][0] != key[0]:
        return ""  # of a short word with another beginning too little is the same
    word = COMMANDS[close[0]][0]
    return (
        real(word.examples[0], ear.context.litter, of_pup=word.of_pup)
        if word.word != "strike"
        else ""
    )


def real(example: str, litter: Litter, *, of_pup: bool, pup: int | None = None) -> str:
    """An example with the number of this pup, or of one that is there, for its 3 or its red."""
    words = example.split(" ")
    if not of_pup:
        return example
    if not litter.pups:
        return "" if "3" in words or "red" in words else example
    put = str(pup or newest(litter))
    first = next((place for place, word in enumerate(words) if place and word in {"3", "red"}), 0)
    if first:
        words[first] = put
    return " ".join(words)

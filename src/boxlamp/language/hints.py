"""What to try instead of a line that could not be read: something close, or nothing at all.

A hint is typed in a hurry. So nothing that counts a pup, ends a night or silences an alert is
ever offered to a line that did not say so; what a hint may claim at all, :mod:`fair` says.
"""

import re
from collections.abc import Callable, Mapping

from boxlamp.language import sentences
from boxlamp.language.behind import like_a_time
from boxlamp.language.clock import SOME_WHILE
from boxlamp.language.context import NotUnderstood
from boxlamp.language.corrections import take_back
from boxlamp.language.ear import Ear
from boxlamp.language.hear_pups import FINDINGS
from boxlamp.language.pups import NUMBER, a_line_each, compared, mentioned, names, names_a_pup
from boxlamp.language.pushes import denies_pushing
from boxlamp.language.terms import (
    AMOUNTS,
    COLOURS,
    DAM_SIGNS,
    FOUL,
    MARK_COLOURS,
    PUP_SIGNS,
    SIGNS,
    is_plain_mark,
)
from boxlamp.language.text import shortened
from boxlamp.language.tokens import Token, Words, words_of
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

_CORD, _BREATHES, _WATERS = "cord {pup}", "state {pup}", "waters"
_TAKES_BACK = words_of("delete remove erase typo mistyped")

# The first row with a word of the line gives the hint.
_BY_WORD = (
    (words_of("cord navel"), _CORD),
    (words_of("breath breathe breathing breathes gasping"), _BREATHES),
    (words_of("placenta placentas afterbirth afterbirths"), "afterbirth"),
    (words_of("push pushing pushed contraction contractions strain straining"), "contraction"),
    (words_of("bleed bleeding bleeds blood bloody"), "discharge red"),
    (words_of("head"), "part head"),
    (words_of("foot feet paw paws leg legs"), "part feet"),
    (words_of("tail"), "part tail"),
    (words_of("stuck wedged"), "part something"),
    (words_of("water waters fluid"), _WATERS),
    (words_of("bubble balloon"), "sac"),
    (words_of("shaking trembling tremble shakes"), "dam trembling"),
    (words_of("fit fits seizure convulsion convulsing"), "dam fits"),
    (words_of("collapse collapsed"), "dam collapsed"),
    (words_of("smell smells smelly stinks"), "discharge foul"),
)
_DISCHARGE = words_of("discharge lochia colour")
_DENIED = words_of(
    "not no never isn't isnt hasn't hasnt doesn't doesnt can't cant cannot won't stopped without"
)
_VET = words_of("vet vets vet's")
_ANSWERS = words_of("answer answers answering answered")
_LEAVING = words_of("leaving left")
_HOME = words_of("home house")
_FEW = 3
_PAIR = 2
_TAKEN_OUT = words_of("except apart but besides")
_WARM = words_of("warm warmer warming")
_MOVES = words_of("moving moves moved wriggling wriggles kicking kicks")
_BETTER = words_of("perked perking perkier better brighter improving improved recovering")
_LIVES = words_of("alive lives living breathing breathes")
_SEVERAL = words_of("both two three four five pups puppies")
_SURELY = frozenset(PUP_SIGNS.values()) - {"well", "weak", "pale", "blue"}
"""Signs that are not said of much else, and do not end everything."""
_BREATH = words_of("breath breathe breathing breathes")


_NEVER_INSTEAD = frozenset(("ack", "caesarean", "finished", "mark", "vet"))
"""Words whose bare form is no example: typed by mistake it would end or silence something,
or be a mark of dots."""

_ONLY_AS_A_NOTE = frozenset(
    ("dam", "state", "died", "feed", "milk", "to-teat", "chip", "cord-off", "eyes-open",
     "ears-open", "walking", "toilet", "weaned", "wormed", "vaccinated")
)  # fmt: skip
"""Words whose example would be a lie if it were copied: how she is, who drank, whose chip."""


def instead(word: Word, words: Words, ear: Ear, *, telling: bool) -> str:
    """What to try when a known word was not followed by what it needs."""
    if word.word in _NEVER_INSTEAD:
        return ""
    own = _OF_THEIR_OWN.get(word.word)
    if own is not None:
        return own(words)
    keys = [one.key[:40] for one in words.tokens[:_LOOKED_AT]]
    if word.word == "contraction" and denies_pushing(keys):
        return "rest"
    nearest = _by_word(keys, words, ear) if telling and word.word != "pup" else ""
    if word.word != "part" and not _DENIED.isdisjoint(keys):
        return _as_a_note(words)
    if not nearest and word.word in _ONLY_AS_A_NOTE and len(words.tokens) > _WORD_AND_PUP:
        return _as_a_note(words)
    return nearest or real(word.examples[0], words, ear.context.litter, of_pup=word.of_pup)


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


def _round(_words: Words) -> str:
    return sentences.ROUND_FIX


def _sign(words: Words) -> str:
    """The signs that were understood; the rest of the line is not one."""
    return f"sign {' '.join(_of_the_table(words, SIGNS)) or '...'}"


_OF_THEIR_OWN: dict[str, Callable[[Words], str]] = {
    "discharge": _discharge, "round": _round, "sign": _sign,
}  # fmt: skip


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
        return NotUnderstood(sentences.NOTHING)
    _refuse_a_while(words, ear)
    keys = [one.key[:40] for one in words.tokens[words.place : words.place + _LOOKED_AT]]
    why = sentences.UNKNOWN_WORD.format(shortened(token.raw, 40))
    special = _denied(words, keys) or _who_left(words, keys, why, ear)
    if special is None and not _TAKES_BACK.isdisjoint(keys):
        special = take_back(ear, why)
    special = special or _no_such_mark(token, keys, ear.context.litter)
    return special or NotUnderstood(why, shortened(_nearest(words, keys, ear), _KEPT))


def _denied(words: Words, keys: list[str]) -> NotUnderstood | None:
    """What did not happen; that nobody answers at the vet's is told of a call."""
    if _DENIED.isdisjoint(keys) or not _BREATH.isdisjoint(keys):
        return None
    if not (_VET.isdisjoint(keys) or _ANSWERS.isdisjoint(keys)):
        said = words.text[words.tokens[words.place].start :].strip()
        return NotUnderstood(sentences.NOT_THE_EVENT, f"vet called; {said}")
    return NotUnderstood(sentences.NOT_THE_EVENT, "rest" if denies_pushing(keys) else "")


def _no_such_mark(token: Token, keys: list[str], litter: Litter) -> NotUnderstood | None:
    """``red is cold`` where no pup is red, ``red collar`` alone, or nobody said who is well."""
    if litter.pups and len(keys) > 1 and is_plain_mark(keys):
        return NotUnderstood(
            f"{sentences.NO_CLOCK} {sentences.WHICH_PUP}", f"mark {NUMBER} {' '.join(keys)}"
        )
    if keys == ["well"] and litter.pups:
        return NotUnderstood(f"{sentences.NO_CLOCK} {sentences.WHICH_PUP}", f"state {NUMBER} well")
    if (
        keys[0] in MARK_COLOURS
        and any(key in PUP_SIGNS for key in keys[1:])
        and not any(pup.mark and keys[0] in compared(pup.mark).split() for pup in litter.in_order)
    ):
        known = sentences.NO_SUCH_PUP.format(token.raw, names(litter)) if litter.pups else ""
        return NotUnderstood(f"{sentences.NO_CLOCK} {known or sentences.NO_PUPS}")
    return None


def _nearest(words: Words, keys: list[str], ear: Ear) -> str:
    litter = ear.context.litter
    if litter.pups:
        _refuse_no_sign(words, litter)
    nearest = _without_at(words, keys) or _by_word(keys, words, ear) or _signs(words, litter)
    raw = words.tokens[words.place].raw
    if not nearest and names_a_pup(words, litter, whole=False):
        nearest = f"weigh {raw} ...g" if len(words.tokens) == 1 else _as_a_note(words)
    return nearest or _close(keys[0], words, ear)


def _who_left(words: Words, keys: list[str], why: str, ear: Ear) -> NotUnderstood | None:
    """``leaving now`` is the way to the vet, most likely; ``left the vet`` may be the way back."""
    if (
        keys[0] not in _LEAVING
        or not _HOME.isdisjoint(keys)
        or mentioned(words, ear.context.litter)
    ):
        return None
    if _VET.isdisjoint(keys):
        return NotUnderstood(why, "left for vet" if len(keys) <= _FEW else "")
    return NotUnderstood(sentences.WHO_LEFT, f"left for vet\n{_as_a_note(words)}")


def _without_at(words: Words, keys: list[str]) -> str:
    """``at 2:10 pup green``: the line as it is read, with the time alone in front."""
    if keys[0] != "at" or not keys[1:] or not like_a_time(*keys[:2]):
        return ""
    return words.text[words.tokens[words.place + 1].start :]


def _refuse_no_sign(words: Words, litter: Litter) -> None:
    """``2 warm``, ``3 is moving``: no sign of the log, so say which line tells what is meant."""
    keys = {token.key for token in words.tokens}
    pups = mentioned(words, litter)
    if not (_DENIED | _TAKEN_OUT).isdisjoint(keys):
        return
    if len(pups) != 1:
        _refuse_no_sign_of_several(words, keys, pups, litter)
        return
    [pup] = pups
    if not litter.pups[pup].alive and not keys.isdisjoint(_WARM | _MOVES | _LIVES | _BETTER):
        raise NotUnderstood(f"{sentences.NO_CLOCK} {sentences.IF_ALIVE_ALONE}", f"alive {pup}")
    if not keys.isdisjoint(_WARM):
        why = sentences.WARM_IS_NO_SIGN.format(pup)
        raise NotUnderstood(f"{sentences.NO_CLOCK} {why}", f"temp pup {pup} ...")
    if not keys.isdisjoint(_MOVES):
        raise NotUnderstood(f"{sentences.NO_CLOCK} {sentences.MOVING_IS_NO_SIGN.format(pup, pup)}")
    if not keys.isdisjoint(_BETTER) and keys.isdisjoint(_BREATH):
        raise NotUnderstood(f"{sentences.NO_CLOCK} {sentences.BETTER_IS_NO_SIGN.format(pup, pup)}")


def _refuse_no_sign_of_several(
    words: Words, keys: set[str], pups: list[int], litter: Litter
) -> None:
    """``both warm``, ``all breathing and warm``; ``perked up`` where nobody is named."""
    all_of_them = next((key for key in ("all", "both") if key in keys), "")
    if not keys.isdisjoint(_WARM) and (pups or all_of_them):
        two_here = sum(pup.here for pup in litter.in_order) == _PAIR
        if not pups and all_of_them == "both" and not two_here:
            all_of_them = f"state {NUMBER}"
        named = " and ".join(map(str, pups)) or all_of_them
        why = sentences.WARM_ARE_NO_SIGN.format(named)
        breathes = "" if keys.isdisjoint(_BREATH) or NUMBER in named else f"{named} breathing"
        temps = a_line_each("temp pup {pup} ...", words, litter)
        raise NotUnderstood(f"{sentences.NO_CLOCK} {why}", breathes or temps)
    if not pups and not keys.isdisjoint(_BETTER) and len(words.tokens) <= _FEW:
        raise NotUnderstood(f"{sentences.NO_CLOCK} {sentences.WHO_IS_BETTER}")


def _signs(words: Words, litter: Litter) -> str:
    """The signs of a line that names a pup, or speaks of several: ``state N`` and the signs."""
    keys = {token.key for token in words.tokens}
    if not litter.pups or (not mentioned(words, litter) and keys.isdisjoint(_SEVERAL)):
        return ""
    found = [sign for sign in _of_the_table(words, PUP_SIGNS) if sign in _SURELY]
    return a_line_each(f"state {{pup}} {' '.join(found)}", words, litter) if found else ""


def _of_the_table(words: Words, lookup: Mapping[str, str]) -> list[str]:
    """All that a line says of one sort, each once."""
    read = Words(words.text, words.tokens)
    found: dict[str, None] = {}
    while read.peek() is not None:
        one = read.phrase(lookup)
        if one is None:
            read.pop()
        else:
            found[one] = None
    return [*found]


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


def _by_word(keys: list[str], words: Words, ear: Ear) -> str:
    litter = ear.context.litter
    for known, hint in _BY_WORD:
        if known.isdisjoint(keys) or ("{pup}" in hint and not litter.pups):
            continue
        told = _filled(hint, keys)
        return a_line_each(told, words, litter) if "{pup}" in told else told
    return ""


def _filled(hint: str, keys: list[str]) -> str:
    """A hint with what the line says of it."""
    if hint == _WATERS:
        return f"waters {next((COLOURS[key] for key in keys if key in COLOURS), '')}".strip()
    if hint == _CORD:
        findings = FINDINGS["cord"]
        return f"{hint} {next((findings[key] for key in keys if key in findings), '')}".strip()
    return _breathes(keys) if hint == _BREATHES else hint


def _breathes(keys: list[str]) -> str:
    """Whether it breathes, does not, or gasps; nothing where one is taken out of the others."""
    if not _TAKEN_OUT.isdisjoint(keys):
        return ""
    if "gasping" in keys:
        return "state {pup} gasping"
    return "breathing {pup}" if _DENIED.isdisjoint(keys) else "state {pup} not-breathing"


def _close(key: str, words: Words, ear: Ear) -> str:
    from difflib import get_close_matches

    if len(key) < _SHORTEST or key in _KNOWN:
        return ""
    close = get_close_matches(key, COMMANDS, 1, _CLOSE)
    if not close or COMMANDS[close[0]][0].word in NEVER_OFFERED | _NEVER_INSTEAD:
        return ""
    if len(key) < _LONG_ENOUGH and close[0][0] != key[0]:
        return ""  # of a short word with another beginning too little is the same
    word = COMMANDS[close[0]][0]
    return real(word.examples[0], words, ear.context.litter, of_pup=word.of_pup)


def real(example: str, words: Words, litter: Litter, *, of_pup: bool) -> str:
    """An example with the pups that the line names, or ``N``, for its 3 or its red."""
    shown = example.split(" ")
    if not of_pup:
        return example
    first = next((place for place, word in enumerate(shown) if place and word in {"3", "red"}), 0)
    if not litter.pups:
        return "" if first else example
    if first:
        shown[first] = "{pup}"
    return a_line_each(" ".join(shown), words, litter)

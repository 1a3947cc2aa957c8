"""Of which pup a word of danger may be said, and what to type for it.

A line may tell of several pups; each danger is told of those in whose part of the line it stands.
"""

from typing import NamedTuple

from boxlamp.language.pups import NUMBER, compared, mentioned
from boxlamp.language.tokens import Words, table, words_of
from boxlamp.model.litter import Litter


class Meant(NamedTuple):
    """What may be meant: how it is asked, and the line to type."""

    asked: str
    line: str


OUT_LIMP = Meant("If a pup is out and limp,", "pup limp")
_BLUE = Meant("If her gums or tongue are blue,", "dam blue")
OF_A_PUP: dict[str, str] = table({
    "not-breathing": "no breath|not breathe|isn't breathing|doesn't breathe|isnt breathing"
                     "|doesnt breathe|stopped breathing|gasping|no breathing|cannot breathe"
                     "|barely breathing|hardly breathing|scarcely breathing|barely breathes"
                     "|hardly breathes|breathing stopped|breathing has stopped|stops breathing"
                     "|no longer breathing|heart stopped|heart has stopped|stopped moving"
                     "|has stopped moving",
    "laboured-breathing": "struggling to breathe|struggles to breathe|struggling for breath"
                          "|fighting for breath",
    "limp": "floppy|lifeless|not moving|isn't moving|won't move",
    "blue": "bluish|purple",
    "dead": "died|dying|stillborn",
})  # fmt: skip
ILL: dict[str, str] = table({
    "weak": "feeble|fading|weaker",
    "cold": "chilled|freezing|colder",
    "bloated": "bloat",
})  # fmt: skip
"""What is a danger in a pup, and may be said of much else: a push is weak, a room is cold."""
_HOW_IT_IS = OF_A_PUP | ILL | dict.fromkeys(
    ("warm", "ok", "okay", "fine", "well", "good", "alive", "breathing", "crying", "suckling",
     "drinking", "moving", "strong", "better"), "well",
)  # fmt: skip
"""What is said of a pup that has its own part of a line."""
_JOINING = words_of("and but &")
_BLEEDS = words_of("blood bleed bleeds bleeding")
_ONE_MORE = words_of("another next new")
LIMP_AT_BIRTH = ("limp", "not-breathing")
_SAID_OF_A_PUP = {
    "not-breathing": "does not breathe", "laboured-breathing": "breathes hard",
    "limp": "is limp", "blue": "is blue", "dead": "is dead",
    "weak": "is weak", "cold": "is cold", "bloated": "is bloated",
}  # fmt: skip
_BLUE_OF_HER = words_of("gums tongue she mum dam")


def of_a_cord(keys: set[str], words: Words, litter: Litter) -> list[Meant]:
    """``the cord is bleeding``: a pup bleeds, and not she."""
    if not litter.pups or not {"cord", "navel"} & keys or _BLEEDS.isdisjoint(keys):
        return []
    return [
        Meant(f"If the cord of pup {pup} bleeds,", f"cord {pup} bleeding")
        for pup in mentioned(words, litter)
    ] or [Meant(f"If a cord bleeds ({NUMBER}: the pup's number),", f"cord {NUMBER} bleeding")]


def _of_whom(words: Words, litter: Litter) -> list[int]:
    """The pups of which the word just read may be said: ``1 alive, 2 dead`` is one of them."""
    parts = _parts(words, litter)
    pups = [
        pup
        for part in parts
        if part.start < words.place <= part.end or not part.tells
        for pup in part.pups
    ]
    return list(dict.fromkeys(pups)) or mentioned(words, litter)


class _Part(NamedTuple):
    """A part of a line, up to a comma or an ``and``: its pups; whether it tells how they are."""

    start: int
    end: int
    pups: list[int]
    tells: bool
    sign_first: bool


def _parts(words: Words, litter: Litter) -> list[_Part]:
    """The parts of a line; a bare name belongs to the part behind it: ``1 and 2 limp``."""
    tokens, text = words.tokens, words.text
    cuts = [
        place
        for place in range(1, len(tokens))
        if tokens[place].key in _JOINING or "," in text[tokens[place - 1].end : tokens[place].start]
    ]
    found: list[_Part] = []
    start = 0
    for end in (*cuts, len(tokens)):
        part = Words(text, tokens[start:end])
        pups, tells = mentioned(part, litter), _tells(part)
        led = found[-1] if found and not tells and pups else None
        if led is not None and led.sign_first:  # limp: 1, 3
            found[-1] = led._replace(end=end, pups=[*led.pups, *pups])
            start = end
        elif tells or end == len(tokens) or not pups:
            part.place = 0
            found.append(_Part(start, end, pups, tells, part.phrase(_HOW_IT_IS) is not None))
            start = end
    return found


def _tells(part: Words) -> bool:
    part.place = 0
    while part.peek() is not None:
        if part.phrase(_HOW_IT_IS) is not None:
            return True
        part.pop()
    return False


def is_a_mark(key: str, litter: Litter) -> bool:
    """Whether the word is how a pup is called, and so says nothing of a danger."""
    return any(pup.mark and key in compared(pup.mark).split() for pup in litter.in_order)


def of_a_pup(state: str, words: Words, litter: Litter) -> list[Meant]:
    """How to write it of each pup that the line names, of one to be named, or of one just born."""
    if state == "blue" and not _BLUE_OF_HER.isdisjoint(token.key for token in words.tokens):
        return [_BLUE]
    said = _SAID_OF_A_PUP[state]
    if not litter.pups:
        born = "pup dead" if state == "dead" else "pup limp"
        return [Meant(f"If a pup is born and {said},", born)]
    typed = "died {0}" if state == "dead" else f"state {{0}} {state}"
    keys = {token.key for token in words.tokens}
    another = state in LIMP_AT_BIRTH and not _ONE_MORE.isdisjoint(keys)
    named = [
        Meant(f"If pup {number} {said},", typed.format(number))
        for number in _of_whom(words, litter)
    ] or [Meant(f"If a pup {said} ({NUMBER}: its number),", typed.format(NUMBER))]
    return [OUT_LIMP, *named] if another else named

"""What comes from her, and how her udder is, in everyday words: put into the words of the log.

A whole line is turned or nothing of it: one word that is none of these leaves it as it was.
"""

from boxlamp.language import sentences
from boxlamp.language.ear import Ear
from boxlamp.language.pups import compared
from boxlamp.language.terms import AMOUNTS, COLOURS, DAM_SIGNS, FOUL
from boxlamp.language.tokens import Words, table, words_of
from boxlamp.model.litter import Litter
from boxlamp.model.seen import Colour

_WATERY = words_of("fluid liquid water")
STUFF = _WATERY | words_of(
    "discharge goo stuff slime gunk gunge mess gloop gel jelly spot spots stain stains "
    "smear smears blob blobs bits drip drips ooze leak trickle gush mucus"
)
_VAGUE = words_of("something some bit little")
"""Words that stand for the stuff where nothing else does."""
_LEADING = words_of("of from at on in to out under behind by around coming came come comes "
                    "leaking leaks dripping drips running runs seen showing visible everywhere "
                    "there appeared passing passed passes looks looking saw see noticed found i "
                    "got this turned gone she's shes there's theres it's")  # fmt: skip
LEAKS = words_of("leaking leaks dripping drips")
"""What a dam does, and no pup."""
_WHERE = words_of("at on from out of in under behind by around")
_VULVA = "vulva"
_AT_HER = words_of("vulva back end rear bottom bum")
_UNDER_HER = words_of("towel towels bedding bed blanket blankets sheet sheets floor pad pads paper "
                      "vetbed box newspaper")  # fmt: skip
_SEEN_UNDER_HER: frozenset[Colour] = frozenset(("green", "black", "red"))
_DARK = "dark"

_UDDER = words_of("udder udders gland glands teat teats nipple nipples")
_WHOLE_UDDER = words_of("udder udders")
_FEELS = table({
    "hot": "very hot|burning", "hard": "very hard|rock hard|firm|solid|lumpy",
    "painful": "sore|tender|very sore|hurts", "purple": "", "black": "",
    "well": "fine|ok|soft|normal|better",
})  # fmt: skip
_BESIDE = words_of("feels looks very red swollen inflamed one of are")
"""What may be said of an udder beside something that is known."""
_MOUTH = words_of("gums gum tongue")
_LOOKS = table({"pale": "white|very pale|grey|gray", "blue": "bluish|purple"})
_SHE = words_of("she she's shes mum dam mother")
_ALL_IS_WELL = (None, "bright", "recovered", "udder-well", "ate", "drank")
_IS = words_of("is are looks look all very and her the has been")


def discharge(words: Words, ear: Ear) -> str | None:
    """``dark green fluid``, ``some green stuff on the towel``, ``clear fluid came out``."""
    colours: list[str] = []
    others: list[str] = []
    keys: list[str] = []
    start = words.place
    while words.peek() is not None:
        if (colour := words.phrase(COLOURS)) is not None:
            colours.append(colour)
        elif words.phrase(FOUL) is not None:
            others.append("foul")
        elif words.key() not in STUFF and (amount := words.phrase(AMOUNTS)) is not None:
            others.append(amount)
        else:
            keys.append(words.pop().key)
    place = words.tokens[start].key if start < len(words.tokens) else ""
    if not _all_of_it(keys) or "none" in others or words.text.strip().endswith("?"):
        return None
    if _DARK in keys and not colours and not STUFF.isdisjoint(keys):
        ear.remarks.append(sentences.DARK_TAKEN)
        colours.append("black")
    if not colours or not _is_hers(keys, colours, ear.context.litter):
        return None
    if place == "discharge" and set(keys) == {"discharge"}:
        return None  # it is in the words of the log already
    if set(colours) == {"clear"} and not others and not _WATERY.isdisjoint(keys):
        return "waters clear"
    return " ".join(("discharge", *dict.fromkeys((*colours, *others))))


def _all_of_it(keys: list[str]) -> bool:
    return set(keys) <= STUFF | _VAGUE | _LEADING | _AT_HER | _UNDER_HER | {_DARK}


def _is_hers(keys: list[str], colours: list[str], litter: Litter) -> bool:
    """Whether it is surely something that comes from her, and not a pup with that mark."""
    if not STUFF.isdisjoint(keys):
        return True
    marks = [compared(pup.mark) for pup in litter.in_order if pup.mark]
    if any(mark.startswith(colour) for mark in marks for colour in colours):
        return False
    placed = not _WHERE.isdisjoint(keys)
    if _VULVA in keys or (placed and not _AT_HER.isdisjoint(keys)):
        return True
    under = placed and not _UNDER_HER.isdisjoint(keys)
    of_her = under or not (_VAGUE | LEAKS).isdisjoint(keys)
    return of_her and not _SEEN_UNDER_HER.isdisjoint(colours)


def udder(words: Words) -> str | None:
    """``her udder is hard``, ``udder hot and hard``, ``one hot teat``."""
    found: list[str] = []
    named, whole = False, True
    while words.peek() is not None:
        if (feels := words.phrase(_FEELS)) is not None:
            found.append(feels)
        elif words.key() in _UDDER:
            named = True
            whole = words.pop().key in _WHOLE_UDDER and whole
        elif words.key() in _BESIDE:
            words.pop()
        else:
            return None
    if not named or not found:
        return None
    if "well" in found and not (whole and set(found) == {"well"}):
        return None  # one gland that is well says nothing of the others
    return f"dam {' '.join(f'udder-{feels}' for feels in dict.fromkeys(found))}"


def gums(words: Words) -> str | None:
    """``her gums are white``, ``tongue is blue``."""
    found: list[str] = []
    named = False
    while words.peek() is not None:
        if (looks := words.phrase(_LOOKS)) is not None:
            found.append(looks)
        elif words.key() in _MOUTH | _IS:
            named = words.pop().key in _MOUTH or named
        else:
            return None
    return f"dam {' '.join(dict.fromkeys(found))}" if named and found else None


def of_her(words: Words) -> str | None:
    """``she is stiff and staring``: a line that begins with her and says only what is wrong.

    That she is well is never taken so: it ends alarms, and "she" may be a pup.
    """
    if not words.tokens or words.tokens[0].key not in _SHE:
        return None
    start = words.place
    while words.peek() is not None:
        if words.phrase(DAM_SIGNS) in _ALL_IS_WELL:
            return None
    return f"dam {words.text[words.tokens[start].start :]}" if words.place > start else None

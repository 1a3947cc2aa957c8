"""That she pushes, or has stopped, in everyday words: put into the words of the log.

A push that is not read starts no clock. So a whole line about pushing is read, and whatever line
holds a word of pushing and is not read is known here, for the answer to name the line to type.
"""

from boxlamp.language import sentences
from boxlamp.language.context import NotUnderstood
from boxlamp.language.ear import Ear
from boxlamp.language.terms import CRIES, IN_VAIN, IN_VAIN_SURELY, STRENGTHS
from boxlamp.language.tokens import Words, words_of


def _phrases(text: str) -> dict[str, bool]:
    return dict.fromkeys(text.split("|"), True)


_SLIPS = words_of("pusing pushng puhsing pushign pshing straing straning strainig strainning "
                  "contrations contracions contractons contaction contactions")  # fmt: skip
PUSHING = _SLIPS | words_of("pushing straining contracting pushin strainin")
_NAMED = words_of("push pushes contraction contractions strain strains")
_STEMS = ("push", "strain", "contract")
_LIKE = ("pushing", "pushed", "straining", "contraction", "contractions", "contracting")
_UNLIKE = words_of("staining contacting contacted contains containing contact strange string "
                   "pushchair strainer contract contracts")  # fmt: skip
"""Words that look like one of pushing and are none."""
_CLOSE = 0.85
_SHE = words_of("she she's shes dam mum been has having still now already and so or the is just "
                "it's its again but")  # fmt: skip
_BEGINS = words_of("started starting starts start began begun begins keeps keep keeping kept to")
_VERY = "very"
_VERY_MUCH = "really|very|so|like mad|like crazy|like hell|like anything|with all her might"
_HOW = STRENGTHS | dict.fromkeys(_phrases(_VERY_MUCH), _VERY)
_CAME_NOTHING = _phrases("nothing came|nothing came out|nothing has come|nothing's come"
                         "|but nothing came|but nothing came out")  # fmt: skip
_VAIN_SURELY = dict.fromkeys(IN_VAIN_SURELY, True) | _CAME_NOTHING
_VAIN = dict.fromkeys(IN_VAIN, True) | _CAME_NOTHING
_OVER = words_of("was had")
"""What may have ended already."""

_ENDS = _phrases("gone off|have gone off|has gone off|went off|worn off|have worn off|died away"
                 "|have died away|fizzled out|have fizzled out|stopped|have stopped|has stopped"
                 "|ceased|have ceased|gone|have gone|have all gone|stopped now")  # fmt: skip
_QUIET = _phrases("gone quiet|gone all quiet|gone very quiet|went quiet")
_GAVE_UP = _phrases("given up|gave up|given up pushing|gave up pushing|giving up"
                    "|given up straining|given up completely")  # fmt: skip
_RESTS = words_of("resting rests rest sleeping asleep calm quiet")
_HER = words_of("she she's shes dam mum has the her now it's its all just have and")
_OF_HER = words_of("she she's shes dam mum mother")
_NOT = words_of("not no never isn't isnt hasn't hasnt wasn't wasnt doesn't doesnt didn't didnt "
                "without won't wont can't cant cannot")  # fmt: skip
_STOPPED = words_of("stopped stops given gave finished")
_BETWEEN = words_of("been really even any more to had having seen yet a the properly actually up "
                    "has signs sign of")  # fmt: skip
_ENDED = words_of("stopped ceased over finished ended")


def is_a_push(key: str) -> bool:
    """Whether a word speaks of pushing, near slips of the key included."""
    if key in _UNLIKE or "-" in key:
        return False
    if key in PUSHING or key.startswith(_STEMS):
        return True
    if key[:2] not in {"pu", "ps", "st", "sr", "co", "cn"} or len(key) < len("pusing"):
        return False
    from difflib import get_close_matches

    return bool(get_close_matches(key[:40], _LIKE, 1, _CLOSE))


def speaks_of_pushing(words: Words) -> bool:
    """Whether a line speaks of a push, and nowhere only says that there is none."""
    keys = [token.key for token in words.tokens if not token.quoted]
    return any(
        is_a_push(key) and not _denied(keys[:place], keys[place + 1 :])
        for place, key in enumerate(keys)
    )


def weak_pushes(words: Words) -> bool:
    """Whether a push is called weak: ``weak pushes``."""
    keys = [token.key for token in words.tokens]
    weak = [place for place, key in enumerate(keys) if STRENGTHS.get(key) == "weak"]
    return any(is_a_push(key) for place in weak for key in keys[place + 1 : place + 2])


def denies_pushing(keys: list[str]) -> bool:
    """Whether a line says of some push that there is none, or no more."""
    return any(
        is_a_push(key) and _denied(keys[:place], keys[place + 1 :])
        for place, key in enumerate(keys)
    )


def _denied(before: list[str], after: list[str]) -> bool:
    """Whether what stands around a push denies it; who has *not* stopped pushing pushes."""
    led = [key for key in before if key not in _BETWEEN]
    if led and led[-1] in _STOPPED:
        return _NOT.isdisjoint(led[-2:-1])
    ends = [key for key in after if key not in {"has", "have", "all", "now", "just", "is"}]
    ended = not _ENDED.isdisjoint(ends[:1]) or ends[:1] == ["off"] or ends[:2] == ["gone", "off"]
    return ended or not _NOT.isdisjoint(led[-1:])


def pushing(words: Words, ear: Ear) -> str | None:  # noqa: ARG001 - one shape for all turns
    """``started pushing really hard``, ``big push but nothing came``: the line as a push."""
    return as_a_push(words, so_long=False)


def as_a_push(words: Words, *, so_long: bool) -> str | None:
    """A line that says only that she pushes, in the words of the log.

    ``so_long`` tells that it said how long she has pushed; it may then say of the hour that it is
    over, and ``nothing`` alone says that no pup came.
    """
    tokens = words.tokens[words.place :]
    keys = [token.key for token in tokens]
    over = so_long and not _OVER.isdisjoint(keys)
    if over or any(token.quoted for token in tokens):
        return None
    nouns = _NAMED if not so_long or {"having", "contractions"} <= set(keys) else frozenset[str]()
    said: list[str] = []
    pushes = more = False
    while (key := words.peek() and words.key()) is not None:
        if key in PUSHING | nouns:
            pushes = True
        elif (strength := words.phrase(_HOW)) is not None:
            said.append(strength)
            continue
        elif pushes and words.phrase(_VAIN if so_long or said or more else _VAIN_SURELY):
            continue
        elif key not in _SHE | _BEGINS | CRIES:
            return None
        more = more or key in _BEGINS
        words.pop()
    if set(said) > {_VERY}:
        said = [one for one in said if one != _VERY]
    said = ["strong" if one == _VERY else one for one in said]
    return " ".join(("contraction", *dict.fromkeys(said))) if pushes else None


def _ended(words: Words) -> list[str]:
    """What a line tells of the end of pushing, in order; nothing where it tells of more."""
    found: list[str] = []
    while words.peek() is not None:
        if words.phrase(_QUIET) is not None:
            found.append("quiet")
        elif words.phrase(_GAVE_UP) is not None:
            found.append("up")
        elif found == ["push"] and words.phrase(_ENDS) is not None:
            found.append("ended")
        elif not found and words.key() == "stopped" and is_a_push(words.key(1)):
            words.place += 2
            found = ["push", "ended"]
        elif not found and is_a_push(words.key()):
            found.append("push")
            words.pop()
        elif words.key() in (_HER | _RESTS if found[-1:] == ["ended"] else _HER):
            words.pop()
        else:
            return []
    return found


def stopped(words: Words, ear: Ear) -> str | None:
    """``gone quiet``, ``contractions have gone off``, ``she's given up``: she pushes no more.

    ``gone quiet`` may be said of a pup, where there is one and nobody says that it is she.
    """
    named = words.tokens
    found = _ended(words)
    if found not in (["quiet"], ["up"], ["push", "ended"], ["push", "quiet"]):
        return None
    of_a_pup = not {"he", "he's", "hes"}.isdisjoint(token.key for token in named)
    of_her = not _OF_HER.isdisjoint(token.key for token in named)
    if of_a_pup or (found == ["quiet"] and not of_her and ear.context.litter.pups):
        raise NotUnderstood(f"{sentences.NO_CLOCK} {sentences.WHO_IS_QUIET}")
    return "rest"

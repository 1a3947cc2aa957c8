"""Reading what is seen of the dam before and during labour."""

from collections.abc import Mapping
from decimal import Decimal
from typing import TypeVar

from boxlamp.language import amounts, sentences, twice
from boxlamp.language.context import NotUnderstood
from boxlamp.language.ear import Ear, finish
from boxlamp.language.pups import pup_in
from boxlamp.language.terms import (
    AMOUNTS,
    COLOURS,
    DAM_SIGNS,
    FOUL,
    IN_VAIN,
    IN_VAIN_SURELY,
    PARTS,
    SIGNS,
    STRENGTHS,
)
from boxlamp.language.tokens import Words, table, words_of
from boxlamp.language.word import Word
from boxlamp.model.happenings import (
    Caesarean,
    Contraction,
    DamState,
    Discharge,
    Finished,
    Part,
    Rest,
    Sac,
    Settled,
    Sign,
    Temperature,
    Waters,
)
from boxlamp.model.quantities import plain
from boxlamp.model.seen import Colour, DamSign, SignName

T = TypeVar("T")

_WHERE = table({"dam": "mum|mother|bitch", "box": "whelping box|bed|room|nest"})
_MOVED = table({"to": "down to|up to|dropped to|fell to|has dropped to|gone down to|went down to"
                     "|rose to|gone up to|went up to|dropped|fell"})  # fmt: skip
_SAC_GONE = table({"sac gone": "sac gone back|sac slipped back|sac back|no sac|sac has gone"})
_FINISHERS = table({"vet": "by vet|by the vet", "scan": "by scan|by x ray|by xray",
                    "breeder": "by breeder|by me"})  # fmt: skip
_BROKE = table({"broke": "broken|gone|went|burst|came|seen|sac|bag|colour"})
_SHOWING = table({"showing": "seen|at vulva|at the vulva|visible|out|there|bulging|stuck|coming"
                             "|sticking out|sticking|poking out|hanging out"})  # fmt: skip
_PUSHING = words_of("contraction contractions push pushing straining started starting began")
_SEEN = table({"seen": "discharge|colour"})
_PLAUSIBLE = range(34, 43)
# With pups in the house a reading under this is more likely a pup's (our choice).
_LOW_FOR_A_DAM = Decimal(36)


def temperature(words: Words, ear: Ear) -> Temperature:
    """``temp 37.1``, ``temp pup 3 35.2``, ``temp box 30``: the dam's when nobody is named."""
    where = words.phrase(_WHERE)
    words.phrase(_MOVED)
    if words.peek() is None:
        raise NotUnderstood(sentences.TEMPERATURE_MISSING, "temp 37.1")
    pup = None
    if where is None and not _reading_comes_first(words):
        pup = pup_in(words, ear)
    degrees = amounts.celsius(words, ear.remarks, box=where == "box")
    if degrees is None:
        raise NotUnderstood(sentences.TEMPERATURE_MISSING, "temp 37.1")
    if pup is None and where is None:
        where = words.phrase(_WHERE)
        if where is None and words.peek() is not None:
            pup = pup_in(words, ear)
    finish(words)
    old = ear.before(Temperature)
    if old is not None and pup is None and where is None:
        pup, where = old.pup, old.where
    if pup is not None:
        return Temperature(celsius=degrees, where="pup", pup=pup)
    if where == "box":
        return Temperature(celsius=degrees, where="box")
    _question_dam(degrees, ear)
    return Temperature(celsius=degrees)


def _question_dam(degrees: Decimal, ear: Ear) -> None:
    """Ask about a temperature that the dam hardly has, or that is more likely a pup's."""
    here = any(one.here for one in ear.context.litter.in_order)
    if here and degrees < _LOW_FOR_A_DAM:
        sentence = sentences.A_PUPS_TEMPERATURE.format(plain(degrees))
        fix = sentences.A_PUPS_TEMPERATURE_FIX.format(plain(degrees))
        ear.doubt("implausible", sentence, fix)
    elif int(degrees) not in _PLAUSIBLE:
        sentence = sentences.IMPLAUSIBLE_TEMPERATURE.format(plain(degrees))
        ear.doubt("implausible", sentence, sentences.IMPLAUSIBLE_FIX)


def _reading_comes_first(words: Words) -> bool:
    """Whether the reading itself comes next, and not the number or mark of a pup before it."""
    start = words.place
    try:
        is_number = amounts.celsius(words, []) is not None
    except NotUnderstood:  # a number, out of range: a pup's when another number follows
        is_number = True
    another = words.key()[:1].isdigit()
    words.place = start
    return is_number and not another


def sign(words: Words, ear: Ear) -> Sign | DamState:
    """``sign restless nesting``: one or more first-stage signs.

    ``panting and staring`` is how she is: one entry cannot be both, and the graver is kept.
    """
    signs: list[SignName] = []
    while (found := words.phrase(SIGNS)) is not None:
        if found not in signs:
            signs.append(found)
    start = words.place
    states: list[DamSign] = []
    while (state := words.phrase(DAM_SIGNS)) is not None:
        states.append(state)
    if states and words.peek() is None:
        ear.remarks += [sentences.SIGN_APART.format(" ".join(signs))] if signs else []
        return DamState(signs=tuple(dict.fromkeys(states)))
    words.place = start
    finish(words)
    if not signs:
        raise NotUnderstood(sentences.SIGN_MISSING, "sign restless nesting")
    return Sign(signs=tuple(signs))


def settled(words: Words, _ear: Ear) -> Settled:
    """``settled``."""
    finish(words)
    return Settled()


def waters(words: Words, ear: Ear) -> Waters:
    """``waters [colour]``."""
    colours: list[Colour] = []
    while words.peek() is not None:
        if words.phrase(_BROKE) is None:
            _hear(colours, words, COLOURS)
    old = ear.before(Waters) or Waters()
    return Waters(colour=twice.waters_of(colours, ear) or old.colour)


def _hear(said: list[T], words: Words, lookup: Mapping[str, T]) -> None:
    """Take one more word of a kind; a word that is none is refused."""
    found = words.phrase(lookup)
    if found is None:
        finish(words)
    else:
        said.append(found)


def sac(words: Words, _ear: Ear) -> Sac:
    """``sac``."""
    while words.phrase(_SHOWING) is not None:
        pass
    finish(words)
    return Sac()


def part(words: Words, ear: Ear) -> Part:
    """``part head``, ``feet showing``."""
    parts: list[str] = []
    while words.peek() is not None:
        if words.phrase(_SHOWING) is None:
            _hear(parts, words, PARTS)
    return Part.model_validate({"part": twice.part_of(parts, ear) or "unknown"})


def contraction(words: Words, ear: Ear) -> Contraction:
    """``contraction strong/weak``; without a strength it counts as strong."""
    strengths: list[str] = []
    while words.peek() is not None:
        if words.key() in _PUSHING:
            words.pop()
        elif words.phrase(IN_VAIN if strengths else IN_VAIN_SURELY) is None:
            _hear(strengths, words, STRENGTHS)
    strength = twice.strength_of(strengths, ear)
    if strength in {None, "unspecified"}:
        ear.remarks.append("no strength given: counts as strong")
    return Contraction.model_validate({"strength": strength or "unspecified"})


def rest(words: Words, _ear: Ear) -> Rest:
    """``rest [sac gone]``."""
    gone = words.phrase(_SAC_GONE) is not None
    finish(words)
    return Rest(sac_gone=gone)


def discharge(words: Words, ear: Ear) -> Discharge:
    """``discharge green heavy foul``, in any order."""
    colours: list[Colour] = []
    said: list[str] = []
    foul = False
    old = ear.before(Discharge) or Discharge()
    while words.peek() is not None:
        if words.phrase(FOUL) is not None:
            foul = True
        elif words.phrase(_SEEN) is None:
            amount = words.phrase(AMOUNTS)
            if amount is not None:
                said.append(amount)
            else:
                _hear(colours, words, COLOURS)
    if "none" in said and len(set(said)) > 1:
        raise NotUnderstood(sentences.NONE_AND_SOME)
    colour = twice.colour_of(colours, said, ear)
    amount = "none" if "none" in said else twice.amount_of(said, colour or old.colour, ear)
    return Discharge.model_validate(
        {"colour": colour or old.colour, "amount": amount or old.amount, "foul": foul or old.foul}
    )


def caesarean(words: Words, _ear: Ear) -> Caesarean:
    """``caesarean``."""
    finish(words)
    return Caesarean()


def finished(words: Words, _ear: Ear) -> Finished:
    """``finished [by vet/by scan]``."""
    by = words.phrase(_FINISHERS)
    finish(words)
    return Finished.model_validate({"by": by or "breeder"})


WORDS = (
    Word(
        "temp", "temp [dam/box/pup 3] 37.1",
        "A temperature. C or F is told from the range when it is not given.",
        ("temp 37.1", "temp 98.8f", "temp pup 3 35.2", "temp box 30"), temperature,
        synonyms=("temperature", "t"), of_pup=True,
    ),
    Word(
        "sign", "sign restless nesting panting shivering digging off-food vomited",
        "First-stage signs; one or more.",
        ("sign restless nesting", "sign off food", "panting"), sign,
        synonyms=("signs", "first stage", "stage one"),
        telling=("restless", "nesting", "panting", "shivering", "digging", "pacing"),
    ),
    Word("settled", "settled", "The first-stage signs have gone.", ("settled",), settled,
         synonyms=("calm", "signs gone", "settled down", "calm again")),
    Word("waters", "waters [colour]", "The waters broke.", ("waters", "waters clear"), waters,
         synonyms=("water", "waters broke", "water broke", "waters gone", "water bag broke",
                   "waters broken", "bag broke", "sac broke")),
    Word("sac", "sac", "A sac (water bag) is at the vulva.", ("sac", "bag showing"), sac,
         synonyms=("bag", "water bag", "bubble", "sac showing")),
    Word("part", "part head/feet/tail/rump", "Part of a pup is showing.",
         ("part head", "feet showing"), part,
         synonyms=("showing",),
         telling=("head showing", "feet showing", "foot showing", "tail showing", "rump showing",
                  "nose showing", "paw showing", "bottom showing", "head out", "feet out",
                  "head visible", "feet visible",
                  *(f"{part} {how} out" for part in ("head", "feet", "foot", "tail", "paw", "leg",
                                                     "legs")
                    for how in ("sticking", "poking", "hanging")))),
    Word("contraction", "contraction [strong/weak]",
         "A push seen. Without a strength it counts as strong.",
         ("contraction strong", "push weak", "strain", "c"), contraction,
         synonyms=("contractions", "push", "pushing", "pushes", "strain", "straining", "c",
                   "contracting"),
         telling=("strong push", "weak push", "strong contraction", "weak contraction",
                  "strong contractions", "weak contractions", "strong pushing", "hard push",
                  "strong straining", "weak straining", "big push", "big pushes", "huge push",
                  "little push", "small push", "tiny push", "little pushes", "small pushes")),
    Word("rest", "rest [sac gone]", "She has stopped pushing; a sac that showed may have gone.",
         ("rest", "rest sac gone"), rest,
         synonyms=("resting", "stopped pushing", "stopped", "no more pushing", "no pushing",
                   "pushing stopped", "pushing has stopped", "contractions stopped",
                   "contractions have stopped", "stopped straining", "finished pushing",
                   "stopped contracting")),
    Word("discharge", "discharge [green/black/red/brown/clear/yellow/pus] [streak/some/heavy/clots]"
         " [foul]", "Discharge: colour, amount, smell.",
         ("discharge green", "discharge red heavy", "discharge none", "green discharge"), discharge,
         synonyms=("lochia",),
         telling=("green discharge", "black discharge", "red discharge", "brown discharge",
                  "clear discharge", "yellow discharge", "bloody discharge", "foul discharge",
                  "smelly discharge", "stinking discharge")),
    Word("caesarean", "caesarean", "A caesarean. Pups delivered are then written as births.",
         ("caesarean",), caesarean,
         synonyms=("c section", "csection", "caesar", "cesarean", "caesarian", "cesarian")),
    Word("finished", "finished [by vet/by scan]", "The whelping is over.",
         ("finished", "finished by vet"), finished,
         synonyms=("whelping over", "whelping finished", "finish"), by_day=True),
)  # fmt: skip

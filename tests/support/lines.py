"""Lines as people type them in a growing litter, each with what it should mean."""

from collections.abc import Iterator, Mapping
from decimal import Decimal
from typing import NamedTuple

from hypothesis import strategies as st

from boxlamp.model.happenings import (
    Afterbirth,
    Birth,
    Contraction,
    DamState,
    Death,
    Discharge,
    Feed,
    Finished,
    Part,
    PupState,
    Rest,
    Round,
    Sac,
    Score,
    Settled,
    Sexed,
    Sign,
    Step,
    Temperature,
    VetContact,
    Waters,
    Weight,
    What,
)

Names = Mapping[int, str | None]
"""The pups that are born, each with its mark."""

MARKS = (
    "red", "blue", "green", "light blue", "red pale", "green collar", "white tip", "Luna", "Ida",
    "Bo Peep", "lmp",
)  # fmt: skip
PLAIN_MARKS = MARKS[:7]
_SEXES = {"dog": ("dog", "m", "male", "boy"), "bitch": ("bitch", "f", "female", "girl")}
_STATES = {
    "alive": ("alive", "live", "well"),
    "limp": ("limp", "floppy"),
    "dead": ("dead", "stillborn"),
}
_WAYS = {
    "head": ("head first", "nose first"),
    "feet": ("feet first", "backwards"),
    "rump": ("breech",),
}
_STEPS = {
    "sac-open": ("sac-open", "sac off"), "airway": ("airway", "mouth cleared"),
    "breathing": ("breathing", "breathes"), "dried": ("dried", "rubbed dry"),
    "milk": ("milk", "first milk", "colostrum"), "teat": ("to-teat", "latched"),
}  # fmt: skip
_SIGNS = ("crying", "limp", "cold", "blue", "pale", "bloated", "well")


class Line(NamedTuple):
    """The words of a line, without a time, and what they mean.

    ``timed`` tells whether a time may stand behind the words.
    """

    words: str
    what: What
    timed: bool = True


OF_THE_DAM: tuple[Line, ...] = tuple(
    Line(words, what)
    for what, spellings in (
        (Contraction(strength="strong"), ("contraction strong", "push hard", "strong push", "c s")),
        (Contraction(strength="weak"), ("contraction weak", "strain weak", "little push")),
        (Contraction(), ("contraction", "push", "straining", "c")),
        (Rest(), ("rest", "stopped pushing", "no more pushing", "resting")),
        (Rest(sac_gone=True), ("rest sac gone",)),
        (Waters(), ("waters", "waters broke", "water bag broke")),
        (Waters(colour="green"), ("waters green", "waters broke dark green")),
        (Sac(), ("sac", "bag showing", "bubble")),
        (Part(part="head"), ("part head", "head showing", "nose showing")),
        (Part(part="tail"), ("part tail", "tail showing")),
        (Sign(signs=("restless", "nesting")), ("sign restless nesting", "restless and nesting")),
        (Settled(), ("settled", "calm again")),
        (Discharge(colour="green"), ("discharge green", "green discharge")),
        (Discharge(colour="red", amount="heavy"), ("discharge red heavy", "lots of blood")),
        (Discharge(amount="none"), ("discharge none", "discharge gone")),
        (DamState(signs=("collapsed",)), ("dam collapsed", "mum collapsed")),
        (DamState(signs=("ate", "drank")), ("dam ate drank", "mum eating drinking")),
        (Temperature(celsius=Decimal("37.1")), ("temp 37.1", "temp 37,1", "t 37.1c")),
        (Temperature(celsius=Decimal(30), where="box"), ("temp box 30", "temp box 30c")),
        (Afterbirth(), ("afterbirth", "placenta", "ab")),
        (Afterbirth(count=2, fate="eaten"), ("afterbirth x2 eaten", "ab x2 eaten")),
        (VetContact(contact="called"), ("vet called",)),
        (Finished(), ("finished", "whelping over")),
        (Weight(grams=Decimal(31_000)), ("weigh dam 31kg", "w dam 31 kg")),
    )
    for words in spellings
)  # fmt: skip


@st.composite
def births(draw: st.DrawFn, number: int) -> Line:
    """A birth: every part may be missing, and the parts come in any order."""
    parts: list[str] = []
    said: dict[str, object] = {"pup": number}
    for name, table in (("sex", _SEXES), ("state", _STATES), ("presentation", _WAYS)):
        value = draw(st.none() | st.sampled_from(sorted(table)))
        if value is not None:
            said[name] = value
            parts.append(draw(st.sampled_from(table[value])))
    grams = draw(st.none() | st.integers(60, 900))
    if grams is not None:
        said["weight"] = grams
        parts.append(draw(st.sampled_from([f"{grams}g", f"{grams} g", f"0.{grams:03}kg"])))
    mark = draw(st.none() | st.sampled_from(MARKS))
    if draw(st.booleans()):
        said["in_sac"] = True
        parts.append("in the sac")
    if mark is not None and mark in PLAIN_MARKS and draw(st.booleans()):
        parts.append(mark)
    parts = draw(st.permutations(parts))
    if mark is not None and mark not in parts:
        parts.append(f'mark "{mark}"' if draw(st.booleans()) else f"mark {mark}")
    if mark is not None:
        said["mark"] = mark
    number_said = draw(st.sampled_from(["", str(number), f"#{number}"]))
    verb = draw(st.sampled_from(["pup", "pup born", "born", "puppy"]))
    if verb == "born" and not parts:
        verb = "pup"
    return Line(" ".join(filter(None, (verb, number_said, *parts))), Birth.model_validate(said))


def names_for(pup: int, names: Names) -> Iterator[str]:
    """What a pup may be called: its number, its mark, and a start of it that no other has."""
    yield from (str(pup), f"#{pup}", f"p{pup}", f"pup {pup}")
    mark = names[pup]
    others = [other.casefold() for n, other in names.items() if n != pup and other is not None]
    if mark is not None and not any(other.startswith(mark.casefold()) for other in others):
        yield from (mark, mark.upper())
        start = mark.casefold()[:3]
        if not any(other.startswith(start) for other in others) and " " not in start:
            yield start


def _step(draw: st.DrawFn, pup: int, called: str) -> Line:
    step = draw(st.sampled_from(sorted(_STEPS)))
    word = draw(st.sampled_from(_STEPS[step]))
    return Line(f"{word} {called}", Step.model_validate({"pup": pup, "step": step}))


def _state(draw: st.DrawFn, pup: int, called: str) -> Line:
    signs = draw(st.lists(st.sampled_from(_SIGNS), min_size=1, max_size=2, unique=True))
    what = PupState.model_validate({"pup": pup, "signs": signs})
    return Line(f"state {called} {' '.join(signs)}", what)


def _weight(draw: st.DrawFn, pup: int, called: str) -> Line:
    grams = draw(st.integers(100, 900))
    return Line(f"weigh {called} {grams}g", Weight(pup=pup, grams=Decimal(grams)))


def _score(draw: st.DrawFn, pup: int, called: str) -> Line:
    items = draw(st.tuples(*[st.sampled_from([None, 0, 1, 2])] * 5))
    said = " ".join("?" if item is None else str(item) for item in items)
    return Line(f"score {called} {said}", Score(pup=pup, items=items), timed=False)


def _feed(draw: st.DrawFn, pup: int, called: str) -> Line:
    how, ml = draw(st.sampled_from(["teat", "bottle", "tube"])), draw(st.integers(1, 9))
    what = Feed.model_validate({"pup": pup, "how": how, "millilitres": ml})
    return Line(f"feed {called} {ml}ml {how}", what)


def _other(draw: st.DrawFn, pup: int, called: str) -> Line:
    warmth = Temperature(celsius=Decimal("35.2"), where="pup", pup=pup)
    lines = (
        Line(f"died {called}", Death(pup=pup), timed=False),
        Line(f"afterbirth of {called}", Afterbirth(of=pup)),
        Line(f"temp pup {called} 35.2c", warmth),
    )
    return draw(st.sampled_from(lines))


@st.composite
def of_a_pup(draw: st.DrawFn, names: Names) -> Line:
    """Something about one pup, called in any way."""
    pup = draw(st.sampled_from(sorted(names)))
    called = draw(st.sampled_from(list(names_for(pup, names))))
    kinds = (_step, _state, _weight, _score, _feed, _other)
    return draw(st.sampled_from(kinds))(draw, pup, called)


@st.composite
def rounds(draw: st.DrawFn, names: Names) -> Line:
    """A weighing round of some of the pups."""
    pups = draw(st.lists(st.sampled_from(sorted(names)), min_size=1, unique=True))
    row = [(pup, draw(st.integers(100, 900))) for pup in pups]
    words = (f"{draw(st.sampled_from(list(names_for(pup, names))))} {grams}g" for pup, grams in row)
    weights = [{"pup": pup, "grams": grams} for pup, grams in row]
    return Line(f"round {' '.join(words)}", Round.model_validate({"weights": weights}))


@st.composite
def namings(draw: st.DrawFn, names: Names) -> Line:
    """A pup is given a mark, or another one, or its sex."""
    pup = draw(st.sampled_from(sorted(names)))
    called = draw(st.sampled_from(list(names_for(pup, names))))
    if draw(st.booleans()):
        sex = draw(st.sampled_from(["dog", "bitch"]))
        return Line(f"sex {called} {sex}", Sexed.model_validate({"pup": pup, "sex": sex}))
    mark = draw(st.sampled_from(MARKS))
    return Line(f"mark {called} {mark}", Step(pup=pup, step="marked", finding=mark), timed=False)

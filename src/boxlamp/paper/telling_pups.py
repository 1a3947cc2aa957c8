"""What happened to the pups, in plain sentences."""

from functools import singledispatch

from boxlamp.model.happenings import (
    Afterbirth,
    Birth,
    Death,
    Feed,
    Milestone,
    PupState,
    Reflexes,
    Round,
    Score,
    Sexed,
    Step,
    Weight,
    What,
)
from boxlamp.model.levels import pup_subject
from boxlamp.model.quantities import plain
from boxlamp.paper.telling_words import (
    FINDING_WORDS,
    MILESTONE_WORDS,
    PRESENTATION_WORDS,
    PUP_WORDS,
    STATE_WORDS,
    STEP_WORDS,
    Listener,
    listed,
)

_BEST = 2
_NOT_TAKEN = "not taken"
_ITEMS = ("heart rate", "breathing", "reflex", "movement", "colour")
_REFLEX = {0: "absent", 1: "weak", 2: "good", None: "not tested"}
_FATES = {
    "seen": "seen",
    "eaten": "eaten by the dam",
    "not-seen": "looked for and not seen",
}
_HOW = {"teat": "at the teat", "bottle": "by bottle", "tube": "by tube"}


@singledispatch
def tell_pups(what: What, _to: Listener) -> str:
    """One happening to the pups. Raises ``TypeError`` for a kind that nobody wrote words for."""
    raise TypeError(f"there are no words for {type(what).__name__}")


@tell_pups.register
def _(what: Birth, to: Listener) -> str:
    # The mark is said with the rest, so the pup is called by its number alone.
    said = listed(
        what.sex or "",
        "" if what.weight is None else to.reader.weight(what.weight),
        PRESENTATION_WORDS[what.presentation] if what.presentation else "",
        STATE_WORDS[what.state] if what.state else "",
        "still in its sac" if what.in_sac else "",
        f"marked {what.mark}" if what.mark else "",
    )
    return f"{pup_subject(what.pup)} born{': ' if said else ''}{said}"


@tell_pups.register
def _(what: Sexed, to: Listener) -> str:
    return f"{to.pup(what.pup)}: {what.sex}"


@tell_pups.register
def _(what: Afterbirth, to: Listener) -> str:
    one = "afterbirth" if what.count == 1 else f"{what.count} afterbirths"
    if what.of is None:
        return f"{one} {_FATES[what.fate]}"
    return f"{one} of {to.pup(what.of)}: {_FATES[what.fate]}"


@tell_pups.register
def _(what: Step, to: Listener) -> str:
    words = FINDING_WORDS.get((what.step, what.finding))
    if words is None:
        words = STEP_WORDS[what.step]
        if what.finding:
            # A mark follows its word; anything else is what was found.
            words += f"{'' if what.step == 'marked' else ':'} {what.finding}"
        elif what.step in {"palate", "marked"}:
            words += ", finding not given" if what.step == "palate" else ", mark not given"
    return f"{to.pup(what.pup)}: {words}"


@tell_pups.register
def _(what: Score, to: Listener) -> str:
    taken = [item for item in what.items if item is not None]
    items = listed(
        *(
            f"{name} {_NOT_TAKEN if item is None else item}"
            for name, item in zip(_ITEMS, what.items, strict=True)
        )
    )
    total = f"{sum(taken)} of {_BEST * len(taken)}" if taken else _NOT_TAKEN
    return f"{to.pup(what.pup)}: viability score {total} ({items})"


@tell_pups.register
def _(what: Reflexes, to: Listener) -> str:
    tested = (("suckling", what.suckle), ("rooting", what.rooting), ("righting", what.righting))
    words = listed(*(f"{name} {_REFLEX[item]}" for name, item in tested))
    return f"{to.pup(what.pup)}: reflexes: {words}"


@tell_pups.register
def _(what: Weight, to: Listener) -> str:
    if what.pup is None:
        return f"dam weighed: {to.dam_weight(what.grams)}"
    return f"{to.pup(what.pup)} weighed: {to.reader.weight(what.grams)}"


@tell_pups.register
def _(what: Round, to: Listener) -> str:
    weights = (f"{to.pup(one.pup)}: {to.reader.weight(one.grams)}" for one in what.weights)
    return f"pups weighed: {'; '.join(weights)}"


@tell_pups.register
def _(what: Feed, to: Listener) -> str:
    volume = "" if what.millilitres is None else f"{plain(what.millilitres)} ml"
    return f"{to.pup(what.pup)} fed: {listed(_HOW[what.how], volume)}"


@tell_pups.register
def _(what: PupState, to: Listener) -> str:
    return f"{to.pup(what.pup)}: {listed(*(PUP_WORDS[sign] for sign in what.signs))}"


@tell_pups.register
def _(what: Death, to: Listener) -> str:
    return f"{to.pup(what.pup)} died: {what.why or 'cause not given'}"


@tell_pups.register
def _(what: Milestone, to: Listener) -> str:
    whose = "all pups" if what.pup is None else to.pup(what.pup)
    words = MILESTONE_WORDS[what.milestone]
    if what.number or what.milestone == "chipped":
        words += f", number {what.number or 'not given'}"
    return f"{whose}: {words}"

"""A line of the night told as a small scene, so that a person can type the line."""

from datetime import timedelta
from functools import singledispatch
from typing import Any

from boxlamp.language import Context, NotUnderstood, read_line, say
from boxlamp.model.entry import Entry
from boxlamp.model.happenings import (
    Afterbirth,
    Birth,
    Contraction,
    Discharge,
    Part,
    Rest,
    Sac,
    Sign,
    Step,
    Temperature,
    Waters,
    Weight,
    What,
)
from boxlamp.model.quantities import plain
from boxlamp.training.drill.night import PastNight

_NUMBERED = {"kind", "pup"}
# Saying it or leaving it out is the same.
_SAME_AS_UNSAID = {("state", "alive")}
_TWO = 2


def scene(entry: Entry) -> str | None:
    """What happens, in plain words; nothing for a line that is not told well in words."""
    if entry.certainty != "seen" or entry.at != entry.recorded:
        return None
    return _told(entry.what)


def facts_of(what: What) -> dict[str, Any]:
    """What a happening says beyond its kind: the fields that are set to something."""
    if isinstance(what, Contraction):  # one of no strength counts as strong
        return {"strength": "weak" if what.strength == "weak" else "strong"}
    return {
        name: value
        for name, value in what
        if name not in _NUMBERED
        and value != type(what).model_fields[name].default
        and (name, value) not in _SAME_AS_UNSAID
    }


def context_of(night: PastNight, entry: Entry) -> Context:
    """What the line may refer to: what was known the second before it was typed."""
    before = night.typed(None, entry.recorded - timedelta(seconds=1))
    return Context.of(before, entry.recorded, night.zone_name)


def can_be_typed(night: PastNight, entry: Entry) -> bool:
    """Whether the plain words for this entry read back as the entry, from what was known."""
    try:
        draft = read_line(say(entry.what), context_of(night, entry)).draft
    except NotUnderstood:
        return False
    return draft.what == entry.what


@singledispatch
def _told(_what: What) -> str | None:
    return None


@_told.register
def _(what: Birth) -> str | None:
    sex = f"{what.sex} pup" if what.sex else "pup"
    weight = f" of {plain(what.weight)} g" if what.weight is not None else ""
    way = f" {what.presentation} first" if what.presentation else ""
    sac = ", still in its sac" if what.in_sac else ""
    state = {"limp": " It is limp.", "dead": " It is dead."}.get(what.state or "", "")
    mark = f" You mark it {what.mark}." if what.mark else ""
    return f"A {sex}{weight} is born{way}{sac}.{state}{mark}"


@_told.register
def _(what: Afterbirth) -> str | None:
    if what.fate == "not-seen" or what.count > _TWO:
        return None
    one = "An afterbirth comes" if what.count == 1 else "Two afterbirths come"
    whose = f"; it is that of pup {what.of}" if what.of else ""
    eaten = ", and she eats it" if what.fate == "eaten" else ""
    return f"{one}{whose}{eaten}."


@_told.register
def _(what: Contraction) -> str | None:
    return "She strains weakly." if what.strength == "weak" else "She strains hard."


@_told.register
def _(what: Rest) -> str | None:
    return None if what.sac_gone else "She stops straining and rests."


@_told.register
def _(what: Waters) -> str | None:
    colour = "" if what.colour == "unknown" else f" They are {what.colour}."
    return f"Her waters break.{colour}"


@_told.register
def _(_what: Sac) -> str | None:
    return "A sac shows at the vulva."


@_told.register
def _(what: Part) -> str | None:
    if what.part == "unknown":
        return None
    verb = "show" if what.part == "feet" else "shows"
    return f"The {what.part} of a pup {verb} at the vulva."


@_told.register
def _(what: Temperature) -> str | None:
    value = f"{plain(what.celsius)} °C"
    if what.where == "box":
        return None
    if what.pup is None:
        return f"You take her temperature: {value}."
    return f"You take the temperature of pup {what.pup}: {value}."


_AMOUNTS = {"streak": "A streak of", "some": "Some", "heavy": "A lot of", "clots": "Clots:"}


@_told.register
def _(what: Discharge) -> str | None:
    if what.colour in {"unknown", "pus"} or what.amount not in {"streak", "some", "heavy"}:
        return None
    foul = ", and it smells foul" if what.foul else ""
    return f"{_AMOUNTS[what.amount]} {what.colour} discharge comes{foul}."


_SIGNS = {"restless": "restless", "nesting": "nesting", "panting": "panting",
          "shivering": "shivering", "digging": "digging"}  # fmt: skip


@_told.register
def _(what: Sign) -> str | None:
    if not set(what.signs) <= _SIGNS.keys():
        return None
    *most, last = (_SIGNS[sign] for sign in what.signs)
    return f"She is {', '.join(most)}{' and ' if most else ''}{last}."


_STEPS = {
    ("sac-open", ""): "You open the sac of pup {}.",
    ("airway", ""): "You clear the mouth and nose of pup {}.",
    ("breathing", ""): "Pup {} begins to breathe.",
    ("dried", ""): "You rub pup {} dry.",
    ("milk", ""): "Pup {} drinks its first milk.",
    ("cord", "bleeding"): "The cord of pup {} bleeds.",
    ("cord", "tied"): "You tie the cord of pup {}.",
    ("palate", "ok"): "You look at the palate of pup {}: it is whole.",
    ("palate", "cleft"): "You look at the palate of pup {}: it is cleft.",
}


@_told.register
def _(what: Step) -> str | None:
    if what.step == "marked":
        return f"You mark pup {what.pup} {what.finding}."
    told = _STEPS.get((what.step, what.finding))
    return told and told.format(what.pup)


@_told.register
def _(what: Weight) -> str | None:
    return None if what.pup is None else f"Pup {what.pup} weighs {plain(what.grams)} g."

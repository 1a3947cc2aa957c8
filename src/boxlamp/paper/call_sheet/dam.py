"""How the dam is: her temperature, her discharge, how she looks."""

from datetime import timedelta

from boxlamp.model.entry import Entry
from boxlamp.model.happenings import DamState, Discharge, Temperature
from boxlamp.paper.call_sheet.facts import Fact, Known
from boxlamp.paper.call_sheet.teller import Teller
from boxlamp.paper.call_sheet.words import capital, listed
from boxlamp.paper.telling_words import DAM_WORDS
from boxlamp.rules.temperature_drop import course

# Our choice: a heavy bleed stays news for so long, whatever smaller one was seen after it.
_HOUR = timedelta(hours=1)
_MUCH = ("heavy", "clots")
_AMOUNTS = {"streak": "a streak", "some": "some", "heavy": "heavy", "clots": "clots"}


_READINGS = 3


_READINGS_DAYS = 3


# How many lines about how she looks are told.
_STATES = 3


# Our choice: what is older than this says nothing of how she is now.
_TEMPERATURE_DAYS = 7


_DISCHARGE_DAYS = 14


_ASKED_FOR = timedelta(days=21)
"""For so long after the birth a vet asks for her temperature and discharge. Our choice."""


def discharge(teller: Teller) -> Known:
    """What was seen last, what else before it within a day, and a heavy one of the same hour."""
    last = teller.verdict.story.last(Discharge)
    old_news = last is None or (
        teller.stage == "after" and not teller.recent(last, _DISCHARGE_DAYS)
    )
    if last is None or old_news or not isinstance(last.what, Discharge):
        return Known((), ("discharge",) if asked(teller) else ())
    told = f"{capital(_discharge_words(last))}, {teller.noted(last)}"
    before = [
        entry
        for entry in teller.verdict.story.of(Discharge)
        if isinstance(entry.what, Discharge)
        and entry.what.amount != "none"
        and _looks(entry) != _looks(last)
        and teller.recent(entry)
    ]
    # A clear one, or none at all, does not undo what was seen before it.
    if before:
        told += f"; before that {_discharge_words(before[-1])}, {teller.when(before[-1])}"
        told += _heavy(before, last, teller)
    old = () if teller.recent(last) else ("",)
    fact = Fact("assessment", "discharge", f"{told}.", old, "past" if old else "discharge")
    return Known((fact,))


def _looks(entry: Entry) -> tuple[str, str, bool] | None:
    """Colour, amount and smell."""
    what = entry.what
    return (what.colour, what.amount, what.foul) if isinstance(what, Discharge) else None


def _heavy(before: list[Entry], last: Entry, teller: Teller) -> str:
    """The newest heavy one of the hour before the last, where two smaller ones came after it."""
    if _much(last) or _much(before[-1]):
        return ""
    heavy = [entry for entry in before if _much(entry) and last.at - entry.at <= _HOUR]
    if not heavy:
        return ""
    return f"; the heaviest of that hour {_discharge_words(heavy[-1])}, {teller.when(heavy[-1])}"


def _much(entry: Entry) -> bool:
    return isinstance(entry.what, Discharge) and entry.what.amount in _MUCH


def _discharge_words(entry: Entry) -> str:
    """Its colour, amount and smell as they were written down; an amount only if it was."""
    what = entry.what
    if not isinstance(what, Discharge) or what.amount == "none":
        return "none seen"
    colour = "colour not said" if what.colour == "unknown" else what.colour
    said = what.amount != "some" or "some" in entry.text.casefold().split()
    amount = f", {_AMOUNTS[what.amount]}" if said else ""
    return f"{colour}{amount}{', smells foul' if what.foul else ''}"


def asked(teller: Teller) -> bool:
    """Whether a vet still asks for what a birth leaves behind in the dam."""
    last = teller.verdict.litter.last_birth or teller.verdict.litter.finished
    return teller.stage != "after" or last is None or teller.verdict.at - last <= _ASKED_FOR


def temperature(teller: Teller) -> Known:
    """The last reading, and the ones before it for the way it goes."""
    readings = [
        (entry, entry.what.celsius)
        for entry in teller.verdict.story.of(Temperature)
        if isinstance(entry.what, Temperature) and entry.what.where == "dam"
    ]
    late = teller.stage == "after" and readings and not teller.recent(
        readings[-1][0], _TEMPERATURE_DAYS
    )  # fmt: skip
    if not readings or late:
        return Known((), ("her temperature",) if asked(teller) else ())
    entry, celsius = readings[-1]
    words = f"{teller.reader.temperature(celsius)} {teller.when(entry)}{_fall(entry, teller)}"
    before = [
        f"{teller.reader.temperature(value)} {teller.on(earlier)}"
        for earlier, value in readings[-_READINGS:-1][::-1]
        if (entry.at - earlier.at).days < _READINGS_DAYS
    ]
    longer = f"{words}; before that {', '.join(before)}." if before else f"{words}."
    return Known((Fact("assessment", "temperature", longer, (f"{words}.",), "temperature"),))


def _fall(reading: Entry, teller: Teller) -> str:
    """Whether a reading is low: the fall that comes before labour, or not sure to be one yet."""
    for step in course(teller.verdict.story, teller.verdict.book):
        if step.entry.id == reading.id and step.low:
            sure = step.drop is not None
            return ": a fall before labour" if sure else ": low, not confirmed by a second reading"
    return ""


def signs(teller: Teller) -> Known:
    """How she looks, the newest line first."""
    lines = [entry for entry in teller.verdict.story.of(DamState) if teller.recent(entry)]
    told = [
        f"{listed([DAM_WORDS[sign] for sign in entry.what.signs])} {teller.noted(entry)}"
        for entry in lines[::-1][:_STATES]
        if isinstance(entry.what, DamState)
    ]
    if not told:
        return Known((), ("how she is in herself",))
    words = capital("; ".join(told))
    return Known((Fact("assessment", "the dam", f"{words}.", (f"{capital(told[0])}.",), "signs"),))

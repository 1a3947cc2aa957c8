"""The assessment of a call: what was seen of her and of the pups, and how old each finding is."""

from collections.abc import Callable, Sequence
from datetime import timedelta

from boxlamp.model.entry import Entry
from boxlamp.model.happenings import (
    Birth,
    Contraction,
    DamState,
    Discharge,
    Part,
    Rest,
    Sac,
    Temperature,
    Treatment,
    VetContact,
    What,
)
from boxlamp.model.litter import Litter
from boxlamp.paper.call_sheet_facts import OWN_WORDS, Fact, Known, Teller, capital, listed
from boxlamp.paper.call_sheet_pups import came_round, litter_age, litter_gain, living, pup_facts
from boxlamp.paper.telling_words import DAM_WORDS
from boxlamp.rules.temperature_drop import course
from boxlamp.view.text import counted

_BY = {"xray": "by x-ray", "scan": "by scan", "guess": "by a guess"}
_PARTS = {
    "head": "a head",
    "feet": "feet",
    "tail": "a tail",
    "rump": "a rump",
    "unknown": "a part of a pup, not said which",
}
_CONTACTS = {
    "called": "rung",
    "advised": "advised",
    "arrived": "came",
    "seen": "has seen her",
    "left-for": "left for the vet",
}
_AMOUNTS = {"streak": "a streak", "some": "some", "heavy": "heavy", "clots": "clots"}
_NONE_BORN = {
    "before": "none born yet",
    "labour": "none born yet",
    "after": "no birth written down",
}
_READINGS = 3
_STATES = 3
_CONTACTS_SHOWN = 2
_GIVEN_SHOWN = 2
# Our choice: what was given in the last two weeks may still matter to whoever answers.
_GIVEN_DAYS = 14
# Our choice: what is older than this says nothing of how she is now.
_TEMPERATURE_DAYS = 7
_DISCHARGE_DAYS = 14
_ASKED_FOR = timedelta(days=21)
"""For so long after the birth a vet asks for her temperature and discharge. Our choice."""


def assessment(teller: Teller) -> Known:
    """Every answer of this stage, the first of them under the part's own name."""
    parts: tuple[Callable[[Teller], Known], ...]
    if teller.stage == "after":
        parts = (
            _tally, litter_age, _temperature, _dam, pup_facts, came_round, litter_gain, _discharge,
            _afterbirths,
        )  # fmt: skip
    elif teller.stage == "labour":
        parts = (
            _tally, _pushing, _vulva, _discharge, _afterbirths, _temperature, _dam, pup_facts,
            came_round,
        )  # fmt: skip
    else:
        parts = (_temperature, _discharge, _dam, _expected)
    known = [part(teller) for part in (*parts, _given, _vet)]
    facts = [fact for one in known for fact in one.facts]
    unknown = tuple(words for one in known for words in one.unknown)
    if not facts:
        facts = [Fact("assessment", "the dam", "Nothing is written down of how she is.")]
    return Known(tuple(facts), unknown)


def _expected(teller: Teller) -> Known:
    litter = teller.verdict.litter
    if litter.expected is None:
        return Known((), ("how many pups are expected",))
    by = _BY.get(litter.expected_by or "", "")
    words = f"{counted(litter.expected, 'pup', 'pups')} expected {by}".rstrip()
    return Known((Fact("assessment", "pups", f"{words}.", worth=9),))


def _tally(teller: Teller) -> Known:
    """How many were expected, are born, live; when the last one came."""
    litter = teller.verdict.litter
    unknown: tuple[str, ...] = ()
    by = _BY.get(litter.expected_by or "", "")
    words = f"{litter.born} born" if litter.born else _NONE_BORN[teller.stage]
    if litter.expected is not None:
        expected = f"{litter.expected} {by}" if litter.born else f"{litter.expected} expected {by}"
        words += f" of {expected}" if litter.born else f"; {expected}"
    elif teller.stage == "labour":
        unknown = ("how many pups are expected",)
    if litter.born:
        words += f", {living(teller)}"
    words = capital(words.rstrip())
    if litter.born and teller.stage == "labour":
        words += f". Last {teller.when(litter.in_order[-1].birth)}"
    return Known((Fact("assessment", "pups", f"{words}."),), unknown)


def _pushing(teller: Teller) -> Known:
    """Strong or weak, since when, the last one; or since when she rests."""
    story, litter = teller.verdict.story, teller.verdict.litter
    pushes = story.of(Contraction)
    if litter.caesarean is not None:
        return Known(())  # nobody waits for a push any more
    if not pushes:
        return Known((), ("contractions",))
    last = pushes[-1]
    since = [entry for entry in pushes if litter.last_birth is None or entry.at > litter.last_birth]
    rest = story.last(Rest)
    resting = ""
    if rest is not None and rest.at >= last.at:
        resting = f" Resting since {teller.at(rest)}{_for(teller, rest)}."
    if not since:
        words = f"None written down since the last pup; last one {teller.when(last)}.{resting}"
        return Known((Fact("assessment", "pushing", words, worth=8),))
    latest = f"Last push {teller.when(last)}, {_strength(last)}."
    first = f" First since the last pup {teller.at(since[0])}" if litter.born else (
        f" First {teller.at(since[0])}"
    )  # fmt: skip
    many = f"{first}; {_counts(since)} written down." if len(since) > 1 else ""
    words = f"{latest}{resting}{many}"
    return Known((Fact("assessment", "pushing", words, (f"{latest}{resting}",), 8),))


def _for(teller: Teller, entry: Entry) -> str:
    age = teller.age(entry.at)
    return f", for {age}" if age else ""


def _strength(push: Entry) -> str:
    strength = getattr(push.what, "strength", "unspecified")
    return "strength not said" if strength == "unspecified" else str(strength)


def _counts(pushes: Sequence[Entry]) -> str:
    """``3 strong, 2 weak``."""
    said = [_strength(push) for push in pushes]
    kinds = [(kind, said.count(kind)) for kind in ("strong", "weak", "strength not said")]
    return ", ".join(
        f"{count} {'of ' if kind.startswith('strength') else ''}{kind}"
        for kind, count in kinds
        if count
    )


def _vulva(teller: Teller) -> Known:
    """What shows now: the newest line about it since the last pup; nothing after a caesarean."""
    if teller.verdict.litter.caesarean is not None:
        return Known(())
    shows = None
    for entry in teller.verdict.story.of(Sac, Part, Rest, Birth):
        match entry.what:
            case Sac() | Part():
                shows = entry
            case Rest(sac_gone=True):
                shows = entry
            case Birth():
                shows = None
            case _:
                pass
    if shows is None:
        return Known((), ("what shows at the vulva now",))
    match shows.what:
        case Sac():
            words = "A sac"
        case Part(part=part):
            words = capital(_PARTS[part])
        case _:
            words = "Nothing: the sac slipped back"
    told = f"{words}, seen {teller.when(shows)}."
    return Known((Fact("assessment", "at the vulva", told, worth=9),))


def _discharge(teller: Teller) -> Known:
    last = teller.verdict.story.last(Discharge)
    old_news = last is None or (
        teller.stage == "after" and not teller.recent(last, _DISCHARGE_DAYS)
    )
    if last is None or old_news or not isinstance(last.what, Discharge):
        return Known((), ("discharge",) if _asked(teller) else ())
    what = last.what
    told = f"{capital(_discharge_words(what))}, {teller.when(last)}"
    before = [
        entry
        for entry in teller.verdict.story.of(Discharge)
        if isinstance(entry.what, Discharge)
        and entry.what.amount != "none"
        and (entry.what.colour, entry.what.foul) != (what.colour, what.foul)
        and teller.recent(entry)
    ]
    # A clear one, or none at all, does not undo what was seen before it.
    if before:
        told += f"; before that {_discharge_words(before[-1].what)}, {teller.when(before[-1])}"
    old = () if teller.recent(last) else ("",)
    fact = Fact("assessment", "discharge", f"{told}.", old, 2 if old else 8)
    return Known((fact,))


def _discharge_words(what: What) -> str:
    """Its colour, amount and smell as they were written down."""
    if not isinstance(what, Discharge) or what.amount == "none":
        return "none seen"
    colour = "colour not said" if what.colour == "unknown" else what.colour
    return f"{colour}, {_AMOUNTS[what.amount]}{', smells foul' if what.foul else ''}"


def _asked(teller: Teller) -> bool:
    """Whether a vet still asks for what a birth leaves behind in the dam."""
    last = teller.verdict.litter.last_birth or teller.verdict.litter.finished
    return teller.stage != "after" or last is None or teller.verdict.at - last <= _ASKED_FOR


def _afterbirths(teller: Teller) -> Known:
    """How many have passed and which pups' are missing; nothing before the first pup."""
    litter = teller.verdict.litter
    ledger = litter.ledger
    if not litter.born:
        return Known(())
    owed = [str(debt.pup) for debt in ledger.owed]
    unseen = [str(debt.pup) for debt in ledger.debts.values() if debt.answer == "not-seen"]
    told = [f"{ledger.passed} passed" if ledger.passed else "none passed"]
    short = told + [f"{len(owed)} not yet seen"] * bool(owed)
    if owed:
        told.append(f"{len(owed)} not yet seen, of {_pups(owed)}")
    if unseen:
        told.append(f"looked for and not seen, of {_pups(unseen)}")
        short.append(f"{len(unseen)} looked for and not seen")
    both = ["one more than pups"] * bool(ledger.surplus)
    both += ["none counted as owed after the caesarean"] * _by_caesarean(litter)
    settled = not owed and not unseen and not both
    if settled and not _asked(teller):
        return Known(())
    both += ["none missing"] * settled
    words, fewer = (f"{capital('; '.join([*some, *both]))}." for some in (told, short))
    quiet = teller.stage == "after" and settled
    gone = ("",) if quiet else ()
    return Known((Fact("assessment", "afterbirths", words, (fewer, *gone), 1 if quiet else 5),))


def _by_caesarean(litter: Litter) -> bool:
    return any(debt.answer == "caesarean" for debt in litter.ledger.debts.values())


def _pups(numbers: list[str]) -> str:
    return f"{'pup' if len(numbers) == 1 else 'pups'} {listed(numbers)}"


def _temperature(teller: Teller) -> Known:
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
        return Known((), ("her temperature",) if _asked(teller) else ())
    entry, celsius = readings[-1]
    words = f"{teller.reader.temperature(celsius)} {teller.when(entry)}{_fall(entry, teller)}"
    before = [
        f"{teller.reader.temperature(value)} {teller.on(earlier)}"
        for earlier, value in readings[-_READINGS:-1][::-1]
        if (entry.at - earlier.at).days < _STATES
    ]
    longer = f"{words}; before that {', '.join(before)}." if before else f"{words}."
    return Known((Fact("assessment", "temperature", longer, (f"{words}.",), 6),))


def _fall(reading: Entry, teller: Teller) -> str:
    """Whether a reading is low: the fall that comes before labour, or not sure to be one yet."""
    for step in course(teller.verdict.story, teller.verdict.book):
        if step.entry.id == reading.id and step.low:
            sure = step.drop is not None
            return ": a fall before labour" if sure else ": low, not confirmed by a second reading"
    return ""


def _dam(teller: Teller) -> Known:
    """How she looks, the newest line first."""
    lines = [entry for entry in teller.verdict.story.of(DamState) if teller.recent(entry)]
    told = [
        f"{listed([DAM_WORDS[sign] for sign in entry.what.signs])} {teller.when(entry)}"
        for entry in lines[::-1][:_STATES]
        if isinstance(entry.what, DamState)
    ]
    if not told:
        return Known((), ("how she is in herself",))
    words = capital("; ".join(told))
    return Known((Fact("assessment", "the dam", f"{words}.", (f"{capital(told[0])}.",), 6),))


def _given(teller: Teller) -> Known:
    """What was given, in the words of whoever wrote it down."""
    lines = [
        entry for entry in teller.verdict.story.of(Treatment) if teller.recent(entry, _GIVEN_DAYS)
    ]
    told = []
    for entry in lines[::-1]:
        if isinstance(entry.what, Treatment):
            by = f" by {teller.own(entry.what.by, 20)}" if entry.what.by else ""
            told.append(f"{teller.own(entry.what.what, OWN_WORDS)}{by} {teller.when(entry)}")
    if not told:
        return Known((), ("anything given",) if teller.stage == "labour" else ())
    words, *fewer = (f"{capital(_first_of(told, count))}." for count in (None, _GIVEN_SHOWN, 1))
    return Known((Fact("assessment", "given", words, tuple(fewer), 7),))


def _first_of(told: list[str], count: int | None) -> str:
    """The first so many, and how many more there are."""
    rest = len(told) - count if count is not None else 0
    return "; ".join([*told[:count], *([f"{rest} more"] if rest > 0 else [])])


def _vet(teller: Teller) -> Known:
    """When the vet was last spoken to, and what was said."""
    lines = [entry for entry in teller.verdict.story.of(VetContact) if teller.recent(entry, 7)]
    told = []
    for entry in lines[::-1]:
        if isinstance(entry.what, VetContact):
            said = teller.own(entry.what.said or entry.note, OWN_WORDS)
            contact = _CONTACTS[entry.what.contact]
            told.append(f"{contact} {teller.when(entry)}{f': {said}' if said else ''}")
    if not told:
        return Known((), ())
    words, *fewer = (
        f"{capital('; before that '.join(told[:count]))}." for count in (None, _CONTACTS_SHOWN, 1)
    )
    return Known((Fact("assessment", "the vet", words, tuple(fewer), 8),))

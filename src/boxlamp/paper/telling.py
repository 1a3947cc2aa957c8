"""A happening as a plain sentence for someone who has never seen the words of the log.

Nothing that was written down is dropped, and what was left out of a line that needs it is said
to be unknown. The sentences are short, in the reader's units, without a full stop, on one line.
"""

from collections.abc import Iterator, Mapping
from functools import singledispatch
from types import MappingProxyType

from boxlamp.model.entry import Entry
from boxlamp.model.happenings import (
    Ack,
    Amend,
    Caesarean,
    Contraction,
    DamState,
    Details,
    Discharge,
    Expect,
    Finished,
    Happening,
    Kit,
    Limit,
    Mating,
    Note,
    Ovulation,
    Part,
    Rest,
    Sac,
    Scan,
    Settled,
    Sign,
    Strike,
    Temperature,
    Treatment,
    VetContact,
    Waters,
    What,
)
from boxlamp.model.quantities import plain
from boxlamp.paper.reader import Reader
from boxlamp.paper.telling_pups import tell_pups
from boxlamp.paper.telling_words import DAM_WORDS, SIGN_WORDS, Listener, length_words, listed
from boxlamp.planning.kit import BY_ID as KIT
from boxlamp.rules.registry import BY_ID as RULES
from boxlamp.view.text import clean, counted

UNNAMED: Mapping[int, str] = MappingProxyType({})
"""No pup has a name beside its number."""


def told(what: Happening, reader: Reader, names: Mapping[int, str] = UNNAMED) -> str:
    """What happened, as one plain sentence. ``names`` says what a pup is called by its number."""
    words = clean(_tell(what, Listener(reader, names)))
    return words[:1].upper() + words[1:]


def told_entry(entry: Entry, reader: Reader, names: Mapping[int, str] = UNNAMED) -> str:
    """What an entry says, with its note. A correction of a time says the time it gives."""
    words = told(entry.what, reader, names)
    if isinstance(entry.what, Amend) and entry.what.retimed:
        words += f"; it happened {_when(entry, reader)}"
    return f"{words}; {clean(entry.note)}" if entry.note else words


def _when(entry: Entry, reader: Reader) -> str:
    match entry.certainty:
        case "seen":
            return f"on {reader.moment(entry.at)}"
        case "estimated":
            return f"on about {reader.moment(entry.at)}"
        case "day":
            return f"on {reader.day(entry.at)}, time not known"


@singledispatch
def _tell(what: What, to: Listener) -> str:
    return tell_pups(what, to)


@_tell.register
def _(what: Details, to: Listener) -> str:
    return f"about the dam: {'; '.join(_details(what, to)) or 'nothing given'}"


def _details(what: Details, to: Listener) -> Iterator[str]:
    """Every fact that was given, one phrase each."""
    reader = to.reader
    born = what.breed_birth_weight
    texts = (
        ("name", what.dam),
        ("breed", what.breed),
        ("age", None if what.age_years is None else f"{plain(what.age_years)} years"),
        ("weight", None if what.weight is None else to.dam_weight(what.weight)),
        ("usual birth weight of the breed", None if born is None else reader.weight(born)),
        ("time zone", what.zone),
        ("vet", what.vet),
        ("vet's telephone", what.vet_phone),
        ("telephone at night", what.night_phone),
    )
    yield from (f"{label} {text}" for label, text in texts if text)
    facts = (
        (what.first_litter, "her first litter", "not her first litter"),
        (what.flat_faced, "flat-faced", "not flat-faced"),
        (what.toy, "a toy breed", "not a toy breed"),
        (what.earlier_dystocia, "a difficult whelping before", "no difficult whelping before"),
        (what.earlier_caesarean, "a caesarean before", "no caesarean before"),
    )
    yield from (yes if fact else no for fact, yes, no in facts if fact is not None)
    if what.travel_minutes is not None:
        yield f"{what.travel_minutes} min to the vet"


_LEVELS = {"watch": "watch closely", "call": "call the vet", "go": "go to the vet"}


@_tell.register
def _(what: Limit, _to: Listener) -> str:
    clock = "" if what.clock == "main" else f" ({what.clock})"
    return (
        f'limit changed for "{_title(what.rule)}"{clock}: {_LEVELS[what.level]} '
        f"{_after(what.seconds)}, on the word of {what.by}; reason: {what.why or 'not given'}"
    )


def _after(seconds: int) -> str:
    return f"after {length_words(seconds)}" if seconds else "at once"


def _title(rule: str) -> str:
    """What a rule is called on paper; the name as typed when no rule has it."""
    return RULES[rule].title if rule in RULES else rule


_EVIDENCE = {
    "ovulation": "ovulation",
    "lh": "LH rise",
    "progesterone-rise": "progesterone has begun to rise",
    "progesterone": "progesterone measured",
    "dioestrus": "first day of dioestrus",
}


@_tell.register
def _(what: Ovulation, _to: Listener) -> str:
    value = "" if what.value is None else f"{plain(what.value)} ng/mL"
    if what.basis.startswith("progesterone"):
        return f"{_EVIDENCE[what.basis]}: {value or 'value not given'}"
    return listed(_EVIDENCE[what.basis], value and f"progesterone {value}")


_MEASURES = {
    "icc": "inner chorionic cavity (ICC)",
    "bpd": "width of a pup's head (BPD)",
    None: "measured",
}


@_tell.register
def _(what: Scan, _to: Listener) -> str:
    how = "x-ray" if what.method == "xray" else "ultrasound scan"
    count = "" if what.count is None else f"{counted(what.count, 'pup', 'pups')} counted"
    size = ""
    if what.measure is not None or what.millimetres is not None:
        length = "size not given" if what.millimetres is None else f"{plain(what.millimetres)} mm"
        size = f"{_MEASURES[what.measure]} {length}"
    return f"{how}: {listed(count, size) or 'no count or size given'}"


@_tell.register
def _(what: Expect, _to: Listener) -> str:
    how = {"xray": "by x-ray", "scan": "by ultrasound scan", "guess": "a guess"}[what.method]
    return f"{counted(what.count, 'pup', 'pups')} expected ({how})"


@_tell.register
def _(what: Temperature, to: Listener) -> str:
    pup = "" if what.pup is None else to.pup(what.pup)
    whose = {
        "dam": "dam's temperature",
        "pup": f"{pup or 'a pup (which one was not said)'}: temperature",
        "box": "temperature in the box",
    }[what.where]
    beside = f" (with {pup})" if pup and what.where != "pup" else ""
    return f"{whose} {to.reader.temperature(what.celsius)}{beside}"


@_tell.register
def _(what: Sign, _to: Listener) -> str:
    return f"signs of the first stage: {listed(*(SIGN_WORDS[sign] for sign in what.signs))}"


_COLOUR_UNKNOWN = "colour not given"


@_tell.register
def _(what: Waters, _to: Listener) -> str:
    return f"waters broke, {_COLOUR_UNKNOWN if what.colour == 'unknown' else what.colour}"


@_tell.register
def _(what: Part, _to: Listener) -> str:
    if what.part == "unknown":
        return "part of a pup showing at the vulva, which part not given"
    return f"{what.part} of a pup showing at the vulva"


@_tell.register
def _(what: Contraction, _to: Listener) -> str:
    if what.strength == "unspecified":
        return "contraction, strength not given"
    return f"{what.strength} contraction"


@_tell.register
def _(what: Rest, _to: Listener) -> str:
    return "stopped pushing; the sac has slipped back" if what.sac_gone else "stopped pushing"


@_tell.register
def _(what: Discharge, _to: Listener) -> str:
    colour = {"unknown": "", "pus": "pus-like "}.get(what.colour, f"{what.colour} ")
    words = {
        "streak": f"a streak of {colour}discharge",
        "some": f"some {colour}discharge",
        "heavy": f"heavy {colour}discharge",
        "clots": f"{colour}discharge with clots",
        "none": f"no {colour}discharge",
    }[what.amount]
    unknown = "" if colour or what.amount == "none" else _COLOUR_UNKNOWN
    return listed(words, unknown, "foul smell" if what.foul else "")


@_tell.register
def _(what: Kit, to: Listener) -> str:
    item = to.reader.sentence(KIT[what.item].what) if what.item in KIT else what.item
    return f"{'ready' if what.have else 'not ready'} for the whelping: {item}"


@_tell.register
def _(what: DamState, _to: Listener) -> str:
    return f"dam: {listed(*(DAM_WORDS[sign] for sign in what.signs))}"


@_tell.register
def _(what: Treatment, _to: Listener) -> str:
    return f"given: {what.what}; {f'by {what.by}' if what.by else 'by whom was not said'}"


_CONTACTS = {
    "called": "vet called",
    "advised": "vet advised",
    # The same line says that the vet came and that she was brought there.
    "arrived": "with the vet",
    "seen": "seen by the vet",
    "left-for": "left for the vet",
}


@_tell.register
def _(what: VetContact, _to: Listener) -> str:
    return f"{_CONTACTS[what.contact]}{': ' if what.said else ''}{what.said}"


@_tell.register
def _(what: Finished, _to: Listener) -> str:
    how = {
        "breeder": "in the breeder's judgement",
        "vet": "in the vet's judgement",
        "scan": "as a scan or x-ray shows",
    }
    return f"whelping over, {how[what.by]}"


@_tell.register
def _(what: Note, _to: Listener) -> str:
    if what.unread:
        return f'not understood: "{what.words}"'
    return f"note: {what.words or 'no words'}"


@_tell.register
def _(what: Ack, _to: Listener) -> str:
    if what.rule is None:
        return "took notice of every alert"
    return f'took notice of the alert "{_title(what.rule)}"'


@_tell.register
def _(what: Amend, to: Listener) -> str:
    reads = "" if what.what is None else _tell(what.what, to)
    time = "its time" if what.retimed else ""
    says = reads[:1].upper() + reads[1:]
    words = "; ".join(filter(None, (time, says))) or "nothing changed"
    return f"correction of entry {what.target}: {words}"


@_tell.register
def _(what: Strike, _to: Listener) -> str:
    return f"entry {what.target} withdrawn: {what.why or 'no reason given'}"


@_tell.register(Mating)
@_tell.register(Settled)
@_tell.register(Sac)
@_tell.register(Caesarean)
def _(what: What, _to: Listener) -> str:
    """Kinds that say nothing beyond that they happened."""
    return {
        Mating: "mated",
        Settled: "signs of the first stage gone; she has settled",
        Sac: "a sac (water bag) at the vulva",
        Caesarean: "caesarean",
    }[type(what)]

"""Saying a happening in the language's own words, such that they read back as the same."""

from functools import singledispatch

from boxlamp.language.amounts import numbers_alone, said_seconds
from boxlamp.language.behind import cut_behind
from boxlamp.language.context import NotUnderstood
from boxlamp.language.details import said_values
from boxlamp.language.terms import (
    BIRTH_NOISE,
    BIRTH_STATES,
    IN_SAC,
    NOT_SURELY,
    PRESENTATIONS,
    SEXES,
    is_plain_mark,
    is_way,
)
from boxlamp.language.text import asks, cleaned, quoted
from boxlamp.language.tokens import NOISE, Words, cut_note
from boxlamp.model.happenings import (
    Ack,
    Afterbirth,
    Amend,
    Birth,
    Contraction,
    DamState,
    Death,
    Details,
    Discharge,
    Expect,
    Feed,
    Finished,
    Kit,
    Limit,
    Milestone,
    Note,
    Ovulation,
    Part,
    PupState,
    Reflexes,
    Rest,
    Round,
    Scan,
    Score,
    Sexed,
    Sign,
    Step,
    Strike,
    Temperature,
    Treatment,
    VetContact,
    Waters,
    Weight,
    What,
)
from boxlamp.model.litter import Litter
from boxlamp.model.quantities import plain

_LARGEST_BARE_NUMBER = 30
_NO_NAME = NOISE | {"all", "watch", "call", "go", "by"}
# Words that mean something else in the line of a birth, alone or as the start of a phrase.
_NO_MARK = {
    word
    for lookup in (BIRTH_STATES, PRESENTATIONS, SEXES, IN_SAC, BIRTH_NOISE, NOISE)
    for phrase in lookup
    for word in phrase.split()
}


def say(what: What, litter: Litter | None = None) -> str:
    """Canonical words for a happening; :func:`read_line` reads them back as the same.

    With a litter, a pup that has a mark of its own is called by it. Unread notes read back as
    plain ones, because a person who types them again means them.
    """
    words = _say(what)
    pup = getattr(what, "pup", None)
    if litter is None or pup is None or isinstance(what, Birth):
        return words
    mark = _own_mark(pup, litter)
    return words.replace(f" {pup}", f" {mark}", 1) if mark else words


def _own_mark(pup: int, litter: Litter) -> str | None:
    mark = litter.pups[pup].mark if pup in litter.pups else None
    others = (other.mark for other in litter.pups.values() if other.number != pup)
    is_plain = mark is not None and is_plain_mark(mark.split(" "))
    return mark if is_plain and mark not in others else None


def free(text: str, *, forbidden: str = "", noted: bool = False) -> str:
    """Free text as it can stand in a line: bare where that reads back, else in quotes.

    ``noted`` text stands behind the ``;``, where a time or a question is nothing but words.
    """
    reads_back = (
        '"' not in text
        and cut_note(text) == (text, "")
        and Words(text).free() == text == cleaned(text)
        and (noted or not _turns(text))
        and (not forbidden or Words(text).find(forbidden) is None)
    )
    return text if text and reads_back else quoted(text)


def _turns(text: str) -> bool:
    """Whether the end or beginning of a text would be taken for more than words."""
    if asks(text) or Words(text).key() in NOT_SURELY:
        return True
    try:
        return cut_behind(f"x {text}")[0] is not None
    except NotUnderstood:
        return True


def _joined(*parts: str) -> str:
    return " ".join(filter(None, parts))


@singledispatch
def _say(what: What) -> str:
    """Kinds that are one bare word: mated, settled, sac, caesarean."""
    return {"mating": "mated"}.get(getattr(what, "kind", ""), getattr(what, "kind", ""))


@_say.register
def _(what: Details) -> str:
    values = (f"{key} {free(value, forbidden='/')}" for key, value in said_values(what))
    return "set " + " / ".join(values)


@_say.register
def _(what: Limit) -> str:
    clock = "" if what.clock == "main" else _name(what.clock)
    length = said_seconds(what.seconds)
    return _joined(
        "limit", _name(what.rule), clock, what.level, length, "by", f"{free(what.by)};",
        free(what.why, noted=True),
    )  # fmt: skip


def _name(text: str) -> str:
    """A rule's name: bare when it is one plain word."""
    is_plain = text.isascii() and text.replace("-", "").isalnum() and text == text.lower()
    is_plain = is_plain and text.strip("-") == text and text not in _NO_NAME
    return text if is_plain else quoted(text)


@_say.register
def _(what: Ovulation) -> str:
    word = "progesterone" if what.basis == "progesterone-rise" else what.basis
    value = "" if what.value is None else f"{plain(what.value)} ng"
    return _joined(word, value, "rise" if what.basis == "progesterone-rise" else "")


@_say.register
def _(what: Scan) -> str:
    count = "" if what.count is None else f"{what.count} pups"
    length = "" if what.millimetres is None else f"{plain(what.millimetres)}mm"
    return _joined("xray" if what.method == "xray" else "scan", count, what.measure or "", length)


@_say.register
def _(what: Expect) -> str:
    return f"expect {what.count} {what.method}"


@_say.register
def _(what: Temperature) -> str:
    where = {"dam": "", "box": "box", "pup": f"pup {what.pup}"}[what.where]
    return _joined("temp", where, f"{plain(what.celsius)}c")


@_say.register
def _(what: Sign) -> str:
    return _joined("sign", *what.signs)


@_say.register
def _(what: Waters) -> str:
    return _joined("waters", "" if what.colour == "unknown" else what.colour)


@_say.register
def _(what: Part) -> str:
    return _joined("part", "" if what.part == "unknown" else what.part)


@_say.register
def _(what: Contraction) -> str:
    return _joined("contraction", "" if what.strength == "unspecified" else what.strength)


@_say.register
def _(what: Rest) -> str:
    return "rest sac gone" if what.sac_gone else "rest"


@_say.register
def _(what: Birth) -> str:
    number = str(what.pup) if what.pup <= _LARGEST_BARE_NUMBER else f"#{what.pup}"
    weight = "" if what.weight is None else f"{plain(what.weight)}g"
    first = f"{what.presentation} first" if what.presentation else ""
    return _joined(
        "pup", number, what.sex or "", weight, _mark(what.mark), what.state or "", first,
        "in sac" if what.in_sac else "",
    )  # fmt: skip


def _mark(mark: str | None) -> str:
    if mark is None:
        return ""
    if is_plain_mark(mark.split(" ")):
        return mark
    key = mark.casefold()
    is_plain = mark.isascii() and mark.isalpha() and len(mark) > 1 and key not in _NO_MARK
    return f"mark {mark if is_plain else quoted(mark)}"


@_say.register
def _(what: Sexed) -> str:
    return f"sex {what.pup} {what.sex}"


@_say.register
def _(what: Afterbirth) -> str:
    of = "" if what.of is None else f"of {what.of}"
    fate = {"seen": "", "eaten": "eaten", "not-seen": "not seen"}[what.fate]
    return _joined("afterbirth", of, "" if what.count == 1 else f"x{what.count}", fate)


@_say.register
def _(what: Discharge) -> str:
    colour = "" if what.colour == "unknown" else what.colour
    amount = "" if what.amount == "some" else what.amount
    return _joined("discharge", colour, amount, "foul" if what.foul else "")


@_say.register
def _(what: Step) -> str:
    if what.step == "marked":
        return f"mark {what.pup} {free(what.finding)}"
    word = "to-teat" if what.step == "teat" else what.step
    return _joined(word, str(what.pup), what.finding)


@_say.register
def _(what: Score) -> str:
    items = ("?" if item is None else str(item) for item in what.items)
    return _joined("score", str(what.pup), *items)


@_say.register
def _(what: Weight) -> str:
    return f"weigh {what.pup or 'dam'} {plain(what.grams)}g"


@_say.register
def _(what: Round) -> str:
    return _joined("round", *(f"{one.pup} {plain(one.grams)}g" for one in what.weights))


@_say.register
def _(what: Reflexes) -> str:
    items = (("suckle", what.suckle), ("rooting", what.rooting), ("righting", what.righting))
    return _joined("reflex", str(what.pup), *(f"{n} {v}" for n, v in items if v is not None))


@_say.register
def _(what: Milestone) -> str:
    pup = "all" if what.pup is None else str(what.pup)
    word = "chip" if what.milestone == "chipped" else what.milestone
    return _joined(word, pup, what.number)


@_say.register
def _(what: Kit) -> str:
    return _joined("kit", quoted(what.item), "" if what.have else "missing")


@_say.register
def _(what: Feed) -> str:
    volume = "" if what.millilitres is None else f"{plain(what.millilitres)}ml"
    return _joined("feed", str(what.pup), volume, what.how)


@_say.register
def _(what: PupState) -> str:
    return _joined("state", str(what.pup), *what.signs)


@_say.register
def _(what: Death) -> str:
    return _joined("died", str(what.pup), what.why and free(what.why))


@_say.register
def _(what: DamState) -> str:
    return _joined("dam", *what.signs)


@_say.register
def _(what: Treatment) -> str:
    given = free(what.what, forbidden="by")
    if not what.by:
        return f"given {given}"
    by = free(what.by, forbidden="by")
    return f"given {given} by {quoted(what.by) if is_way(Words(by).tokens[0]) else by}"


@_say.register
def _(what: VetContact) -> str:
    words = "left for vet" if what.contact == "left-for" else f"vet {what.contact}"
    return f"{words}; {free(what.said, noted=True)}" if what.said else words


@_say.register
def _(what: Finished) -> str:
    return "finished" if what.by == "breeder" else f"finished by {what.by}"


@_say.register
def _(what: Note) -> str:
    is_plain = Words(what.words).free() == what.words == cleaned(what.words)
    return _joined("note", what.words if is_plain else quoted(what.words))


@_say.register
def _(what: Ack) -> str:
    return _joined("ack", "" if what.rule is None else _name(what.rule))


@_say.register
def _(what: Amend) -> str:
    inner = "" if what.what is None else say(what.what)
    if isinstance(what.what, Birth):
        inner = _mark_first(what.what, inner)
    return _joined("amend", str(what.target), "time" if what.retimed else "", inner)


@_say.register
def _(what: Strike) -> str:
    # A number alone would be another entry.
    why = quoted(what.why) if numbers_alone(Words(what.why)) else what.why and free(what.why)
    return _joined("strike", str(what.target), why)


def _mark_first(birth: Birth, words: str) -> str:
    """Right behind the number of a pup that is out, "blue" would be how it looks, and no mark."""
    alone = birth.sex is None and birth.weight is None and " mark " not in words
    return words.replace(f" {birth.mark}", f" mark {birth.mark}", 1) if alone else words

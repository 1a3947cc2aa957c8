"""Signals made directly from the entries: what was seen, and when.

Pulses (true for one tick) for what happens, steps (a value that holds on) for what is counted.
The names are those of the formulas.
"""

from collections.abc import Callable, Iterator, Mapping
from datetime import UTC, datetime
from typing import NamedTuple

from boxlamp.model.entry import Entry
from boxlamp.model.happenings import (
    Ack,
    Birth,
    Caesarean,
    Contraction,
    DamState,
    Death,
    Details,
    Discharge,
    Expect,
    Feed,
    Finished,
    Limit,
    Milestone,
    Part,
    PupState,
    Rest,
    Sac,
    Scan,
    Settled,
    Sign,
    Step,
    Treatment,
    VetContact,
    Waters,
    What,
)
from boxlamp.model.story import Story
from boxlamp.protocol.records import Protocol
from judge.debts import Debts
from judge.limits import Count
from judge.signals import BEFORE, FALSE, MOST, TICK, TRUE, Signal, held, places, pulses
from judge.warmth import warmth

Seen = Callable[[What], bool]


def _said(kind: type[What], **wanted: object) -> Seen:
    """Whether an entry is of a kind and says one of the values wanted of each of its fields."""

    def seen(what: What) -> bool:
        return isinstance(what, kind) and all(
            getattr(what, name) in (values if isinstance(values, tuple) else (values,))
            for name, values in wanted.items()
        )

    return seen


def _dam(*signs: str) -> Seen:
    return lambda what: isinstance(what, DamState) and not {*signs}.isdisjoint(what.signs)


def _pup(*signs: str) -> Seen:
    return lambda what: isinstance(what, PupState) and not {*signs}.isdisjoint(what.signs)


GREEN = ("green", "black")
THERE = ("streak", "some", "heavy", "clots")


def _foul_or_pus(what: What) -> bool:
    return (
        isinstance(what, Discharge)
        and what.amount != "none"
        and (what.foul or what.colour == "pus")
    )


def _foul(what: What) -> bool:
    """Foul, pus, or mustard-yellow."""
    return _foul_or_pus(what) or _said(Discharge, colour="yellow", amount=THERE)(what)


OF_THE_DAM: Mapping[str, Seen] = {
    "birth": _said(Birth),
    "waters": _said(Waters),
    "sac": _said(Sac),
    "part": _said(Part),
    "strong": _said(Contraction, strength=("strong", "unspecified")),
    "weak": _said(Contraction, strength="weak"),
    "rest": _said(Rest),
    "sac_gone": _said(Rest, sac_gone=True),
    "caesarean": _said(Caesarean),
    "finished": _said(Finished),
    "finished_by_breeder": _said(Finished, by="breeder"),
    "finished_by_vet": _said(Finished, by=("vet", "scan")),
    "sign": _said(Sign),
    "settled": _said(Settled),
    "green_waters": _said(Waters, colour=GREEN),
    "discharge": _said(Discharge, amount=THERE),
    "no_discharge": _said(Discharge, amount="none"),
    "green": _said(Discharge, colour=GREEN, amount=THERE),
    "red_some": _said(Discharge, colour="red", amount="some"),
    "red_heavy": lambda what: _said(Discharge, colour="red", amount=("heavy", "clots"))(what)
    or _said(Discharge, colour="unknown", amount="clots")(what),
    "streak": _said(Discharge, amount="streak"),
    "other_colour": lambda what: isinstance(what, Discharge)
    and what.colour in {"clear", "brown"},
    "other_than_green": _said(Discharge, colour=("clear", "brown", "red", "pus", "yellow")),
    "foul": _foul,
    "foul_or_pus": _foul_or_pus,
    "neither_foul_nor_pus": lambda what: isinstance(what, Discharge) and not _foul_or_pus(what),
    "not_foul": lambda what: isinstance(what, Discharge) and not _foul(what),
    "dam_bleeding": _dam("bleeding"),
    "bright": _dam("bright"),
    "recovered": _dam("recovered"),
    "dull": _dam("dull"),
    "refused_food": _dam("refused-food"),
    "ate": _dam("ate"),
    "collapse": _dam(
        "collapsed", "fits", "rigid", "cannot-stand", "pale", "blue", "unresponsive"
    ),
    "trembling": _dam("trembling"),
    "stiffness": _dam("stiff", "staring", "unsteady"),
    "face_rubbing": _dam("face-rubbing"),
    "udder_sore": _dam("udder-hot", "udder-hard", "udder-painful"),
    "udder_dark": _dam("udder-purple", "udder-black"),
    "udder_well": _dam("udder-well"),
    "vet_looked": _said(VetContact, contact=("arrived", "seen")),
    "treated": _said(Treatment),
}  # fmt: skip
"""Pulses of what was seen of the dam, or written down at all."""

OF_A_PUP: Mapping[str, Seen] = {
    "born": _said(Birth),
    "born_alive": _said(Birth, state=("alive", "limp", None)),
    "born_limp": _said(Birth, state="limp"),
    "born_dead": _said(Birth, state="dead"),
    "born_in_sac": _said(Birth, in_sac=True, state=("alive", "limp", None)),
    "died": _said(Death),
    "left_home": _said(Milestone, milestone="left-home"),
    "sac_open": _said(Step, step="sac-open"),
    "airway": _said(Step, step="airway"),
    "breathing": _said(Step, step="breathing"),
    "cord_bleeding": _said(Step, step="cord", finding="bleeding"),
    "cord_done": _said(Step, step="cord", finding=("tied", "stopped")),
    "milk": _said(Step, step="milk"),
    "to_teat": _said(Step, step="teat"),
    "feed": _said(Feed),
    "fed_at_teat": _said(Feed, how="teat"),
    "fed_by_hand": _said(Feed, how=("bottle", "tube")),
    "crying": _pup("crying"),
    "well": _pup("well"),
    "breathless_sign": _pup("limp", "gasping", "blue"),
    "not_breathing": _pup("not-breathing"),
}
"""Pulses of what was seen of one pup, once it is born."""


FIRST = datetime.min.replace(tzinfo=UTC)


class Line(NamedTuple):
    """An entry and its place in time: seconds from a moment long before the first."""

    place: float
    entry: Entry


class Told(NamedTuple):
    """A story laid out in time."""

    zero: datetime
    lines: tuple[Line, ...]

    @property
    def pups(self) -> tuple[int, ...]:
        """The pups that are spoken of, whether their birth was written down or not."""
        numbers = (getattr(line.entry.what, "pup", None) for line in self.lines)
        return tuple(dict.fromkeys(number for number in numbers if number is not None))


def laid_out(story: Story) -> Told:
    """The entries of a story and where each of them lies in time."""
    entries = story.entries
    if not entries:
        return Told(FIRST, ())
    first = entries[0].at
    seconds = [int((entry.at - first).total_seconds()) + BEFORE for entry in entries]
    zero = datetime.fromtimestamp(first.timestamp() - BEFORE, first.tzinfo)
    return Told(zero, tuple(Line(*pair) for pair in zip(places(seconds), entries, strict=True)))


def of_the_dam(told: Told, protocol: Protocol) -> dict[str, Signal]:
    """Every signal of the dam and of the litter."""
    found = {
        name: pulses(line.place for line in told.lines if seen(line.entry.what))
        for name, seen in OF_THE_DAM.items()
    }
    return found | _counted(told) | _typing(told) | warmth(told.lines, protocol)


def _typing(told: Told) -> dict[str, Signal]:
    """When something of her happened or was typed, and while the newest of it is not yet typed.

    Acknowledgements, facts, limits and counts say nothing of what she is doing (page of
    ``log-quiet``).
    """
    typed: list[float] = []
    waits: list[tuple[float, float]] = []
    for place, entry in told.lines:
        what = entry.what
        count = isinstance(what, Expect) or (isinstance(what, Scan) and what.count is not None)
        if count or isinstance(what, Ack | Details | Limit):
            continue
        late = (entry.recorded - told.zero).total_seconds() + (MOST - 1) * TICK
        is_late = entry.recorded > entry.at
        typed += [place, late] if is_late else [place]
        waits = [turn for turn in waits if turn[0] < place]
        waits += [(place, TRUE), (late, FALSE)] if is_late else [(place, FALSE)]
    return {"typed": pulses(sorted({*typed})), "untyped": held(waits)}


def of_a_pup(told: Told, pup: int) -> dict[str, Signal]:
    """Every signal of one pup."""
    mine = [line for line in told.lines if _speaks_of(line.entry.what, pup)]
    found = {
        name: pulses(line.place for line in mine if seen(line.entry.what))
        for name, seen in OF_A_PUP.items()
    }
    owes = ((place, TRUE if pup in debts.owing else FALSE) for place, debts in _settled(told))
    return found | {"owes": held(owes)}


def _speaks_of(what: What, pup: int) -> bool:
    """Whether a line is about this pup: it names it, or says something of the whole litter."""
    named: int | None = getattr(what, "pup", None)
    return named == pup or (named is None and isinstance(what, Milestone))


def _settled(told: Told) -> Iterator[tuple[float, Debts]]:
    """The afterbirths that are owed and credited after each entry."""
    debts = Debts()
    for line in told.lines:
        debts.take(line.entry.what)
        yield line.place, debts


def _counted(told: Told) -> dict[str, Signal]:
    """What is counted: pups born and expected, afterbirths owed and to spare."""
    count, born = Count(), 0
    steps: dict[str, list[tuple[float, float]]] = {}
    for line, (place, debts) in zip(told.lines, _settled(told), strict=True):
        count.take(line.entry.what)
        born += isinstance(line.entry.what, Birth)
        now = {
            "pups_born": born,
            "pups_expected": count.pups or 0,
            "counted": TRUE if count.by else FALSE,
            "by_xray": TRUE if count.by == "xray" else FALSE,
            "by_scan": TRUE if count.by == "scan" else FALSE,
            "owed": len(debts.owing),
            "spare": debts.spare,
            "unseen": len(debts.unseen),
        }
        for name, value in now.items():
            steps.setdefault(name, []).append((place, value))
    begin = {"counted": FALSE, "by_xray": FALSE, "by_scan": FALSE}
    return {name: held(changes, begin.get(name, 0)) for name, changes in steps.items()}

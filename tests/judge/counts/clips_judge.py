"""The counts and thresholds judged once more, by the production system CLIPS.

:func:`verdicts` runs one night over ``counts.clp`` and ``verdicts.clp``: one event per entry, in
canonical order, and after each what stands then. Numbers are whole ten-thousandths, times seconds.
"""

import ctypes
from collections.abc import Iterator
from datetime import datetime
from decimal import Decimal
from functools import cache, singledispatch
from pathlib import Path
from typing import Any, NamedTuple

import clips

from boxlamp.model.happenings import (
    Afterbirth,
    Birth,
    Caesarean,
    Contraction,
    DamState,
    Death,
    Details,
    Discharge,
    Expect,
    Finished,
    Limit,
    Milestone,
    Part,
    PupState,
    Rest,
    Sac,
    Scan,
    Score,
    Sign,
    Temperature,
    VetContact,
    Waters,
    Weight,
    What,
)
from boxlamp.model.levels import Level
from boxlamp.model.story import Story
from judge.counts.numbers import limit
from judge.counts.told import Known, Then
from support.nights import DEFAULT

CLIPS_RULES = (
    "afterbirths-behind", "afterbirth-surplus", "afterbirth-missing-at-end", "litter-short",
    "foul-discharge", "dam-hot", "dam-cold", "pup-cold", "pup-hot", "box-cold", "box-hot",
    "viability", "weight-loss", "litter-losses",
)  # fmt: skip
"""The rules of the catalogue that these productions decide. Of viability the score alone."""
CONSTRUCTS = [Path(__file__).with_name(name) for name in ("counts.clp", "verdicts.clp")]
FINE = 10_000
Levels = dict[tuple[str, str], Level]
Facts = dict[str, object]


class After(NamedTuple):
    """What stands once the entries of an instant have been taken in: by rule and subject."""

    at: datetime
    levels: Levels


def verdicts(story: Story) -> list[After]:
    """What these rules say after the entries of each instant of a story."""
    engine = _engine()
    found: list[After] = []
    entries = story.entries
    for place, entry in enumerate(entries):
        if place == 0 or isinstance(entry.what, Details | Expect | Scan | Limit):
            _change_limits(engine, Then(Known(entries[: place + 1]), entry.at))
        _now(engine, entry.at)
        for number, event in enumerate(_told(entry.what)):
            header = {"t": int(entry.at.timestamp()), "seq": 2 * place + number + 1}
            engine.find_template("event").assert_fact(**header, **event)
            engine.run()
        engine.run()
        if place + 1 == len(entries) or entries[place + 1].at > entry.at:
            found.append(After(entry.at, _standing(engine)))
    return found


@cache
def _loaded() -> Any:  # noqa: ANN401  (clipspy has no types)
    """One environment for every night: loading the constructs takes longer than a night does."""
    engine = clips.Environment()
    for path in CONSTRUCTS:
        engine.load(str(path))
    # Taken down, it prints on the screen what its own tables still held; so it never is.
    ctypes.pythonapi.Py_IncRef(ctypes.py_object(engine))
    return engine


def _engine() -> Any:  # noqa: ANN401
    """The environment as before the first entry, with the numbers of the protocol."""
    engine = _loaded()
    engine.reset()
    symbol = clips.Symbol
    for band in DEFAULT.band:
        if band.rule not in CLIPS_RULES:
            continue
        engine.find_template("band").assert_fact(
            rule=symbol(band.rule), clock=band.clock, level=symbol(band.level),
            when=symbol(band.when.replace(" ", "-")), value=_fine(band.value),
        )  # fmt: skip
    for setting in DEFAULT.setting:
        if setting.rule not in {*CLIPS_RULES, "birth-weight"}:
            continue
        timed = setting.unit in {"s", "min", "h", "d"}
        plain = timed or setting.unit in {"afterbirths", "pups", "times"}
        engine.find_template("number").assert_fact(
            rule=symbol(setting.rule), name=setting.name,
            value=int(setting.number) if plain else _fine(setting.number),
        )  # fmt: skip
    return engine


def _fine(value: Decimal) -> int:
    return int(value * FINE)


def _change_limits(engine: Any, then: Then) -> None:  # noqa: ANN401
    """Tell it the limits of this instant: a risk or a vet may have changed one."""
    template = engine.find_template("limit")
    for record in DEFAULT.limit:
        if record.rule in CLIPS_RULES and record.level != "prompt":
            level = Level[record.level.upper()]
            seconds = int(limit(then, record.rule, record.clock, level).total_seconds())
            key = {"rule": record.rule, "clock": record.clock, "level": record.level}
            old = [one for one in template.facts()
                   if {name: str(one[name]) for name in key} == key]  # fmt: skip
            if old and old[0]["value"] == seconds:
                continue
            for one in old:
                one.retract()
            facts = {name: clips.Symbol(word) for name, word in key.items()}
            template.assert_fact(**facts, value=seconds)


def _now(engine: Any, at: datetime) -> None:  # noqa: ANN401
    for old in [*engine.find_template("now").facts()]:
        old.retract()
    engine.find_template("now").assert_fact(t=int(at.timestamp()))


def _standing(engine: Any) -> Levels:  # noqa: ANN401
    levels: Levels = {}
    for fact in engine.find_template("verdict").facts():
        key, level = (str(fact["rule"]), str(fact["subject"])), Level[str(fact["level"]).upper()]
        levels[key] = max(level, levels.get(key, level))
    return levels


def _event(kind: str, **slots: object) -> Facts:
    facts: Facts = {"kind": clips.Symbol(kind)}
    for name, value in slots.items():
        facts[name] = clips.Symbol(value) if isinstance(value, str) else value
    return facts


@singledispatch
def _told(_what: What) -> Iterator[Facts]:
    """What an entry says, as events; most entries say one thing, or nothing of any count."""
    yield from ()


@_told.register
def _(what: Birth) -> Iterator[Facts]:
    yield _event("birth", pup=what.pup, word=what.state or "alive")
    if what.weight is not None:
        yield _event("weight", pup=what.pup, amount=_fine(what.weight))


@_told.register
def _(what: Afterbirth) -> Iterator[Facts]:
    yield _event("afterbirth", pup=what.of or 0, count=what.count, word=what.fate)


@_told.register
def _(what: Temperature) -> Iterator[Facts]:
    yield _event("temperature", word=what.where, pup=what.pup or 0, amount=_fine(what.celsius))


@_told.register
def _(what: Weight) -> Iterator[Facts]:
    if what.pup is not None:
        yield _event("weight", pup=what.pup, amount=_fine(what.grams))


@_told.register
def _(what: Score) -> Iterator[Facts]:
    least = sum(item or 0 for item in what.items)
    open_ = sum(item is None for item in what.items)
    if open_ < len(what.items):
        most = least + 2 * open_
        yield _event("score", pup=what.pup, amount=least * FINE, high=most * FINE)


@_told.register
def _(what: Discharge) -> Iterator[Facts]:
    foul = "yes" if what.foul else "no"
    yield _event("discharge", word=what.colour, amount=what.amount, foul=foul)


@_told.register
def _(what: DamState) -> Iterator[Facts]:
    yield _event("dam", signs=[clips.Symbol(sign) for sign in what.signs])


@_told.register
def _(what: PupState) -> Iterator[Facts]:
    yield _event("pup-state", pup=what.pup, signs=[clips.Symbol(sign) for sign in what.signs])


@_told.register
def _(what: Death) -> Iterator[Facts]:
    yield _event("death", pup=what.pup)


@_told.register
def _(what: Milestone) -> Iterator[Facts]:
    if what.milestone == "left-home":
        yield _event("left-home", pup=what.pup or 0)


@_told.register
def _(what: Expect) -> Iterator[Facts]:
    yield _event("count", count=what.count, word=what.method)


@_told.register
def _(what: Scan) -> Iterator[Facts]:
    if what.count is not None:
        yield _event("count", count=what.count, word="xray" if what.method == "xray" else "scan")


@_told.register(Contraction)
@_told.register(Waters)
@_told.register(Sac)
@_told.register(Part)
@_told.register(Rest)
@_told.register(Caesarean)
def _(what: What) -> Iterator[Facts]:
    yield _event(str(getattr(what, "kind")))  # noqa: B009  (every happening has its kind)


@_told.register
def _(_what: Sign) -> Iterator[Facts]:
    yield _event("first-sign")


@_told.register
def _(what: Finished) -> Iterator[Facts]:
    yield _event("finished", word=what.by)


@_told.register
def _(what: VetContact) -> Iterator[Facts]:
    yield _event("vet", word=what.contact)

"""Happenings, entries and typed text of every kind, made at random."""

from collections.abc import Callable
from datetime import UTC, datetime
from decimal import Decimal
from typing import Any, get_args

from hypothesis import strategies as st

from boxlamp.language import Context
from boxlamp.model.entry import Draft, Entry
from boxlamp.model.happenings import (
    Ack,
    Afterbirth,
    Amend,
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
    Kit,
    Limit,
    Mating,
    Milestone,
    Note,
    Ovulation,
    Part,
    PupState,
    Reflexes,
    Rest,
    Round,
    Sac,
    Scan,
    Score,
    Settled,
    Sexed,
    Sign,
    Step,
    Strike,
    Temperature,
    Treatment,
    VetContact,
    Waters,
    Weighed,
    Weight,
    What,
)
from boxlamp.model.litter import Litter, Pup
from boxlamp.model.seen import Colour, DamSign, MilestoneName, PupSign, SignName, StepName

NOW = datetime(2026, 3, 2, 1, 14, 5, tzinfo=UTC)
"""02:14:05 in Prague, a winter night."""

_DANGEROUS = (
    "".join(map(chr, (0x61C, 0x200E, 0x200F, 0xFEFF)))
    + "".join(map(chr, range(0x2028, 0x202F)))
    + "".join(map(chr, range(0x2066, 0x206A)))
)
PLAIN = st.text(
    st.characters(exclude_categories=("Cc", "Cs"), exclude_characters=_DANGEROUS), max_size=25
)
"""Any text that may stand in a record as it is."""

TRICKY = st.sampled_from(
    ["a; b", '"', '""', '"x" y', " a ", "by", "by mouth", "x by y", "said so", "1 lb", "red", "/",
     "a / b", "time", "02:14", "note", "#@ id=1", "#= none go", "-", "., ;", "the pups", "Luna",
     "\u00e9te\u0301", "limp", "not", "3", "dam: x"]
)  # fmt: skip
FREE = PLAIN | TRICKY
HOSTILE = FREE | st.text(max_size=25) | st.sampled_from(["\x1b[2J", "a\nb", "\u202egnp", "x\r", ""])


def whole(places: int, least: float, most: float) -> st.SearchStrategy[Decimal]:
    """Decimals with at most so many places."""
    return st.decimals(
        Decimal(str(least)), Decimal(str(most)), allow_nan=False, allow_infinity=False,
        places=places,
    )  # fmt: skip


def _one(literal: Any) -> st.SearchStrategy[Any]:  # noqa: ANN401 - a Literal has no type of its own
    return st.sampled_from(get_args(literal))


def _some(literal: Any) -> st.SearchStrategy[tuple[Any, ...]]:  # noqa: ANN401 - as above
    several = st.lists(_one(literal), min_size=1, max_size=4, unique=True)
    return several.map(tuple)


def _maybe(strategy: st.SearchStrategy[Any]) -> st.SearchStrategy[Any]:
    return st.none() | strategy


PUP = st.integers(1, 99)
GRAMS = whole(1, 0.1, 150_000)
AMOUNT = whole(2, 0, 1_000_000)
COUNT = st.integers(0, 30)
ZONES = st.sampled_from(["UTC", "Europe/Prague", "America/New_York", "Australia/Lord_Howe"])


def _rounds() -> st.SearchStrategy[What]:
    """Weighing rounds of several pups, each once."""
    weights = st.dictionaries(PUP, GRAMS, min_size=1, max_size=5)
    return weights.map(
        lambda row: Round(weights=tuple(Weighed(pup=pup, grams=g) for pup, g in row.items()))
    )


def _reflexes() -> st.SearchStrategy[What]:
    item = _maybe(st.integers(0, 2))
    build: Callable[..., st.SearchStrategy[Any]] = st.builds
    built = build(Reflexes, pup=PUP, suckle=item, rooting=item, righting=item)
    return built.filter(lambda what: {what.suckle, what.rooting, what.righting} != {None})


def _milestones() -> st.SearchStrategy[What]:
    """Milestones of one pup or of all, and chips of one."""
    build: Callable[..., st.SearchStrategy[Any]] = st.builds
    names = [name for name in get_args(MilestoneName) if name != "chipped"]
    number = st.from_regex(r"[0-9]{1,15}", fullmatch=True)
    return build(Milestone, milestone=st.sampled_from(names), pup=_maybe(PUP)) | build(
        Milestone, milestone=st.just("chipped"), pup=PUP, number=number
    )


def made(text: st.SearchStrategy[str]) -> st.SearchStrategy[What]:
    """Facts of every kind that words can say, their free texts drawn from ``text``."""
    said = text.filter(bool)
    mark = text.map(str.strip).filter(lambda m: bool(m) and not m.lstrip("#").isdigit())
    build: Callable[..., st.SearchStrategy[Any]] = st.builds
    steps = get_args(StepName)
    return st.one_of(
        build(
            Details, dam=_maybe(said), breed=_maybe(said), age_years=_maybe(AMOUNT),
            weight=_maybe(GRAMS), breed_birth_weight=_maybe(GRAMS),
            first_litter=_maybe(st.booleans()), toy=_maybe(st.booleans()),
            zone=_maybe(ZONES), vet=_maybe(said), vet_phone=_maybe(said.map("{} 700".format)),
            travel_minutes=_maybe(st.integers(0, 1440)),
        ).filter(lambda details: details != Details()),
        build(
            Limit, rule=said, clock=said | st.just("main"),
            level=st.sampled_from(["watch", "call", "go"]), seconds=st.integers(0, 366 * 86400),
            by=said, why=said,
        ),
        build(Mating), build(Sac), build(Settled), build(Caesarean),
        build(
            Ovulation, value=_maybe(AMOUNT),
            basis=st.sampled_from(["ovulation", "lh", "progesterone-rise", "progesterone",
                                   "dioestrus"]),
        ),
        build(Scan, method=st.sampled_from(["xray", "ultrasound"]), count=COUNT),
        build(
            Scan, method=st.sampled_from(["xray", "ultrasound"]), count=_maybe(COUNT),
            measure=st.sampled_from(["icc", "bpd"]), millimetres=AMOUNT,
        ),
        build(Expect, count=COUNT, method=st.sampled_from(["xray", "scan", "guess"])),
        build(Temperature, celsius=whole(2, 20, 45), where=st.sampled_from(["dam", "box"])),
        build(Temperature, celsius=whole(2, 20, 45), where=st.just("pup"), pup=PUP),
        build(Sign, signs=_some(SignName)),
        build(Waters, colour=_one(Colour)),
        build(Part, part=st.sampled_from(["head", "feet", "tail", "rump", "unknown"])),
        build(Contraction, strength=st.sampled_from(["strong", "weak", "unspecified"])),
        build(Rest, sac_gone=st.booleans()),
        build(
            Birth, pup=PUP, sex=_maybe(st.sampled_from(["dog", "bitch"])), weight=_maybe(GRAMS),
            mark=_maybe(mark), state=_maybe(st.sampled_from(["alive", "limp", "dead"])),
            presentation=_maybe(st.sampled_from(["head", "feet", "rump"])), in_sac=st.booleans(),
        ),
        build(Sexed, pup=PUP, sex=st.sampled_from(["dog", "bitch"])),
        build(
            Afterbirth, of=_maybe(PUP), count=st.integers(1, 30),
            fate=st.sampled_from(["seen", "eaten", "not-seen"]),
        ),
        build(
            Discharge, colour=_one(Colour), foul=st.booleans(),
            amount=st.sampled_from(["streak", "some", "heavy", "clots", "none"]),
        ),
        build(Step, pup=PUP, step=st.sampled_from([name for name in steps if name != "marked"])),
        build(Step, pup=PUP, step=st.just("cord"),
              finding=st.sampled_from(["tied", "bleeding", "stopped"])),
        build(Step, pup=PUP, step=st.just("palate"), finding=st.sampled_from(["ok", "cleft"])),
        build(Step, pup=PUP, step=st.just("marked"), finding=mark),
        build(Score, pup=PUP, items=st.tuples(*[_maybe(st.integers(0, 2))] * 5)),
        build(Weight, pup=_maybe(PUP), grams=GRAMS),
        _rounds(), _reflexes(), _milestones(),
        build(Kit, item=said, have=st.booleans()),
        build(Feed, pup=PUP, how=st.sampled_from(["teat", "bottle", "tube"]),
              millilitres=_maybe(AMOUNT)),
        build(PupState, pup=PUP, signs=_some(PupSign)),
        build(Death, pup=PUP, why=text),
        build(DamState, signs=_some(DamSign)),
        build(Treatment, what=said, by=text),
        build(
            VetContact, said=text,
            contact=st.sampled_from(["called", "advised", "arrived", "seen", "left-for"]),
        ),
        build(Finished, by=st.sampled_from(["breeder", "vet", "scan"])),
        build(Note, words=text),
        build(Ack, rule=_maybe(said)),
    )  # fmt: skip


NUMBER = st.integers(1, 60)


def corrections(text: st.SearchStrategy[str]) -> st.SearchStrategy[What]:
    """Strikes and amends that say something."""
    return st.one_of(
        st.builds(Strike, target=NUMBER, why=text),
        st.builds(Amend, target=NUMBER, what=made(text), retimed=st.booleans()),
        st.builds(Amend, target=NUMBER, retimed=st.just(value=True)),
    )


# What words cannot say: the night file must carry it all the same.
_UNSAYABLE: st.SearchStrategy[What] = st.one_of(
    st.builds(Details), st.builds(Note, words=HOSTILE, unread=st.just(value=True)),
    st.builds(Scan, method=st.just("xray")), st.builds(Amend, target=NUMBER),
    st.builds(Temperature, celsius=whole(1, 20, 45), where=st.just("dam"), pup=PUP),
    st.builds(Step, pup=PUP, step=st.just("milk"), finding=HOSTILE),
    st.builds(Limit, rule=HOSTILE, level=st.just("go"), seconds=COUNT, by=HOSTILE, why=HOSTILE),
    st.builds(PupState, pup=PUP, signs=st.just(("limp", "limp"))),
)  # fmt: skip
ANYTHING = made(HOSTILE) | corrections(HOSTILE) | _UNSAYABLE


def room_for(what: What) -> Context:
    """A context in which every pup is known, except the one that is being born."""
    inner = what.what if isinstance(what, Amend) else what
    coming = inner.pup if isinstance(inner, Birth) else None
    birth = Draft(at=NOW, what=Birth(pup=1)).numbered(1, "night", NOW)
    pups = {number: Pup(number, birth) for number in range(1, 100) if number != coming}
    return Context(NOW, "Europe/Prague", Litter(pups=pups))


_MOMENTS = st.one_of(
    st.integers(0, 200_000).map(lambda second: NOW.timestamp() + second),
    st.integers(1_774_738_800, 1_774_753_200),  # around the skipped hour of 2026-03-29, Prague
    st.integers(1_792_882_800, 1_792_897_200),  # around the repeated hour of 2026-10-25, Prague
    st.integers(1_793_505_600, 1_793_520_000),  # around the repeated hour of 2026-11-01, New York
    st.integers(631_152_000, 7_289_567_999),  # the years that a record may hold
).map(lambda second: datetime.fromtimestamp(float(second), UTC).replace(microsecond=0))


@st.composite
def records(draw: st.DrawFn) -> tuple[Entry, ...]:
    """A record of any entries, in the order of their numbers, in one litter."""
    numbers = sorted(draw(st.sets(st.integers(1, 60), max_size=6)))
    litter = draw(HOSTILE.filter(bool))
    zone, by = draw(ZONES | HOSTILE), draw(HOSTILE)
    found: list[Entry] = []
    for number in numbers:
        at = draw(_MOMENTS)
        recorded = draw(st.just(at) | _MOMENTS)
        draft = Draft(
            at=at, zone=draw(st.just(zone) | ZONES), what=draw(ANYTHING),
            certainty=draw(st.sampled_from(["seen", "estimated", "day"])),
            text=draw(HOSTILE), note=draw(st.just("") | HOSTILE),
        )  # fmt: skip
        found.append(draft.numbered(number, litter, recorded, draw(st.just(by) | HOSTILE)))
    return tuple(found)

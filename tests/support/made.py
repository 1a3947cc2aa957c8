"""Entries made by hand: for tests that are about the machine and not about its language."""

from datetime import UTC, datetime, timedelta

from hypothesis import strategies as st

from boxlamp.model.entry import Draft, Entry
from boxlamp.model.happenings import (
    Ack,
    Afterbirth,
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
    Part,
    PupState,
    Rest,
    Sac,
    Sign,
    Step,
    Temperature,
    Treatment,
    VetContact,
    Waters,
    What,
)

TWO = datetime(2026, 3, 2, 2, 0, tzinfo=UTC)
"""Two in the morning."""


def at(minutes: float) -> datetime:
    """So many minutes after two in the morning."""
    return TWO + timedelta(minutes=minutes)


def entry(number: int, minutes: float, what: What, *, typed: float | None = None) -> Entry:
    """An entry of that number, so many minutes after two; typed then, or at another minute."""
    recorded = at(minutes if typed is None else typed)
    return Draft.model_validate({"at": at(minutes), "what": what.model_dump()}).numbered(
        number, "ash", recorded
    )


def told(*lines: tuple[float, What]) -> tuple[Entry, ...]:
    """Entries numbered in the order in which they are given."""
    return tuple(entry(number, *line) for number, line in enumerate(lines, start=1))


def moved(entries: tuple[Entry, ...], by: timedelta, zone: str = "UTC") -> tuple[Entry, ...]:
    """The same entries at another time."""
    return tuple(
        one.model_copy(update={"at": one.at + by, "recorded": one.recorded + by, "zone": zone})
        for one in entries
    )


_SEEN: tuple[What, ...] = (
    Sign(signs=("restless",)), Waters(), Waters(colour="green"), Sac(), Part(), Contraction(),
    Contraction(strength="weak"), Rest(), Discharge(colour="green"), Discharge(foul=True),
    Discharge(colour="red", amount="heavy"), Expect(count=2, method="xray"), Details(toy=True),
    DamState(signs=("dull",)), DamState(signs=("collapsed",)), DamState(signs=("recovered",)),
    Afterbirth(), Afterbirth(of=1), Afterbirth(count=2, fate="eaten"), Ack(), Finished(),
    Caesarean(), Temperature.model_validate({"celsius": "39.6"}),
    Temperature.model_validate({"celsius": "40.5"}),
    Temperature.model_validate({"celsius": "38.5"}),
    Temperature.model_validate({"celsius": "36.4"}), DamState(signs=("trembling",)),
    DamState(signs=("stiff", "face-rubbing")), DamState(signs=("vomited",)),
    DamState(signs=("ate",)), VetContact(contact="seen"), Treatment(what="glucose"),
)  # fmt: skip
_OF_A_PUP: tuple[What, ...] = (
    Step(pup=1, step="breathing"), Step(pup=1, step="sac-open"), Step(pup=1, step="milk"),
    Step(pup=1, step="cord", finding="bleeding"), Step(pup=1, step="cord", finding="tied"),
    PupState(pup=1, signs=("limp",)), PupState(pup=1, signs=("well",)), Death(pup=1),
    Feed(pup=1, how="teat"),
)  # fmt: skip
_BORN: tuple[Birth, ...] = (
    Birth(pup=1), Birth(pup=1, state="limp"), Birth(pup=1, state="dead"), Birth(pup=1, in_sac=True),
)  # fmt: skip
FACTS: st.SearchStrategy[What] = st.one_of(
    *(st.sampled_from(kinds) for kinds in (_SEEN, _OF_A_PUP, _BORN))
)
"""One thing seen in a night; of pup 1, where it is of a pup."""
_GAPS = (0, 1, 30, 59, 60, 119, 300, 900, 1200, 1799, 1800, 3600, 7200, 14_400, 43_200)
_STREAM = st.lists(
    st.tuples(
        st.sampled_from(_GAPS),
        FACTS,
        st.integers(1, 3),
    ),
    min_size=1,
    max_size=14,
)


def _numbered(stream: list[tuple[int, What, int]]) -> tuple[Entry, ...]:
    lines: list[tuple[float, What]] = []
    minutes, pups = 0.0, 0
    for gap, what, wanted in stream:
        minutes += gap / 60
        pups += isinstance(what, Birth)
        pup = pups if isinstance(what, Birth) else wanted
        said = what.model_copy(update={"pup": pup}) if hasattr(what, "pup") else what
        lines.append((minutes, said))
    return told(*lines)


STREAMS = _STREAM.map(_numbered)
"""Random nights; pups are numbered in the order of their birth."""

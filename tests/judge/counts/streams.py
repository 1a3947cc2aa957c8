"""Weeks drawn at random: readings at and beside every limit, counts, signs, dates, corrections."""

from collections.abc import Sequence
from decimal import Decimal
from typing import get_args

from hypothesis import strategies as st

from boxlamp.model.entry import Entry
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
    Feed,
    Finished,
    Limit,
    Mating,
    Milestone,
    Note,
    Ovulation,
    Part,
    PupState,
    Reflexes,
    Rest,
    Sac,
    Scan,
    Score,
    Settled,
    Sign,
    Step,
    Temperature,
    Treatment,
    VetContact,
    Waters,
    Weight,
    What,
)
from boxlamp.model.seen import DamSign, PupSign
from support.made import entry as made

HOUR, DAY = 3600, 86_400
_MINUTES = (0, 1, 60, 300, 599, 600, 900, 1800)
_HOURS = (HOUR - 1, HOUR, 2 * HOUR, 4 * HOUR, 6 * HOUR, 12 * HOUR, 18 * HOUR)
_DAYS = (DAY - 1, DAY, DAY + HOUR, 2 * DAY, 3 * DAY, 5 * DAY, 7 * DAY)
_GRAMS = ("90", "150", "151", "225", "300", "301", "306", "309", "312", "390", "400", "600", "610")


def _degrees(where: str, *values: str) -> tuple[What, ...]:
    pup = {"pup": 1} if where == "pup" else {}
    return tuple(
        Temperature.model_validate({"celsius": value, "where": where, **pup}) for value in values
    )


_LABOUR: tuple[What, ...] = (
    Sign(signs=("restless",)), Sign(signs=("vomited",)), Settled(), Waters(), Sac(), Part(),
    Contraction(), Contraction(strength="weak"), Rest(), Finished(), Finished(by="vet"),
    Finished(by="scan"), Caesarean(), Expect(count=1, method="xray"),
    Expect(count=2, method="xray"), Expect(count=3, method="scan"), Expect(count=2),
    Scan(method="xray", count=3), Treatment(what="glucose"), Note(words="quiet"),
    VetContact(contact="called"), VetContact(contact="advised"), VetContact(contact="arrived"),
    VetContact(contact="seen"), Afterbirth(), Afterbirth(of=1), Afterbirth(of=2, fate="not-seen"),
    Afterbirth(count=2, fate="eaten"), Afterbirth(fate="not-seen"), Details(toy=True),
    Limit(rule="bleeding", clock="some", level="call", seconds=1200, by="Dr Novak", why="known"),
    Limit(rule="gap-more-expected", level="call", seconds=10_800, by="Dr Novak", why="large"),
)  # fmt: skip
_DAM: tuple[What, ...] = (
    *(DamState(signs=(sign,)) for sign in get_args(DamSign)),
    DamState(signs=("trembling", "face-rubbing")), DamState(signs=("dull", "vomited")),
    *(Discharge.model_validate({"colour": colour, "amount": amount})
      for colour in ("green", "black", "red", "brown", "clear", "yellow", "pus", "unknown")
      for amount in ("streak", "some", "heavy", "clots", "none")),
    Discharge(colour="brown", foul=True), Discharge(colour="red", foul=True),
    *_degrees("dam", "36.4", "36.5", "36.9", "37.0", "37.4", "37.5", "38.6", "39.1", "39.2", "39.3",
              "39.4", "39.5", "39.6", "39.7", "39.9", "40.0", "40.4", "40.5"),
)  # fmt: skip
_PUP: tuple[What, ...] = (
    *(Weight.model_validate({"pup": 1, "grams": grams}) for grams in _GRAMS),
    *_degrees("pup", "33.0", "34.3", "34.4", "34.9", "35.0", "35.4", "35.5", "36.4", "36.5", "37.4",
              "37.5", "37.8", "37.9", "38.3", "38.4", "38.9", "39.0", "39.8"),
    *(PupState(pup=1, signs=(sign,)) for sign in get_args(PupSign)),
    Death(pup=1), Death(pup=1), Feed(pup=1), Feed(pup=1, how="tube"), Step(pup=1, step="milk"),
    Step(pup=1, step="breathing"), Step(pup=1, step="palate", finding="cleft"),
    *(Reflexes.model_validate({"pup": 1, reflex: value})
      for reflex in ("suckle", "rooting", "righting") for value in (0, 1, 2)),
    *(Score.model_validate({"pup": 1, "items": items})
      for items in ((2, 2, 2, 2, 2), (2, 2, 2, 1, 1), (2, 2, 1, 1, 1), (2, 1, 1, 1, 1),
                    (1, 1, 1, 1, 0), (1, 1, 1, 0, 0), (0, 0, 0, 0, 0), (2, 2, None, 1, 1),
                    (1, None, 1, 1, 0), (None,) * 5, (2, 2, None, 2, 1))),
    *(Milestone.model_validate({"pup": 1, "milestone": name})
      for name in ("cord-off", "eyes-open", "ears-open", "walking", "toilet", "wormed",
                   "vaccinated", "chipped", "left-home", "weaned")),
)  # fmt: skip
_LITTER: tuple[What, ...] = (
    *_degrees("box", "14.9", "15", "18", "21.9", "22", "24.9", "25", "27.1", "29.1", "31.1",
              "33.1"),
    Milestone(milestone="wormed"), Milestone(milestone="left-home"),
    Milestone(milestone="cord-off"),
    Weight(grams=Decimal(4000)), Weight(grams=Decimal(20_000)), Weight(grams=Decimal(30_000)),
    Details(breed="Labrador Retriever"), Details(breed="Pug"), Details(breed="mongrel"),
    Details(breed="German Shepherd"), Details(breed_birth_weight=Decimal(300)),
    Details(weight=Decimal(8000)), Details(weight=Decimal(50_000)),
    Mating(), Ovulation(basis="ovulation"), Ovulation(basis="lh"), Ovulation(basis="dioestrus"),
    Ovulation(basis="progesterone", value=Decimal("6.2")),
    Ovulation(basis="progesterone", value=Decimal("4.9")),
    *(Scan.model_validate({"method": "ultrasound", "measure": measure, "millimetres": size})
      for measure, size in (("icc", "20"), ("icc", "30"), ("bpd", "20"), ("bpd", "25"))),
)  # fmt: skip
_BORN: tuple[Birth, ...] = (
    Birth(pup=1), Birth(pup=1, state="limp"), Birth(pup=1, state="dead"),
    *(Birth(pup=1, weight=Decimal(grams)) for grams in ("90", "150", "240", "300", "400")),
)  # fmt: skip


_Drawn = tuple[int, What, int]


def _line(*kinds: tuple[What, ...], gaps: tuple[int, ...]) -> st.SearchStrategy[list[_Drawn]]:
    chosen = st.one_of(*(st.sampled_from(kind) for kind in kinds))
    return st.lists(st.tuples(st.sampled_from(gaps), chosen, st.integers(1, 4)), max_size=14)


_BIRTHS = st.lists(
    st.tuples(st.sampled_from(_MINUTES), st.sampled_from(_BORN), st.just(1)), min_size=0, max_size=4
)


def _numbered(parts: Sequence[Sequence[_Drawn]]) -> tuple[Entry, ...]:
    """One entry after another; a birth takes the next number, the rest names a pup of four."""
    found: list[Entry] = []
    seconds, pups = 0, 0
    for gap, what, wanted in (drawn for part in parts for drawn in part):
        seconds += gap
        pups += isinstance(what, Birth)
        pup = pups if isinstance(what, Birth) else wanted
        of_one = getattr(what, "pup", None) is not None
        said = what.model_copy(update={"pup": pup}) if of_one else what
        found.append(made(len(found) + 1, seconds / 60, said))
    return tuple(found)


NIGHTS = st.tuples(
    _line(_LABOUR, _DAM, gaps=_MINUTES), _BIRTHS,
    _line(_LABOUR, _DAM, _PUP, gaps=(*_MINUTES, *_HOURS)), _BIRTHS,
    _line(_LABOUR, _DAM, gaps=_HOURS),
).map(_numbered)  # fmt: skip
"""Nights in which the counts and the readings change as often as the labour does."""

WEEKS = st.tuples(
    _line(_LITTER, gaps=_DAYS), _BIRTHS, st.just([(60, Finished(), 1)]),
    _line(_PUP, _DAM, _LITTER, gaps=(*_HOURS, *_DAYS)),
    _line(_PUP[: len(_GRAMS)], _LITTER, gaps=_DAYS),
    _line(_DAM, _PUP, gaps=_DAYS),
).map(_numbered)  # fmt: skip
"""The weeks before and after, with a short whelping in their middle."""

SCALE = st.tuples(
    _BIRTHS, st.just([(60, Finished(), 1)]),
    _line(_PUP[: len(_GRAMS)], gaps=(*_HOURS, DAY, DAY + HOUR, 2 * DAY, 3 * DAY)),
    _line(_PUP[: len(_GRAMS)], gaps=(*_HOURS, DAY, DAY + HOUR, 2 * DAY, 3 * DAY)),
).map(_numbered)  # fmt: skip
"""Pups on the scale and little else."""

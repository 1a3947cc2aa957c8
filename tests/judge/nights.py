"""Random nights of the judge's own: every kind of line its formulas know, met often and exactly.

Each night draws a handful of lines and tells them again and again, with gaps that are limits, a
second less and a second more; so what stops a clock comes in the very second in which it runs out.
"""

from typing import NamedTuple

from hypothesis import strategies as st

from boxlamp.model.entry import Entry
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
    Limit,
    Milestone,
    Note,
    Part,
    PupState,
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
    What,
)
from support.made import told

MINUTE, HOUR, DAY = 60, 3600, 86400
_LIMITS = (
    30, MINUTE, 5 * MINUTE, 10 * MINUTE, 15 * MINUTE, 20 * MINUTE, 30 * MINUTE, 45 * MINUTE,
    HOUR, 90 * MINUTE, 2 * HOUR, 3 * HOUR, 4 * HOUR, 6 * HOUR, 12 * HOUR, DAY,
)  # fmt: skip
GAPS = (
    *(limit + off for limit in _LIMITS for off in (-1, 0, 0, 1)),
    0, 0, 0, 0, 1, 3 * DAY, 10 * DAY,
)  # fmt: skip
"""Seconds between two lines."""


def _about(*all_minutes: int) -> tuple[int, ...]:
    return tuple(
        minutes * MINUTE + off
        for minutes in all_minutes for off in (-1, 0, 0, 1) if minutes or off >= 0
    )  # fmt: skip


_PUSHING_GAPS = _about(0, 5, 10, 15, 20, 30, 40, 60)
"""The same where spells of pushing end in a rest: they and their pauses are that long."""
_WEAK_GAPS = _about(0, 15, 30, 60, 90, 120, 180, 240)
"""The same where she pushes weakly, for hours."""


def _t(celsius: str) -> Temperature:
    return Temperature.model_validate({"celsius": celsius})


def _limit(rule: str, level: str, minutes: int, clock: str = "main") -> Limit:
    return Limit.model_validate(
        {"rule": rule, "clock": clock, "level": level, "seconds": minutes * MINUTE,
         "by": "Dr Novak", "why": "so"}
    )  # fmt: skip


LABOUR: tuple[What, ...] = (
    Waters(), Waters(colour="green"), Waters(colour="black"), Sac(), Part(), Contraction(),
    Contraction(strength="weak"), Contraction(strength="strong"), Rest(), Rest(sac_gone=True),
    Caesarean(), Finished(), Finished(by="vet"), Finished(by="scan"), Note(words="she drinks"),
    Ack(), Birth(pup=1), Birth(pup=1), Birth(pup=1),
)  # fmt: skip
PUSHING: tuple[What, ...] = (
    Contraction(), Contraction(), Contraction(strength="strong"), Contraction(strength="weak"),
    Rest(), Rest(), Rest(sac_gone=True), Birth(pup=1), Caesarean(), Finished(),
    Finished(by="vet"), Finished(by="scan"), Details(toy=True), Details(toy=False),
    Expect(count=2, method="xray"), _limit("contraction-no-pup", "call", 10),
    _limit("contraction-no-pup", "go", 20), _limit("contraction-no-pup", "call", 45),
    _limit("rest-no-pup", "call", 5), Sac(), Note(words="she lies still"),
)  # fmt: skip
WEAK: tuple[What, ...] = (
    Contraction(strength="weak"), Contraction(strength="weak"), Contraction(),
    Rest(), Rest(), Birth(pup=1), Caesarean(), Finished(), Finished(by="vet"),
    Details(toy=True), Details(toy=False), _limit("weak-contraction-no-pup", "call", 60),
    _limit("weak-contraction-no-pup", "call", 180), _limit("weak-contraction-no-pup", "go", 150),
    _limit("contraction-no-pup", "call", 10), _limit("weak-rest-no-pup", "call", 5),
    Note(words="she lies still"),
)  # fmt: skip
COUNTS: tuple[What, ...] = (
    Expect(count=1, method="xray"), Expect(count=2, method="xray"), Expect(count=3),
    Expect(count=1), Expect(count=2, method="scan"), Expect(count=12),
    Scan(method="ultrasound", count=3), Scan(method="xray", count=4),
    Details(toy=True), Details(toy=False), Details(earlier_dystocia=True),
    _limit("contraction-no-pup", "call", 10), _limit("contraction-no-pup", "call", 45),
    _limit("gap-more-expected", "call", 180), _limit("gap-more-expected", "watch", 30),
    _limit("gap-count-unknown", "go", 360), _limit("first-milk", "watch", 90),
    _limit("second-stage-long", "watch", 600),
)  # fmt: skip
DISCHARGE: tuple[What, ...] = (
    Discharge(colour="green"), Discharge(colour="black", amount="streak"),
    Discharge(colour="red"), Discharge(colour="red", amount="streak"),
    Discharge(colour="red", amount="heavy"), Discharge(amount="clots"),
    Discharge(amount="heavy"), Discharge(colour="brown"), Discharge(colour="clear"),
    Discharge(amount="none"), Discharge(foul=True), Discharge(colour="green", foul=True),
    Discharge(colour="red", foul=True), Discharge(colour="pus"), Discharge(colour="yellow"),
    Discharge(), DamState(signs=("bleeding",)), DamState(signs=("bright",)),
    DamState(signs=("recovered",)), _t("39.5"), _t("39.4"), DamState(signs=("dull",)),
    DamState(signs=("refused-food",)), DamState(signs=("ate",)), Birth(pup=1),
    DamState(signs=("dull", "bright")), DamState(signs=("ate", "refused-food")),
)  # fmt: skip
DAM: tuple[What, ...] = (
    *(DamState(signs=(sign,)) for sign in (
        "refused-food", "ate", "dull", "bright", "recovered", "collapsed", "fits", "pale",
        "trembling", "stiff", "staring", "face-rubbing", "udder-hot", "udder-black", "udder-well",
        "vomited", "drank",
    )),
    DamState(signs=("trembling", "face-rubbing")), DamState(signs=("recovered", "refused-food")),
    DamState(signs=("bright", "trembling")), DamState(signs=("udder-well", "udder-hot")),
    VetContact(contact="seen"), VetContact(contact="arrived"), VetContact(contact="called"),
    VetContact(contact="advised"), VetContact(contact="left-for"), Treatment(what="glucose"),
    Finished(), Finished(by="vet"), Caesarean(), Contraction(), Rest(), Birth(pup=1),
    Birth(pup=1, state="dead"), Death(pup=1), _t("40.1"), _t("38.5"), Waters(), Sac(), Part(),
)  # fmt: skip
AFTERBIRTHS: tuple[What, ...] = (
    Afterbirth(), Afterbirth(of=1), Afterbirth(of=2), Afterbirth(of=9), Afterbirth(count=2),
    Afterbirth(fate="not-seen"), Afterbirth(of=1, fate="not-seen"), Afterbirth(fate="eaten"),
    Afterbirth(of=1, fate="eaten"), Afterbirth(count=3, of=2),
    Birth(pup=1), Birth(pup=1), Birth(pup=1, state="dead"), Caesarean(), Finished(), Rest(),
    Finished(by="vet"), Contraction(), Expect(count=2, method="xray"), Expect(count=3),
    Expect(count=1, method="scan"), VetContact(contact="seen"), VetContact(contact="advised"),
    _t("39.5"), _t("38.9"), Discharge(foul=True), Discharge(colour="green"), Discharge(),
    Discharge(amount="none"), DamState(signs=("dull",)), DamState(signs=("bright",)),
    DamState(signs=("dull", "bright")), Discharge(colour="yellow"), Discharge(colour="pus"),
    DamState(signs=("recovered",)), Waters(), Sac(), Part(), Sign(signs=("panting",)),
)  # fmt: skip
BEFORE: tuple[What, ...] = (
    Sign(signs=("restless",)), Sign(signs=("panting", "nesting")), Settled(), Waters(), Sac(),
    Contraction(), Contraction(strength="weak"), Part(), Birth(pup=1), Caesarean(), Finished(),
    Finished(by="vet"), Rest(), *(_t(str(value)) for value in (
        "36.7", "36.8", "36.9", "37.2", "37.3", "37.7", "37.8", "38.2", "38.4", "38.3",
    )), Discharge(colour="green"),
)  # fmt: skip
PUPS: tuple[What, ...] = (
    Birth(pup=1), Birth(pup=1, in_sac=True), Birth(pup=1, state="limp"),
    Birth(pup=1, state="dead"), Birth(pup=1, state="limp", in_sac=True),
    *(Step(pup=1, step=step) for step in (
        "sac-open", "airway", "breathing", "dried", "milk", "teat",
    )),
    *(Step(pup=1, step="cord", finding=finding) for finding in ("bleeding", "tied", "stopped")),
    *(PupState(pup=1, signs=(sign,)) for sign in (
        "limp", "not-breathing", "gasping", "blue", "crying", "well", "weak", "cold",
    )),
    PupState(pup=1, signs=("limp", "crying")), PupState(pup=1, signs=("blue", "weak")),
    Feed(pup=1), Feed(pup=1, how="bottle"), Feed(pup=1, how="tube"), Death(pup=1),
    Score(pup=1, items=(1, 1, 1, 1, 1)), Milestone(milestone="left-home", pup=1), Caesarean(),
    Milestone(milestone="left-home"), Finished(), VetContact(contact="advised"),
)  # fmt: skip


class Theme(NamedTuple):
    """What a night may tell of, what it tells of in any case, and the gaps between its lines."""

    kinds: tuple[What, ...]
    always: tuple[What, ...] = ()
    gaps: tuple[int, ...] = GAPS


THEMES: tuple[Theme, ...] = (
    Theme(LABOUR), Theme(PUSHING, (Contraction(), Rest()), _PUSHING_GAPS),
    Theme(WEAK, (Contraction(strength="weak"), Rest()), _WEAK_GAPS), Theme(COUNTS + LABOUR),
    Theme(DISCHARGE), Theme(DAM), Theme(AFTERBIRTHS), Theme(BEFORE), Theme(PUPS),
)  # fmt: skip


@st.composite
def _night(draw: st.DrawFn) -> tuple[Entry, ...]:
    theme = draw(st.sampled_from(THEMES))
    kinds = [
        *theme.always,
        *draw(st.lists(st.sampled_from(theme.kinds), min_size=2, max_size=7)),
    ]
    gaps = draw(st.lists(st.sampled_from(theme.gaps), min_size=2, max_size=4))
    length = draw(st.integers(2, 14))
    lines: list[tuple[float, What]] = []
    seconds, pups = 0, 0
    if draw(st.booleans()):
        lines.append((0.0, Birth(pup=1)))
        pups = 1
    for _ in range(length):
        seconds += draw(st.sampled_from(gaps))
        what = draw(st.sampled_from(kinds))
        if isinstance(what, Birth):
            pups += 1
            what = what.model_copy(update={"pup": pups})
        elif getattr(what, "pup", None) is not None:
            what = what.model_copy(update={"pup": draw(st.integers(1, max(1, min(pups, 3))))})
        lines.append((seconds / 60, what))
    return told(*lines)


OWN = _night()
"""Random nights; pups are numbered in the order of their birth."""

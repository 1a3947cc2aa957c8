"""No rule looks ahead: what stood at a moment does not depend on what was written down later."""

from datetime import UTC, datetime, timedelta

from hypothesis import given, settings
from hypothesis import strategies as st

from boxlamp.engine import Assessment, assess
from boxlamp.model.entry import Entry
from boxlamp.model.happenings import (
    Ack,
    Afterbirth,
    Birth,
    Caesarean,
    Contraction,
    DamState,
    Details,
    Discharge,
    Expect,
    Finished,
    Mating,
    Note,
    Ovulation,
    Part,
    Rest,
    Sac,
    Scan,
    Settled,
    Sign,
    Step,
    Temperature,
    Waters,
    What,
)
from boxlamp.model.litter import fold
from boxlamp.model.story import Story
from support.nights import DEFAULT, SECOND

BEGINNING = datetime(2026, 3, 1, 22, 0, tzinfo=UTC)
GAPS = (0, 1, 30, 60, 240, 299, 300, 599, 600, 900, 1200, 1799, 1800, 3600, 5400, 7199, 7200,
        9000, 14_400, 43_200, 86_400, 5_000_000)  # fmt: skip
"""Seconds between two entries: the limits themselves, a second less, and a long wait."""

SEEN = (
    Sign(signs=("restless",)), Settled(), Waters(), Waters(colour="green"), Sac(), Part(),
    Contraction(), Contraction(strength="weak"), Rest(), Rest(sac_gone=True),
    Discharge(colour="green"), Discharge(colour="red"), Discharge(colour="red", amount="heavy"),
    Discharge(amount="none"), Discharge(colour="pus"), Discharge(colour="brown", foul=True),
    Expect(count=1, method="xray"), Expect(count=2, method="scan"), Expect(count=3, method="xray"),
    Expect(count=2), Scan(method="xray", count=2), Scan(method="ultrasound"), Details(toy=True),
    Scan(method="ultrasound", measure="icc", millimetres=30), Details(weight=6000),
    Scan(method="ultrasound", measure="bpd", millimetres=20),
    DamState(signs=("dull",)), DamState(signs=("bright", "ate")), DamState(signs=("bleeding",)),
    Finished(), Finished(by="vet"), Caesarean(), Mating(), Afterbirth(), Ack(), Note(words="calm"),
    Ovulation(basis="lh"), Ovulation(basis="dioestrus"), Ovulation(basis="progesterone", value=6),
    Temperature(celsius=36.7), Temperature(celsius=37.1), Temperature(celsius=38.2),
    Temperature(celsius=39.6),
)  # fmt: skip

BIRTH, MILK = "a birth", "milk for the latest pup"

Stream = list[tuple[int, What | str]]


@st.composite
def streams(draw: st.DrawFn) -> Stream:
    """A night of births and a handful of other kinds, so that the same ones meet often."""
    kinds: list[What | str] = draw(st.lists(st.sampled_from((*SEEN, MILK)), min_size=1, max_size=6))
    step = st.tuples(st.sampled_from(GAPS), st.sampled_from([*kinds, BIRTH]))
    return draw(st.lists(step, min_size=2, max_size=12))


def entries_of(stream: Stream) -> list[Entry]:
    """Turn gaps and happenings into entries; pups are numbered in the order of their birth."""
    entries: list[Entry] = []
    at, pups = BEGINNING, 0
    for number, (gap, seen) in enumerate(stream, start=1):
        at += timedelta(seconds=gap)
        pups += seen == BIRTH
        if isinstance(seen, What):
            what: What = seen
        elif seen == BIRTH:
            what = Birth(pup=pups)
        else:
            what = Step(step="milk", pup=max(1, pups))
        entries.append(Entry(id=number, litter="x", at=at, recorded=at, what=what))
    return entries


def standing(assessment: Assessment, moment: datetime) -> set[tuple[str, str, str]]:
    """The alerts that stand at a moment, by rule, subject and level."""
    return {
        (alert.rule.id, alert.subject, alert.level.word)
        for alert in assessment.verdict(moment).alerts
    }


def moments_of(assessment: Assessment) -> list[datetime]:
    """Every moment at which something may change, with the second before and the second after."""
    found = {entry.at for entry in assessment.story.entries}
    for own in assessment.standings:
        found |= {moment for moment in (own.start, own.end) if moment is not None}
    return sorted({moment + offset for moment in found for offset in (-SECOND, SECOND * 0, SECOND)})


@settings(max_examples=300, deadline=None)
@given(streams())
def test_no_rule_looks_ahead(stream: Stream) -> None:
    """The story cut at any moment says of that moment what the whole story says of it."""
    story = Story(entries_of(stream))
    whole = assess(story, DEFAULT)
    cuts: dict[int, Assessment] = {}
    for moment in moments_of(whole):
        cut = story.until(moment)
        if len(cut) not in cuts:
            cuts[len(cut)] = assess(cut, DEFAULT)

        assert standing(cuts[len(cut)], moment) == standing(whole, moment), moment


@settings(max_examples=100, deadline=None)
@given(streams())
def test_no_rule_breaks(stream: Stream) -> None:
    """Whatever order things come in, no rule fails, and every spell ends after it began."""
    story = Story(entries_of(stream))
    whole = assess(story, DEFAULT)

    assert fold(story).born == sum(isinstance(entry.what, Birth) for entry in story.entries)
    for spell in whole.spells:
        assert spell.clock != "failure", spell.detail
        assert spell.since <= spell.start
        assert spell.end is None or spell.start <= spell.end

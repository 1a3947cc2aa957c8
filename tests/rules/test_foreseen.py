"""What begins and ends by itself: planned from what is known, and cut off by what comes first."""

from datetime import UTC, datetime, timedelta

from hypothesis import given, settings
from hypothesis import strategies as st

from boxlamp.engine import Assessment, assess
from boxlamp.model.entry import Entry
from boxlamp.model.happenings import (
    Birth,
    Caesarean,
    Contraction,
    DamState,
    Death,
    Details,
    Discharge,
    Finished,
    Mating,
    Milestone,
    Note,
    Ovulation,
    Temperature,
    Weight,
    What,
)
from boxlamp.model.story import Story
from boxlamp.rules.foreseen import Foreseen
from boxlamp.rules.registry import BY_ID
from support.made import at, entry
from support.nights import DEFAULT, SECOND

RULES = tuple(
    BY_ID[name]
    for name in (
        "dam-hot", "lochia-long", "dam-off-food", "udder", "eclampsia-window", "temperature-due",
        "milestone-due",
    )
)  # fmt: skip
SEEN: tuple[What, ...] = (
    Mating(), Ovulation(basis="lh"), Ovulation(basis="dioestrus"), Details(weight=4000),
    Details(weight=30_000), Details(toy=True), Weight(pup=None, grams=9000), Birth(pup=1),
    Birth(pup=2), Birth(pup=3, state="dead"), Birth(pup=4), Birth(pup=5), Birth(pup=6),
    Finished(), Caesarean(), Contraction(), Temperature(celsius=38.4), Temperature(celsius=39.5),
    Temperature(celsius=40.2), Discharge(colour="brown"), Discharge(amount="none"),
    DamState(signs=("refused-food",)), DamState(signs=("ate",)), DamState(signs=("udder-hard",)),
    DamState(signs=("udder-black",)), DamState(signs=("udder-well",)), Death(pup=1),
    Milestone(milestone="eyes-open", pup=1), Milestone(milestone="cord-off"),
    Milestone(milestone="wormed"), Milestone(milestone="wormed", pup=2),
    Milestone(milestone="left-home", pup=2), Milestone(milestone="left-home"),
    Milestone(milestone="chipped", pup=9, number="1"), Note(words="calm"),
)  # fmt: skip
HOURS = (0, 1, 2, 8, 12, 23, 24, 36, 71, 72, 96, 168, 240, 336, 504, 960, 1392)
STREAMS = st.lists(
    st.tuples(st.sampled_from(HOURS), st.sampled_from(SEEN)), min_size=1, max_size=14
)
BEGINNING = datetime(2026, 1, 5, 12, tzinfo=UTC)


def story_of(stream: list[tuple[int, What]]) -> Story:
    """Weeks of a litter; a pup born twice is told once."""
    now, entries, born = BEGINNING, list[Entry](), set[int]()
    for number, (hours, what) in enumerate(stream, start=1):
        now += timedelta(hours=hours)
        if isinstance(what, Birth):
            if what.pup in born:
                continue
            born.add(what.pup)
        entries.append(Entry(id=number, litter="x", at=now, recorded=now, what=what))
    return Story(entries)


def shown(assessment: Assessment, moment: datetime) -> set[tuple[str, str, str]]:
    """Alerts with their level and reminders with their clock."""
    verdict = assessment.verdict(moment)
    alerts = {(one.rule.id, one.subject, one.level.word) for one in verdict.alerts}
    return alerts | {(one.rule.id, one.subject, one.spell.clock) for one in verdict.prompts}


@settings(max_examples=150, deadline=None)
@given(STREAMS, st.data())
def test_weeks_cut_at_a_moment_say_the_same_of_it(
    stream: list[tuple[int, What]], data: st.DataObject
) -> None:
    """No reminder and no alert of these weeks depends on what was written down later."""
    whole = assess(story_of(stream), DEFAULT, RULES)
    edges = {edge for own in whole.standings for edge in (own.start, own.end) if edge is not None}
    edge = data.draw(st.sampled_from(sorted(edges | {one.at for one in whole.story.entries})))
    last = whole.story.entries[-1].at
    for moment in (edge - SECOND, edge, edge + SECOND):
        cut = assess(whole.story.until(moment), DEFAULT, RULES)
        then = {
            (own.spell.rule, own.spell.subject, own.spell.clock, own.level)
            for own in whole.standings
            if own.holds(moment)
        }
        now = {
            (own.spell.rule, own.spell.subject, own.spell.clock, own.level)
            for own in cut.standings
            if own.holds(moment)
        }
        assert now == then
        if moment >= last:
            assert shown(cut, moment) == shown(whole, moment)


@settings(max_examples=100, deadline=None)
@given(STREAMS)
def test_every_spell_is_in_order(stream: list[tuple[int, What]]) -> None:
    """None ends before it began or begins before its zero, and no rule breaks."""
    for spell in assess(story_of(stream), DEFAULT, RULES).spells:
        assert spell.clock != "failure", spell.detail
        assert spell.since <= spell.start
        assert spell.end is None or spell.start < spell.end or spell.level is not None


def test_what_is_planned_begins_by_itself() -> None:
    """And runs on when nothing ends it."""
    clock = Foreseen("x")
    clock.plan(entry(1, 0, Note()), since=at(60))
    (spell,) = clock.finish()
    assert (spell.start, spell.end, spell.opened) == (at(60), None, (1,))


def test_it_never_begins_before_the_line_that_tells_of_it() -> None:
    """What becomes known late counts from its zero, and begins when it is known."""
    clock = Foreseen("x")
    clock.plan(entry(3, 90, Note()), since=at(60), also=(2,))
    (spell,) = clock.finish()
    assert (spell.since, spell.start, spell.opened) == (at(60), at(90), (2, 3))


def test_what_has_not_begun_is_forgotten() -> None:
    """A line that comes first takes it back, in the very second too."""
    for minute in (59, 60):
        clock = Foreseen("x")
        clock.plan(entry(1, 0, Note()), since=at(60))
        clock.cut(entry(2, minute, Note()))
        assert list(clock.finish()) == []


def test_what_has_begun_is_cut_off() -> None:
    """And names the line that ended it."""
    clock = Foreseen("x")
    clock.plan(entry(1, 0, Note()), since=at(60), end=at(120))
    clock.cut(entry(2, 61, Note()))
    (spell,) = clock.finish()
    assert (spell.end, spell.closed) == (at(61), (2,))


def test_what_is_over_is_over() -> None:
    """A line that comes after its end has not ended it."""
    clock = Foreseen("x")
    clock.plan(entry(1, 0, Note()), since=at(60), end=at(120))
    clock.cut(entry(2, 120, Note()))
    (spell,) = clock.finish()
    assert (spell.end, spell.closed) == (at(120), ())


def test_only_what_is_named_is_cut_off() -> None:
    """One clock of one subject, or all of its clocks."""
    clock = Foreseen("x")
    for subject in ("pup 1", "pup 2"):
        for name in ("a", "b"):
            clock.plan(entry(1, 0, Note()), name, since=at(0), subject=subject)
    clock.cut(entry(2, 5, Note()), "a", subject="pup 1")
    assert {key for key in clock.ahead if key[0] == "pup 1"} == {("pup 1", "b")}
    clock.cut(entry(3, 6, Note()), subject="pup 2")
    assert set(clock.ahead) == {("pup 1", "b")}


def test_a_span_that_is_over_is_not_planned() -> None:
    """Nothing can be shown in it."""
    clock = Foreseen("x")
    clock.plan(entry(1, 120, Note()), since=at(0), end=at(120))
    assert list(clock.finish()) == []

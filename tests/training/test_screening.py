from datetime import datetime, timedelta

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from boxlamp.engine import Verdict, assess
from boxlamp.language import read_night
from boxlamp.model.entry import Entry
from boxlamp.model.happenings import (
    Amend,
    Birth,
    Contraction,
    Details,
    Note,
    Part,
    Rest,
    Step,
    Strike,
)
from boxlamp.model.levels import Level
from boxlamp.model.story import Story
from boxlamp.training.screening import AFTERGLOW, hindsight, screen
from support.made import at, entry, told
from support.messy import MESSY
from support.nights import DEFAULT, DEMO


def shown(verdict: Verdict) -> tuple[object, ...]:
    """Everything a verdict says, to be compared."""
    return (
        verdict.at, verdict.alerts, verdict.prompts, verdict.clocks, verdict.next,
        verdict.story.entries,
    )  # fmt: skip


def moments_of(entries: tuple[Entry, ...]) -> st.SearchStrategy[datetime]:
    """Moments at which something may turn, and those about them."""
    turns = sorted({moment for one in entries for moment in (one.at, one.recorded)})
    return st.tuples(st.sampled_from(turns), st.sampled_from((-1, 0, 1, 600, 7200))).map(
        lambda chosen: chosen[0] + timedelta(seconds=chosen[1])
    )


@settings(max_examples=60, deadline=None)
@given(st.data())
def test_the_board_of_a_moment_knows_nothing_of_the_future(data: st.DataObject) -> None:
    """It is what a screen shows of a record that ends with what had been typed by then."""
    entries = data.draw(MESSY)
    screening = screen(entries, DEFAULT)
    for moment in data.draw(st.lists(moments_of(entries), min_size=1, max_size=6)):
        typed = tuple(one for one in entries if one.recorded <= moment)
        alone = assess(Story(typed).until(moment), DEFAULT).verdict(moment)

        assert shown(screening.verdict(moment)) == shown(alone)
        assert screening.typed(moment) == typed


@settings(max_examples=60, deadline=None)
@given(st.data())
def test_as_corrected_is_the_engine_on_the_corrected_story(data: st.DataObject) -> None:
    """The final story, at each moment only what had happened by then."""
    entries = data.draw(MESSY)
    ideal = [one.model_copy(update={"recorded": one.at}) for one in Story(entries).entries]
    happened = [one.at for one in ideal if not isinstance(one.what, Details)]
    before = min(happened, default=at(0)) - timedelta(seconds=1)
    ideal = [
        one.model_copy(update={"at": before, "recorded": before, "certainty": "day"})
        if isinstance(one.what, Details) and happened and one.at > before
        else one
        for one in ideal
    ]
    story = Story(ideal)
    if not ideal:
        return
    screening = screen(entries, DEFAULT, as_corrected=True)
    for moment in data.draw(st.lists(moments_of(entries), min_size=1, max_size=6)):
        alone = assess(story.until(moment), DEFAULT).verdict(moment)
        assert shown(screening.verdict(moment)) == shown(alone)
    history = assess(story, DEFAULT).history(screening.ended)
    assert screening.steps == history


def test_as_corrected_a_pup_that_breathes_was_never_dead() -> None:
    """As it was known it counted as dead until the breath; better entries would have said limp."""
    lines = told((0, Birth(pup=1, state="dead")), (3, Step(step="breathing", pup=1)))
    shows = [screen(lines, DEFAULT, as_corrected=right) for right in (False, True)]
    states = [[alert.rule.id for alert in show.verdict(at(2)).alerts] for show in shows]
    assert states == [[], ["not-breathing"]]


@settings(max_examples=60, deadline=None)
@given(MESSY)
def test_every_change_of_the_board_is_on_the_board(entries: tuple[Entry, ...]) -> None:
    """An alert that is told as raised stands on the board of that moment, at that level."""
    screening = screen(entries, DEFAULT)
    for step in screening.steps:
        stands = {
            (alert.rule.id, alert.subject, alert.level)
            for alert in screening.verdict(step.at).alerts
        }
        if step.change in {"raised", "escalated"}:
            assert (step.rule.id, step.subject, step.level) in stands


def test_a_line_typed_late_counts_from_its_typing() -> None:
    """As known then the push of two o'clock is news at half past; as corrected it was at two."""
    entries = (entry(1, -5, Rest()), entry(2, 0, Contraction(), typed=30))
    known, corrected = screen(entries, DEFAULT), screen(entries, DEFAULT, as_corrected=True)

    assert known.verdict(at(21)).worst is None
    assert known.verdict(at(30)).worst is Level.GO
    assert corrected.verdict(at(21)).worst is Level.CALL
    assert [moment.at for moment in corrected.moments if moment.entry] == [at(-5), at(0)]


def test_a_struck_line_stands_until_it_is_struck() -> None:
    """As corrected it was never there, and neither is the strike."""
    entries = (entry(1, 0, Part(part="head")), entry(2, 2, Strike(target=1)), entry(3, 3, Rest()))
    known, corrected = screen(entries, DEFAULT), screen(entries, DEFAULT, as_corrected=True)

    assert known.verdict(at(1)).worst is Level.CALL
    assert known.verdict(at(2)).worst is None
    assert [one.id for one in corrected.entries] == [3]


def test_an_amended_line_says_what_it_was_amended_to() -> None:
    """Its first wording is not told beside another meaning."""
    first = entry(1, 0, Details(dam="Ash")).model_copy(update={"text": "dam: Ash"})
    entries = (first, entry(2, 5, Amend(target=1, what=Details(dam="Elm"))))
    [only] = hindsight(entries)

    assert (only.text, only.recorded) == ("", at(0))
    assert only.what == Details(dam="Elm")


def test_who_she_is_was_so_all_the_while() -> None:
    """As corrected a record opened in the middle of the night knows the dam and the vet at once.

    As known then nobody could have read either before it was written down.
    """
    entries = (
        entry(1, 30, Details(dam="Ash", vet="Dr Hale", vet_phone="000 555 154")),
        entry(2, 0, Contraction(), typed=31),
        entry(3, 20, Birth(pup=1), typed=32),
    )
    known, corrected = screen(entries, DEFAULT), screen(entries, DEFAULT, as_corrected=True)

    assert corrected.began == at(0)
    assert corrected.board(at(1)).dam == "Ash"
    assert corrected.board(at(1)).vet == "Dr Hale 000 555 154"
    assert [one.what.kind for one in corrected.before] == ["details"]
    assert known.began == at(30)
    assert known.board(at(29)).dam == "The dam"


def test_a_night_typed_afterwards_is_known_as_one() -> None:
    """More than half of what happened, a quarter of an hour and more late; corrections aside."""
    late = [entry(number, number, Rest(), typed=200) for number in range(1, 4)]
    soon = [entry(number, number + 300, Rest()) for number in range(4, 7)]

    assert screen(late + soon[:2], DEFAULT).typed_afterwards
    assert not screen(late + soon, DEFAULT).typed_afterwards
    assert not screen(late, DEFAULT, as_corrected=True).typed_afterwards


def test_births_and_alerts_for_the_bar() -> None:
    """Each pup once, when it came onto the board; only what is raised or rises is an alert."""
    entries = (
        entry(1, 0, Contraction()),
        entry(2, 16, Birth(pup=1), typed=17),
        entry(3, 18, Amend(target=2, what=Birth(pup=1, state="alive"))),
    )
    screening = screen(entries, DEFAULT, until=at(20))

    assert screening.births == ((at(17), 1),)
    assert screening.alerts[0] == (at(15), Level.WATCH)
    assert all(level >= Level.WATCH for _, level in screening.alerts)


def test_facts_of_a_day_set_the_scene() -> None:
    """The telling begins with the first timed line; what was known before it comes before."""
    night = read_night((DEMO / "stalled-labour.night").read_text(encoding="utf-8"))
    screening = screen(night.entries, DEFAULT)

    assert [one.what.kind for one in screening.before] == ["ovulation", "details", "expect"]
    assert screening.began == night.entries[3].at
    assert screening.ended == night.entries[-1].at + AFTERGLOW
    assert len(screening.moments) == len(night.entries) - 3 + len(screening.steps)
    assert screening.board(screening.began).dam == "Juniper"


def test_nothing_to_show() -> None:
    """A record without an entry, or with all of them struck, is refused."""
    entries = (entry(1, 0, Note()), entry(2, 1, Strike(target=1)))
    for nothing, corrected in (((), False), (entries, True)):
        with pytest.raises(ValueError, match="without an entry"):
            screen(nothing, DEFAULT, as_corrected=corrected)
    assert screen(told((0, Note())), DEFAULT).ended == at(60)

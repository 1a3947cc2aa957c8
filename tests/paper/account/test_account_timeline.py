from hypothesis import given, settings
from hypothesis import strategies as st

from boxlamp.model.entry import Entry
from boxlamp.model.happenings import Amend, Birth, Contraction, Note, Rest, Round, Strike, Weighed
from boxlamp.model.order import canonical, corrected
from boxlamp.paper.account.models import Line
from boxlamp.paper.account.timeline import timeline_of
from support.accounts import entries_of, matter_of
from support.happenings import records
from support.made import at, entry

EMPTY = matter_of([entry(1, 0, Rest())])


def timeline(*entries: Entry) -> tuple[Line, ...]:
    """The timeline of these entries alone."""
    return timeline_of(EMPTY._replace(entries=entries))


def said(one: Entry | None) -> str | None:
    """The words of a note."""
    return one.what.words if one is not None and isinstance(one.what, Note) else None


TANGLED = st.lists(
    st.tuples(
        st.integers(0, 5),
        st.builds(Note, words=st.sampled_from("abc"))
        | st.builds(Strike, target=st.integers(1, 9))
        | st.builds(
            Amend,
            target=st.integers(1, 9),
            what=st.none() | st.builds(Note, words=st.sampled_from("xyz")),
            retimed=st.booleans(),
        ),
    ),
    max_size=9,
).map(lambda lines: tuple(entry(number, *line) for number, line in enumerate(lines, start=1)))
"""Short records in which corrections name one another, themselves and what comes later."""


def is_correction(one: Entry) -> bool:
    return isinstance(one.what, Amend | Strike)


@given(records() | TANGLED)
@settings(max_examples=300, deadline=None)
def test_every_entry_is_there_exactly_once(entries: tuple[Entry, ...]) -> None:
    """Nothing that was ever typed is missing from the timeline, and nothing is there twice."""
    lines = timeline(*entries)
    found = [line.typed for line in lines]
    found += [one.entry for line in lines for one in line.corrections]

    assert sorted(found, key=lambda one: one.id) == list(entries)


@given(records() | TANGLED)
@settings(max_examples=300, deadline=None)
def test_the_lines_read_as_the_record_now_reads(entries: tuple[Entry, ...]) -> None:
    """What the timeline says of the world is what every rule was given, in the same order."""
    lines = timeline(*entries)
    facts = [line for line in lines if not is_correction(line.typed)]

    assert tuple(line.reads for line in facts if line.reads is not None) == corrected(entries)
    assert list(lines) == sorted(lines, key=lambda line: canonical(line.reads or line.typed))


@given(TANGLED)
@settings(max_examples=300, deadline=None)
def test_each_correction_says_what_the_line_read_before(entries: tuple[Entry, ...]) -> None:
    """Before a correction was typed the record read what the timeline says it read."""
    for line in timeline(*entries):
        for one in line.corrections:
            before = corrected(early for early in entries if early.id < one.entry.id)
            known = {early.id: early for early in before}
            if not is_correction(line.typed):
                assert one.before == known.get(line.typed.id)


@given(TANGLED)
@settings(max_examples=300, deadline=None)
def test_a_correction_that_does_not_stand_changes_nothing(entries: tuple[Entry, ...]) -> None:
    """Without the withdrawn amends and the words put over nothing the record reads the same."""
    idle = {
        one.entry.id
        for line in timeline(*entries)
        for one in line.corrections
        if not one.stands and isinstance(one.entry.what, Amend) and one.withdrawn_by is None
    }

    assert corrected(one for one in entries if one.id not in idle) == corrected(entries)


def test_an_amended_line_shows_both_readings() -> None:
    """As typed, as it reads now, and what changed it."""
    first = entry(1, 0, Note(words="one"))
    change = entry(2, 9, Amend(target=1, what=Note(words="two")))
    [line] = timeline(first, change)
    [correction] = line.corrections

    assert (line.typed, said(line.reads), line.at) == (first, "two", at(0))
    assert (correction.entry, correction.stands, correction.before) == (change, True, first)


def test_a_struck_line_reads_as_nothing_and_stays() -> None:
    """It keeps its place and its words, beside the reason why it was withdrawn."""
    [line, later] = timeline(
        entry(1, 0, Contraction()), entry(2, 5, Rest()), entry(3, 6, Strike(target=1, why="slip"))
    )

    assert line.typed.what == Contraction()
    assert line.reads is None
    assert line.corrections[0].stands
    assert later.reads == later.typed


def test_a_moved_line_stands_at_its_new_time() -> None:
    """The order is that of what happened, as it is known now."""
    lines = timeline(
        entry(1, 0, Contraction()), entry(2, 5, Rest()), entry(3, 9, Amend(target=1, retimed=True))
    )

    assert [(line.typed.id, line.at) for line in lines] == [(2, at(5)), (1, at(9))]


def test_a_struck_correction_is_shown_as_withdrawn() -> None:
    """It stays visible, says by which entry it was withdrawn, and does not count."""
    [line] = timeline(
        entry(1, 0, Note(words="one")),
        entry(2, 1, Amend(target=1, what=Note(words="two"))),
        entry(3, 2, Strike(target=2)),
    )
    amend, strike = line.corrections

    assert said(line.reads) == "one"
    assert (amend.stands, amend.withdrawn_by) == (False, 3)
    assert (strike.stands, strike.withdrawn_by, said(strike.before)) == (True, None, "two")


def test_a_struck_strike_brings_the_line_back() -> None:
    """Both strikes hang on the line that they are about."""
    [line] = timeline(
        entry(1, 0, Note(words="one")), entry(2, 1, Strike(target=1)), entry(3, 2, Strike(target=2))
    )

    assert said(line.reads) == "one"
    assert [one.stands for one in line.corrections] == [False, True]
    assert [said(one.before) for one in line.corrections] == ["one", None]


def test_an_amend_of_an_amend_hangs_on_the_first_line() -> None:
    """The chain is followed home, and each link says what the line read before it."""
    [line] = timeline(
        entry(1, 0, Note(words="one")),
        entry(2, 1, Amend(target=1, what=Note(words="two"))),
        entry(3, 2, Amend(target=2, what=Note(words="three"))),
    )

    assert said(line.reads) == "three"
    assert [said(one.before) for one in line.corrections] == ["one", "two"]


def test_words_put_over_a_withdrawal_do_not_count() -> None:
    """A strike says nothing about the world, so an amend of it has nothing to change."""
    [line] = timeline(
        entry(1, 0, Note(words="one")),
        entry(2, 1, Strike(target=1)),
        entry(3, 2, Amend(target=2, what=Note(words="two"))),
    )

    assert line.reads is None
    assert [one.stands for one in line.corrections] == [True, False]


def test_a_correction_of_nothing_has_its_own_line() -> None:
    """It is not lost, and what is said of it hangs on it."""
    vain = entry(2, 1, Amend(target=50, what=Note(words="two")))
    rest, alone = timeline(entry(1, 0, Rest()), vain, entry(3, 2, Strike(target=2)))

    assert rest.corrections == ()
    assert (alone.typed, alone.reads) == (vain, None)
    assert alone.corrections[0].before == vain
    assert timeline(vain)[0].reads == vain


def test_a_round_is_one_line() -> None:
    """A weighing round stays together, however many pups were on the scale."""
    weights = tuple(Weighed.model_validate({"pup": pup, "grams": 300}) for pup in (1, 2))
    lines = timeline(
        entry(1, 0, Birth(pup=1)), entry(2, 1, Birth(pup=2)), entry(3, 9, Round(weights=weights))
    )

    assert [line.typed.id for line in lines] == [1, 2, 3]


def test_a_whole_night_has_a_line_for_every_entry() -> None:
    """A night without corrections is told line by line, in the order of the clock."""
    entries = entries_of("stalled-labour")
    lines = timeline_of(matter_of(entries))

    assert [line.reads for line in lines] == list(corrected(entries))

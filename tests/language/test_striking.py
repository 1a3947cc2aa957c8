"""Taking a line back: one entry, the one that is meant, and never the litter's opening."""

from datetime import timedelta
from decimal import Decimal

import pytest

from boxlamp.language import Context, NotUnderstood, read_line
from boxlamp.model.entry import Draft
from boxlamp.model.happenings import (
    Amend,
    Contraction,
    Details,
    Note,
    Rest,
    Strike,
    Temperature,
    What,
)
from support.happenings import NOW

OPENING = Details(dam="Bramble", vet_phone="000 555 010")
UNREAD = Note(words="undo", unread=True)


def box(*whats: What) -> Context:
    """A litter with these entries after its opening, a minute apart, the last just now."""
    every = (OPENING, *whats)
    return Context.of(
        [Draft(at=NOW - timedelta(minutes=len(every) - number), what=what).numbered(
            number, "night", NOW) for number, what in enumerate(every, start=1)],
        NOW, "Europe/Prague",
    )  # fmt: skip


NIGHT = box(Contraction(), Rest(), Contraction(strength="weak"))


def refused(line: str, context: Context) -> NotUnderstood:
    with pytest.raises(NotUnderstood) as found:
        read_line(line, context)
    return found.value


@pytest.mark.parametrize(
    "line",
    ["strike 2 3", "strike 2,3", "strike 2 and 3", "strike 2 & #3", "strike 2-3", "strike #2, #3"],
)
def test_one_line_strikes_one_entry(line: str) -> None:
    """Several are refused with a line for each, so that none is taken for the reason."""
    answer = refused(line, NIGHT)
    assert answer.why == (
        "One line strikes one entry. Write a line for each, like this: strike 2 why, strike 3 why"
    )
    assert answer.nearest == "strike 2 why"


def test_a_reason_that_begins_with_an_entry_is_asked_about() -> None:
    """``strike 2 3 typed twice`` may mean both."""
    (doubt,) = read_line("strike 2 3 typed twice", NIGHT).doubts
    assert doubt.sentence == "This strikes entry 2 alone; 3 is taken as the reason. Is that meant?"
    assert doubt.fix == "To strike entry 3 too: a line of its own."


@pytest.mark.parametrize(
    "line",
    [
        "strike 2 typed twice",
        "strike 2",
        "strike 2 90 seconds too late",
        "strike last",
        'strike 2 "3"',
        'strike 2 "3 and" 4',
    ],
)
def test_a_plain_reason_is_not_asked_about(line: str) -> None:
    """Nor is a number that is no entry."""
    assert read_line(line, NIGHT).doubts == ()


def test_the_opening_is_not_struck_unasked() -> None:
    """With it go her name, and whom to ring."""
    (doubt,) = read_line("strike 1", NIGHT).doubts
    assert doubt.sentence == (
        "Entry 1 opened this litter: dam Bramble / vet-phone 000 555 010. Struck, all of that is "
        "gone."
    )
    assert doubt.fix == "To change a part of it: set KEY VALUE"


def test_a_later_fact_and_a_record_that_begins_otherwise_are_struck() -> None:
    """Only the line that opened the litter is asked about."""
    assert read_line("strike 2 wrong", box(Details(breed="Boxer"))).doubts == ()
    first = Draft(at=NOW, what=Rest()).numbered(1, "night", NOW)
    assert read_line("strike 1 wrong", Context.of([first], NOW)).doubts == ()
    assert read_line("strike 1 wrong", Context(NOW)).doubts == ()


@pytest.mark.parametrize(
    ("line", "why"),
    [
        ("undo", "That changes nothing in the record."),
        ("oops", "That changes nothing in the record."),
        ("strike", "Which entry? Type its number."),
        ("delete", "Which entry? Type its number."),
    ],
)
def test_what_would_be_taken_back_is_said_exactly(line: str, why: str) -> None:
    """The entry with its number, time and words, and the very line that strikes it."""
    answer = refused(line, NIGHT)
    assert answer.why == f"{why} The last entry that counts is 4: 02:14:05 contraction weak."
    assert answer.nearest == "strike 4 typed by mistake"
    assert read_line(answer.nearest, NIGHT).draft.what == Strike(target=4, why="typed by mistake")


@pytest.mark.parametrize(
    ("entries", "number", "reads"),
    [
        ((Contraction(), Rest(), UNREAD, UNREAD), 3, "02:12:05 rest"),
        ((Contraction(), Rest(), Strike(target=3, why="typed by mistake")), 2,
         "02:12:05 contraction"),
        ((Contraction(), Rest(), Strike(target=2, why="the dog")), 4, "02:14:05 strike 2 the dog"),
        ((Contraction(), Amend(target=2, what=Rest())), 3, "02:14:05 amend 2 rest"),
        ((Temperature(celsius=Decimal("38.1")), Strike(target=2), Strike(target=3)), 4,
         "02:14:05 strike 3"),
    ],
)  # fmt: skip
def test_what_does_not_count_is_passed_over(
    entries: tuple[What, ...], number: int, reads: str
) -> None:
    """What could not be read, what is struck, and what was taken back in this way."""
    answer = refused("undo", box(*entries))
    assert answer.why.endswith(f"The last entry that counts is {number}: {reads}.")
    assert answer.nearest == f"strike {number} typed by mistake"


@pytest.mark.parametrize("context", [box(), box(UNREAD), Context(NOW)])
def test_where_nothing_is_to_be_taken_back_nothing_is_offered(context: Context) -> None:
    """The opening is never offered."""
    answer = refused("undo", context)
    assert (answer.why, answer.nearest) == ("That changes nothing in the record.", "")


def test_a_word_for_it_offers_the_same_line() -> None:
    """``typo in the last one`` is no entry; the line that takes it back is offered."""
    assert refused("typo in that one", NIGHT).nearest == "strike 4 typed by mistake"
    assert refused("typo in that one", box()).nearest == ""


def test_a_word_that_is_no_number_is_asked_for_the_number() -> None:
    """The example holds no number, for it might be copied."""
    assert str(refused("strike x", NIGHT)) == ("Which entry? Type its number. Try: strike N why")

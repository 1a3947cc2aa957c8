from hypothesis import example, given, settings
from hypothesis import strategies as st

from boxlamp.language import Context, read_line, say
from boxlamp.model.entry import Draft
from boxlamp.model.happenings import (
    Ack,
    Amend,
    Birth,
    Details,
    Limit,
    Note,
    Treatment,
    VetContact,
    Weight,
    What,
)
from support.happenings import FREE, NOW, corrections, made, room_for


@given(made(FREE) | corrections(FREE))
@settings(max_examples=600, deadline=None)
@example(Treatment(what="the pill", by="mouth"))
@example(Treatment(what="glucose by mouth"))
@example(VetContact(contact="called", said="said the pups are fine"))
@example(Limit(rule="gap", clock="call", level="call", seconds=0, by="by", why="a; b"))
@example(Ack(rule="all"))
@example(Note(words='she said "no"; twice'))
@example(Details(dam="Ash / Oak", vet='"Dr" Novak', travel_minutes=61))
@example(Birth(pup=85, mark="lmp"))
@example(Birth(pup=3, mark="light green"))
@example(Amend(target=3, what=Note(words="02:14 time; x"), retimed=True))
def test_what_is_said_reads_back_as_the_same(what: What) -> None:
    """Canonical words, typed again, mean exactly what they came from."""
    assert read_line(say(what), room_for(what)).draft.what == what


@given(made(FREE))
@settings(max_examples=100, deadline=None)
def test_words_are_one_line_that_a_screen_can_show(what: What) -> None:
    """Nothing that is said breaks a line or steers a terminal."""
    assert "\n" not in say(what)
    assert "\x1b" not in say(what)


def test_a_pup_can_be_called_by_its_mark() -> None:
    """With a litter at hand, a plain mark stands for the number, and reads back."""
    entries = [
        Draft(at=NOW, what=Birth(pup=number, mark=mark)).numbered(number, "night", NOW)
        for number, mark in ((1, "red"), (2, "limp"))
    ]
    context = Context.of(entries, NOW)
    red, odd = Weight(pup=1, grams=340), Weight(pup=2, grams=340)

    assert say(red, context.litter) == "weigh red 340g"
    assert say(odd, context.litter) == "weigh 2 340g"
    assert read_line("weigh red 340g", context).draft.what == red


@given(st.text())
@settings(max_examples=100)
def test_hostile_words_are_said_on_one_line(words: str) -> None:
    """Even a note full of control characters is said without any of them."""
    assert say(Note(words=words)).isprintable() or say(Note(words=words)).splitlines() == [
        say(Note(words=words))
    ]

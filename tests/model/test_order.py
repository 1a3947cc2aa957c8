"""The canonical order of entries, and what amends and strikes do."""

import random
from datetime import timedelta

from hypothesis import given
from hypothesis import strategies as st

from boxlamp.model.entry import Entry
from boxlamp.model.happenings import (
    Ack,
    Afterbirth,
    Amend,
    Birth,
    Contraction,
    Details,
    Finished,
    Note,
    Rest,
    Strike,
    Temperature,
)
from boxlamp.model.order import canonical, corrected, known_at, struck
from boxlamp.model.story import Story, as_known
from support.made import STREAMS, at, entry


def numbers(entries: tuple[Entry, ...]) -> list[int]:
    return [one.id for one in entries]


def test_earlier_comes_first_whatever_was_typed_first() -> None:
    """The order is that of what happened, not that of the typing."""
    late, early = entry(1, 20, Contraction()), entry(2, 10, Rest())
    assert numbers(corrected([late, early])) == [2, 1]


def test_within_one_minute_each_kind_has_its_place() -> None:
    """Scene, labour, birth, what follows it, closing: the same whichever was typed first."""
    kinds = [Finished(), Afterbirth(), Birth(pup=1), Contraction(), Details(dam="Ash")]
    entries = [entry(number, 0, what) for number, what in enumerate(kinds, start=1)]
    assert numbers(corrected(entries)) == [5, 4, 3, 2, 1]


def test_within_one_rank_the_order_of_typing_decides() -> None:
    """A push and a rest in the same minute stay in the order in which a person saw them."""
    assert numbers(corrected([entry(2, 0, Rest()), entry(1, 0, Contraction())])) == [1, 2]


@given(STREAMS, st.randoms(use_true_random=False))
def test_any_order_of_reading_gives_one_story(
    night: tuple[Entry, ...], dice: random.Random
) -> None:
    """However the entries are shuffled, the story is the same."""
    shuffled = list(night)
    dice.shuffle(shuffled)
    assert corrected(shuffled) == corrected(night)
    assert list(corrected(night)) == sorted(night, key=canonical)


def test_a_struck_entry_is_gone() -> None:
    """A strike withdraws the entry it names, and is no entry of the story itself."""
    entries = [entry(1, 0, Contraction()), entry(2, 5, Rest()), entry(3, 6, Strike(target=1))]
    assert numbers(corrected(entries)) == [2]


def test_a_struck_strike_never_was() -> None:
    """Striking a strike brings the entry back, and striking that one takes it away again."""
    entries = [
        entry(1, 0, Contraction()),
        entry(2, 1, Strike(target=1)),
        entry(3, 2, Strike(target=2)),
    ]
    assert numbers(corrected(entries)) == [1]
    assert numbers(corrected([*entries, entry(4, 3, Strike(target=3))])) == []


def test_struck_tells_which_strike_did_it() -> None:
    """Each withdrawn entry is named with a strike that withdrew it."""
    entries = [entry(1, 0, Contraction()), entry(2, 1, Strike(target=1, why="typed twice"))]
    assert {number: by.id for number, by in struck(entries).items()} == {1: 2}


def test_a_strike_reaches_only_back() -> None:
    """A strike of an entry that comes after it, or of itself, does nothing."""
    entries = [
        entry(1, 0, Strike(target=2)),
        entry(2, 1, Contraction()),
        entry(3, 2, Strike(target=3)),
    ]
    assert numbers(corrected(entries)) == [2]
    assert struck(entries) == {}


def test_a_strike_of_nothing_does_nothing() -> None:
    """A number that was never given is no reason to fail."""
    assert numbers(corrected([entry(1, 0, Rest()), entry(2, 1, Strike(target=77))])) == [1]


def test_an_amend_changes_what_an_entry_says() -> None:
    """The entry keeps its number, its time and its typed time, and says the new thing."""
    entries = [
        entry(1, 0, Contraction(strength="weak")),
        entry(2, 5, Amend(target=1, what=Contraction(strength="strong"))),
    ]
    (now,) = corrected(entries)
    assert (now.id, now.at, now.recorded) == (1, at(0), at(0))
    assert now.what == Contraction(strength="strong")


def test_an_amend_moves_an_entry_in_time() -> None:
    """A retimed amend gives its own time, and the order follows."""
    entries = [
        entry(1, 0, Contraction()),
        entry(2, 5, Rest()),
        entry(3, 9, Amend(target=1, retimed=True)),
    ]
    story = corrected(entries)
    assert numbers(story) == [2, 1]
    assert story[1].at == at(9)


def test_an_amend_may_change_the_kind() -> None:
    """What was typed as a note may turn out to be a temperature."""
    reading = Temperature.model_validate({"celsius": "39.6"})
    entries = [entry(1, 0, Note(words="39.6")), entry(2, 5, Amend(target=1, what=reading))]
    assert corrected(entries)[0].what == reading


def test_amends_of_amends_reach_the_first_entry() -> None:
    """The last word counts, whether it names the entry or an amend of it."""
    entries = [
        entry(1, 0, Note(words="one")),
        entry(2, 1, Amend(target=1, what=Note(words="two"))),
        entry(3, 2, Amend(target=2, what=Note(words="three"))),
    ]
    (now,) = corrected(entries)
    assert (now.id, now.what) == (1, Note(words="three"))


def test_a_struck_amend_is_undone_and_those_after_it_stand() -> None:
    """Striking one amend of a chain leaves the others in force."""
    entries = [
        entry(1, 0, Note(words="one")),
        entry(2, 1, Amend(target=1, what=Note(words="two"))),
        entry(3, 2, Amend(target=2, what=Note(words="three"))),
    ]
    second_struck = [*entries, entry(4, 3, Strike(target=2))]
    assert corrected(second_struck)[0].what == Note(words="three")
    third_struck = [*entries, entry(4, 3, Strike(target=3))]
    assert corrected(third_struck)[0].what == Note(words="two")
    both = [*third_struck, entry(5, 4, Strike(target=2))]
    assert corrected(both)[0].what == Note(words="one")


def test_an_amend_of_a_struck_entry_does_not_bring_it_back() -> None:
    """Gone is gone, until the strike itself is struck; then the amend counts too."""
    entries = [
        entry(1, 0, Note(words="one")),
        entry(2, 1, Strike(target=1)),
        entry(3, 2, Amend(target=1, what=Note(words="two"))),
    ]
    assert corrected(entries) == ()
    assert corrected([*entries, entry(4, 3, Strike(target=2))])[0].what == Note(words="two")


def test_an_amend_of_nothing_does_nothing() -> None:
    """An amend that names no entry, or a strike, changes nothing."""
    entries = [
        entry(1, 0, Rest()),
        entry(2, 1, Strike(target=99)),
        entry(3, 2, Amend(target=2, what=Note(words="x"))),
        entry(4, 3, Amend(target=50, what=Note(words="x"))),
    ]
    assert numbers(corrected(entries)) == [1]


def test_what_was_known_then() -> None:
    """An entry counts from the moment it was typed, however early it says it happened."""
    entries = [entry(1, 0, Contraction()), entry(2, 3, Birth(pup=1), typed=30)]
    assert numbers(known_at(entries, at(29))) == [1]
    assert numbers(known_at(entries, at(30))) == [1, 2]
    assert numbers(as_known(entries, at(29)).entries) == [1]
    assert numbers(as_known(entries, at(30)).entries) == [1, 2]


def test_what_was_known_then_leaves_later_corrections_out() -> None:
    """Before a strike was typed, the entry still stood."""
    entries = [entry(1, 0, Contraction()), entry(2, 30, Strike(target=1))]
    assert numbers(as_known(entries, at(29)).entries) == [1]
    assert numbers(as_known(entries, at(30)).entries) == []


def test_a_story_cut_at_a_moment_keeps_that_moment() -> None:
    """Entries at an instant belong to that instant."""
    story = Story([entry(1, 0, Contraction()), entry(2, 10, Rest())])
    assert numbers(story.until(at(10)).entries) == [1, 2]
    assert numbers(story.until(at(10) - timedelta(seconds=1)).entries) == [1]


def test_a_story_hands_out_its_kinds_in_order() -> None:
    """Picked by kind, entries keep the canonical order; the last one is at hand."""
    story = Story(
        [entry(1, 0, Contraction()), entry(2, 5, Rest()), entry(3, 9, Contraction())],
    )
    assert numbers(story.of(Rest, Contraction)) == [1, 2, 3]
    assert story.of(Rest, Contraction) is story.of(Rest, Contraction)
    assert story.last(Contraction) == story.entries[2]
    assert story.last(Ack) is None
    assert len(story) == 3

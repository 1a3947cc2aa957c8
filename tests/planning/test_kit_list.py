"""The preparation list: what stands on it, what is ready, and which item a person means."""

import re
from datetime import timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from boxlamp.model.happenings import Details, Kit, What
from boxlamp.planning.kit import BY_ID, GROUPS, ITEMS, Item, kit_list, meant, missing, others
from support.happenings import HOSTILE
from support.weeks import day, judged

EACH = pytest.mark.parametrize("item", ITEMS, ids=lambda item: item.id)


@EACH
def test_every_item_says_what_why_when_and_who_says_so(item: Item) -> None:
    """In plain words, with a source or marked as practice; the name is typed easily."""
    assert re.fullmatch(r"[a-z]+(?:-[a-z]+)*", item.id)
    assert item.group in GROUPS
    assert item.why.endswith(".")
    assert not item.what.endswith(".")
    assert item.source
    assert 0 < item.days <= 28
    assert not item.fact or item.fact in Details.model_fields
    assert bool(item.fact) == bool(item.how)


def test_no_name_twice_and_no_group_empty() -> None:
    """A list that can be ticked."""
    assert len(BY_ID) == len(ITEMS)
    assert {item.group for item in ITEMS} == set(GROUPS)
    assert 20 <= len(ITEMS) <= 30


@EACH
def test_no_item_holds_a_dose_or_a_drug(item: Item) -> None:
    """What is given and how much is the vet's."""
    for text in (item.what, item.why):
        assert not re.search(r"\b(mg|ml/kg|IU|oxytocin|calcium|glucose)\b", text, re.IGNORECASE)


def ready(*told: What) -> set[str]:
    litter = judged(*((number, what) for number, what in enumerate(told))).litter
    return {line.item.id for line in kit_list(litter) if line.ready}


@pytest.mark.parametrize(
    ("facts", "item"),
    [({"vet_phone": "000 555 010"}, "vet-number"), ({"night_phone": "1"}, "night-number"),
     ({"travel_minutes": 25}, "travel-time"), ({"travel_minutes": 0}, "travel-time")],
)  # fmt: skip
def test_a_fact_in_the_record_answers_its_item(facts: dict[str, object], item: str) -> None:
    """A number that is written down need not be ticked off as well."""
    assert ready(Details.model_validate(facts)) == {item}
    assert not ready(Details(dam="Ash", vet_phone=""))


def test_what_a_person_says_is_the_last_word() -> None:
    """Ready, used up, ready again; also against what the record holds."""
    assert ready(Kit(item="towels")) == {"towels"}
    assert not ready(Kit(item="towels"), Kit(item="towels", have=False))
    assert not ready(Details(vet_phone="1"), Kit(item="vet-number", have=False))


def test_by_when() -> None:
    """So many days before she is due; nothing when that is not known."""
    litter = judged().litter

    assert [line.by for line in kit_list(litter, day(63))] == [
        day(63) - timedelta(days=item.days) for item in ITEMS
    ]
    assert {line.by for line in kit_list(litter)} == {None}
    assert len(missing(litter)) == len(ITEMS)


def test_what_is_not_on_the_list_is_told() -> None:
    """A record from elsewhere may hold items of its own."""
    litter = judged(
        (0, Kit(item="radio")), (1, Kit(item="cake")), (2, Kit(item="cake", have=False))
    ).litter

    assert list(others(litter)) == ["radio"]


@pytest.mark.parametrize(
    ("typed", "items"),
    [
        ("towels", "towels"), ("TOWELS", "towels"), (" towel ", "towels"), ("tow", "towels"),
        ("box thermometer", "box-thermometer"), ("box", "box"), ("thermometer", "thermometer"),
        ("night", "night-number"), ("time", "travel-time"), ("syringe", "bulb bottle"),
        ("collars", "marks"), ("milk replacer", "milk"), ("head lamp", "torch"),
        ("vet", "vet-number vet-told"), ("travel", "travel-time travel-box"),
        ("cord", "cord-set"), ("wibble", ""), ("", ""), ("-", ""), ("t" * 400, ""),
    ],
)  # fmt: skip
def test_which_item_is_meant(typed: str, items: str) -> None:
    """The name, its beginning, a word of it, else words of what it is; several when not clear."""
    assert {item.id for item in meant(typed)} == set(items.split())


@EACH
def test_an_items_own_name_means_it_alone(item: Item) -> None:
    """With a hyphen, a space, or in capitals."""
    for typed in (item.id, item.id.replace("-", " "), item.id.upper()):
        assert meant(typed) == (item,)


@given(HOSTILE)
def test_nothing_typed_breaks_the_search(typed: str) -> None:
    """Whatever is typed, the answer is items of the list."""
    assert all(item in ITEMS for item in meant(typed))


@given(st.sampled_from(ITEMS), st.integers(1, 20))
def test_a_beginning_finds_its_item(item: Item, length: int) -> None:
    """However much of the name has been typed, the item is among those meant."""
    typed = item.id[:length].rstrip("-")
    assert item in meant(typed) or typed in BY_ID

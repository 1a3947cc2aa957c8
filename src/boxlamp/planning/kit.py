"""The preparation list as data, and what of it is ready.

An item is ready when somebody has ticked it off, or when the record holds what it asks for.
"""

from collections.abc import Iterator
from datetime import date, timedelta
from typing import Literal, NamedTuple

from boxlamp.model.litter import Litter

Group = Literal["room", "supplies", "numbers", "travel"]
GROUPS: dict[Group, str] = {
    "room": "The room",
    "supplies": "Within reach of the box",
    "numbers": "Numbers and people",
    "travel": "For the way to the vet",
}

_PRACTICE = "common practice"
_HANDBOOK = "Dog Owner's Home Veterinary Handbook, p. 471 (excerpt read)"
_DERIVED = "worked out from the weight limits"


class Item(NamedTuple):
    """One thing to have ready: why, how many days before she is due, and who says so.

    ``fact`` names the detail of the record that answers it by itself, and ``how`` how to write
    that down.
    """

    id: str
    group: Group
    what: str
    why: str
    days: int
    source: str = _PRACTICE
    fact: str = ""
    how: str = ""


ITEMS: tuple[Item, ...] = (
    Item("box", "room", "A low-sided whelping box with a ledge inside",
         "She learns to lie in it; the ledge keeps her from crushing a pup. 1.2 to 1.5 m square "
         "and 30 cm high for a large dam, 61 to 91 cm and 20 cm for a toy.", 14, _HANDBOOK),
    Item("room", "room", "A quiet, draught-free room that she can step out of",
         "Rest, and a dam who is not disturbed.", 14),
    Item("bedding", "room", "Washable bedding and absorbent pads, enough to change often",
         "Wet bedding chills pups.", 7),
    Item("heat", "room", "Heat over one end of the box only",
         "A newborn cannot keep itself warm; at the other end it can get away from the heat.", 7),
    Item("box-thermometer", "room", "A thermometer at pup level in the box, and a hygrometer",
         "The air a metre higher is not what the pups lie in.", 7),
    Item("thermometer", "supplies", "A digital thermometer for the dam, a spare battery",
         "Her temperature is taken for two weeks before and after.", 14),
    Item("scale", "supplies", "A scale that shows single grams up to 2 kg",
         "4 % of a pup of 150 g is 6 g: a kitchen scale in steps of 5 g cannot show it.", 7,
         _DERIVED),
    Item("clock", "supplies", "A clock that shows seconds, paper and a pen",
         "Minutes count, and a battery may be flat.", 7),
    Item("towels", "supplies", "A pile of clean dry towels", "To rub each pup dry.", 7),
    Item("bulb", "supplies", "A bulb syringe", "To clear the mouth, then the nose.", 7),
    Item("gloves", "supplies", "Disposable gloves and hand wash",
         "Hands carry infection from pup to pup.", 7),
    Item("cord-set", "supplies", "Blunt scissors, thread or clamps, antiseptic for cords",
         "For a cord that bleeds or has to be cut.", 7),
    Item("torch", "supplies", "A torch or head lamp",
         "To look at palates, and to see what is green and what is black.", 7),
    Item("marks", "supplies", "Collars, wool or colours to tell pups apart",
         "A weight without a name is worth little.", 7),
    Item("bottle", "supplies", "A feeding bottle, soft tubes and syringes",
         "For a pup that cannot suck. Let the vet show you how before you need it.", 7),
    Item("milk", "supplies", "Milk replacer for puppies, in date", "If her milk is late.", 7),
    Item("sugar", "supplies", "A sugar source, to be used on the vet's word",
         "A chilled, empty pup runs out of sugar.", 7),
    Item("vet-number", "numbers", "The vet's number is written down",
         "Every alert shows it.", 14, fact="vet_phone", how="log set vet-phone 01234 567890"),
    Item("night-number", "numbers", "The number at night is written down",
         "Most whelpings are not in office hours.", 14, fact="night_phone",
         how="log set night-phone 01234 567890"),
    Item("travel-time", "numbers", "The minutes to the vet by car are written down",
         "Whoever decides to leave must know how far it is.", 14, fact="travel_minutes",
         how="log set travel-minutes 25"),
    Item("vet-told", "numbers", "The vet knows when she is due",
         "Then somebody is there, and a caesarean need not begin with explaining.", 14),
    Item("helper", "numbers", "Somebody who can come, drive or stay with the other pups",
         "Nobody can hold a pup and the wheel.", 14),
    Item("travel-box", "travel", "A warm box with wrapped hot-water bottles",
         "Pups that come along must not get cold.", 7),
    Item("car", "travel", "The car with fuel, towels and a sheet on the seat",
         "It may begin on the way.", 7),
    Item("cool-box", "travel", "Bags and a cool box",
         "A dead pup goes to the vet chilled, not frozen.", 7),
)  # fmt: skip

BY_ID: dict[str, Item] = {item.id: item for item in ITEMS}


class Ticked(NamedTuple):
    """One item as it stands, and by when it should be ready if that is known."""

    item: Item
    ready: bool
    by: date | None


def kit_list(litter: Litter, due: date | None = None) -> tuple[Ticked, ...]:
    """The whole list as it stands. What a person has said of an item is the last word on it."""
    return tuple(
        Ticked(
            item,
            litter.kit.get(item.id, _answered(item, litter)),
            None if due is None else due - timedelta(days=item.days),
        )
        for item in ITEMS
    )


def missing(litter: Litter) -> tuple[Item, ...]:
    """What is not ready."""
    return tuple(line.item for line in kit_list(litter) if not line.ready)


def others(litter: Litter) -> Iterator[str]:
    """Things of the record that are ready and not on the list: it may come from elsewhere."""
    return (name for name, have in litter.kit.items() if have and name not in BY_ID)


def meant(words: str) -> tuple[Item, ...]:
    """The items that a person may mean: one when it is clear, several or none when it is not.

    The name itself, or how it begins, or a word of it; and only if there is no such name, how a
    word of its description begins.
    """
    said = "-".join(words.casefold().replace("-", " ").split())
    if not said:
        return ()
    if said in BY_ID:
        return (BY_ID[said],)
    for fits in (_begins, _has_word, _describes):
        found = tuple(item for item in ITEMS if fits(item, said))
        if found:
            return found
    return ()


def _begins(item: Item, said: str) -> bool:
    return item.id.startswith(said)


def _has_word(item: Item, said: str) -> bool:
    return any(word.startswith(said) for word in item.id.split("-"))


def _describes(item: Item, said: str) -> bool:
    words = item.what.casefold().replace(",", "").replace("'", " ").split()
    return all(any(word.startswith(part) for word in words) for part in said.split("-"))


def _answered(item: Item, litter: Litter) -> bool:
    """Whether the record holds what an item asks for."""
    return bool(item.fact) and getattr(litter.details, item.fact) not in {None, ""}

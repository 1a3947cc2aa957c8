"""Facts about the dam: one table of keys, read and written the same in ``set`` and in headers."""

from collections.abc import Callable
from decimal import Decimal
from typing import NamedTuple

from boxlamp.language import amounts, sentences
from boxlamp.language.context import NotUnderstood
from boxlamp.language.tokens import Words, table
from boxlamp.model.happenings import Details
from boxlamp.model.quantities import plain
from boxlamp.model.zones import known_zone

_YES_NO = table({"yes": "y|true|1|yeah|yep|yup", "no": "n|false|0|nope|nah"})
_YEARS = {"y", "yr", "yrs", "year", "years"}
_MONTHS = {"m", "mo", "month", "months"}
_MONTHS_IN_YEAR = 12


class Field(NamedTuple):
    """One fact: its name in the model, how it is read and said, and what a value looks like."""

    name: str
    read: Callable[[str], object]
    say: Callable[[object], str]
    example: str


def _text(value: str) -> str | None:
    return value or None


_SHORTEST_NUMBER = 3
"""112 or 999; ``20 min`` is none."""


def _phone(value: str) -> str | None:
    """A number that can be rung has three digits; how it is written is its owner's business."""
    return value if sum(letter.isdigit() for letter in value) >= _SHORTEST_NUMBER else None


def _as_is(value: object) -> str:
    return str(value)


def _yes_no(value: str) -> bool | None:
    answer = _YES_NO.get(value.strip().casefold())
    return None if answer is None else answer == "yes"


def _said_yes_no(value: object) -> str:
    return "yes" if value else "no"


def _years(value: str) -> Decimal | None:
    words = Words(value)
    found = amounts.quantity(words, dict.fromkeys(_YEARS, "y") | dict.fromkeys(_MONTHS, "m"))
    if found is None or words.peek() is not None:
        return None
    count, unit = found
    return (count / _MONTHS_IN_YEAR).quantize(Decimal("0.1")) if unit == "m" else count


def _said_years(value: object) -> str:
    return f"{_number(value)}y"


def _kilos(value: str) -> Decimal | None:
    words = Words(value)
    grams = amounts.weight(words, [], amounts.KILO)
    return None if words.peek() is not None else grams


def _said_kilos(value: object) -> str:
    return f"{plain(Decimal(_number(value)) / amounts.KILO)}kg"


def _grams(value: str) -> Decimal | None:
    words = Words(value)
    grams = amounts.weight(words, [])
    return None if words.peek() is not None else grams


def _said_grams(value: object) -> str:
    return f"{_number(value)}g"


def _number(value: object) -> str:
    return plain(Decimal(str(value)))


def _minutes(value: str) -> int | None:
    words = Words(value)
    length = amounts.seconds(words)
    return None if length is None or words.peek() is not None else length // 60


def _said_minutes(value: object) -> str:
    return f"{value} min"


def _zone(value: str) -> str | None:
    return value if known_zone(value) else None


FIELDS: dict[str, Field] = {
    "dam": Field("dam", _text, _as_is, "Bella"),
    "breed": Field("breed", _text, _as_is, "Boxer"),
    "age": Field("age_years", _years, _said_years, "5y"),
    "weight": Field("weight", _kilos, _said_kilos, "12.4kg"),
    "breed-birth-weight": Field("breed_birth_weight", _grams, _said_grams, "320g"),
    "first-litter": Field("first_litter", _yes_no, _said_yes_no, "yes"),
    "flat-faced": Field("flat_faced", _yes_no, _said_yes_no, "no"),
    "toy": Field("toy", _yes_no, _said_yes_no, "no"),
    "earlier-dystocia": Field("earlier_dystocia", _yes_no, _said_yes_no, "no"),
    "earlier-caesarean": Field("earlier_caesarean", _yes_no, _said_yes_no, "no"),
    "zone": Field("zone", _zone, _as_is, "Europe/Prague"),
    "vet": Field("vet", _text, _as_is, "Dr Novak"),
    "vet-phone": Field("vet_phone", _phone, _as_is, "01234 567890"),
    "night-phone": Field("night_phone", _phone, _as_is, "01234 567891"),
    "travel": Field("travel_minutes", _minutes, _said_minutes, "25 min"),
}
KEYS = table({
    "dam": "name|dam name", "breed": "", "age": "age years", "weight": "dam weight",
    "breed-birth-weight": "usual birth weight|breed mean",

    "first-litter": "first", "flat-faced": "", "toy": "toy breed", "earlier-dystocia": "dystocia",
    "earlier-caesarean": "caesarean", "zone": "time zone", "vet": "", "vet-phone": "phone",
    "night-phone": "", "travel": "travel minutes|travel time",
})  # fmt: skip
"""What a person may type for a key, and the key it stands for."""


def read_value(key: str, value: str) -> dict[str, object]:
    """One fact as a change to the model; ``key`` is one of :data:`FIELDS`."""
    known = FIELDS[key]
    read = known.read(value)
    if read is None:
        example = f"set {key} {known.example}"
        if known.read is _phone:
            raise NotUnderstood(sentences.NO_DIGIT.format(value), example)
        raise NotUnderstood(
            sentences.SET_VALUE.format(value, key, f"It looks like: {known.example}"), example
        )
    return {known.name: read}


def said_values(details: Details) -> list[tuple[str, str]]:
    """Every fact that is set, as key and value."""
    values = ((key, known, getattr(details, known.name)) for key, known in FIELDS.items())
    return [(key, known.say(value)) for key, known, value in values if value is not None]

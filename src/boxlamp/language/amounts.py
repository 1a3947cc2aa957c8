"""Numbers with units, as a person writes them, converted exactly."""

import re
from collections.abc import Mapping
from decimal import Decimal
from typing import TypeVar

from boxlamp.language import sentences
from boxlamp.language.clock import span_seconds
from boxlamp.language.context import NotUnderstood
from boxlamp.language.tokens import NOISE, Words, words_of
from boxlamp.model.quantities import (
    GRAMS_PER_OUNCE,
    GRAMS_PER_POUND,
    NMOL_PER_NG,
    celsius_from_fahrenheit,
    plain,
    rounded,
)

U = TypeVar("U")

_NUMBER = r"\d{1,7}(?:[.,]\d{1,9})?|[.,]\d{1,9}"
_NUMBER_AND_UNIT = rf"({_NUMBER})([^\d\s.,]\S*)?\Z"
_POUNDS_AND_OUNCES = r"(\d{1,3})lbs?(\d{1,3}(?:[.,]\d{1,6})?)ozs?\Z"
_SPAN = r"(?:\d{1,5}(?:d|h|hrs?|m|mins?|s|secs?)?)+\Z"
_SPAN_UNITS = words_of(
    "d day days h hr hrs hour hours m min mins minute minutes s sec secs second seconds"
)

GRAM, KILO = Decimal(1), Decimal(1000)

WEIGHT_UNITS: dict[str, Decimal] = {
    **dict.fromkeys(("g", "gr", "gm", "gms", "gram", "grams", "gramme", "grammes"), GRAM),
    **dict.fromkeys(("kg", "kgs", "kilo", "kilos"), KILO),
    **dict.fromkeys(("oz", "ozs", "ounce", "ounces"), GRAMS_PER_OUNCE),
    **dict.fromkeys(("lb", "lbs", "pound", "pounds"), GRAMS_PER_POUND),
}
DEGREES: dict[str, str] = {
    **dict.fromkeys(("c", "°c", "℃", "celsius"), "C"),
    **dict.fromkeys(("f", "°f", "℉", "fahrenheit"), "F"),
    **dict.fromkeys(("°", "deg", "degrees"), ""),
}
_PROGESTERONE = {
    **dict.fromkeys(("ng", "ng/ml"), Decimal(1)),
    **dict.fromkeys(("nmol", "nmol/l"), NMOL_PER_NG),
}
_MILLIMETRES = dict.fromkeys(("mm",), Decimal(1)) | dict.fromkeys(("cm",), Decimal(10))
_MILLILITRES = dict.fromkeys(("ml", "mls", "cc"), Decimal(1))
_BODY = Decimal(20), Decimal(45), Decimal(70), Decimal(113)
_BOX = Decimal(0), Decimal(45), Decimal(46), Decimal(113)
"""The coldest and the hottest, in °C and in °F; a box may be at room temperature and under it."""


def quantity(words: Words, units: Mapping[str, U]) -> tuple[Decimal, U | None] | None:
    """Take a number and its unit (joined, apart, or missing); None when there is no number."""
    token = words.peek()
    if token is None or token.quoted:
        return None
    found = re.match(_NUMBER_AND_UNIT, token.key, re.ASCII)
    if found is None:
        return None
    value, unit = Decimal(found[1].replace(",", ".")), found[2]
    if unit is not None:
        if unit not in units:
            return None
        words.pop()
        return value, units[unit]
    words.pop()
    if words.key() in units:
        return value, units[words.pop().key]
    return value, None


def weight(words: Words, remarks: list[str], bare: Decimal = GRAM) -> Decimal | None:
    """Take a weight, in grams. ``bare`` is the unit of a number that has none."""
    taken = _pounds_and_ounces(words)
    if taken is not None:
        remarks.append(f"{plain(taken)} g")
        return taken
    found = quantity(words, WEIGHT_UNITS)
    if found is None:
        return None
    value, unit = found
    if unit is None:
        remarks.append(f"read as {plain(value)} {'g' if bare == GRAM else 'kg'}")
        return value * bare
    if unit not in {GRAMS_PER_OUNCE, GRAMS_PER_POUND}:
        return value * unit
    grams = rounded(value * unit)
    remarks.append(f"{plain(value)} {'oz' if unit == GRAMS_PER_OUNCE else 'lb'} = {plain(grams)} g")
    return grams


def _pounds_and_ounces(words: Words) -> Decimal | None:
    """``1lb3oz``, ``1lb 3oz``, ``1 lb 3 oz``: rounded once, after adding."""
    words.skip_noise()
    start = words.place
    joined = re.match(_POUNDS_AND_OUNCES, words.key(), re.ASCII)
    if joined:
        words.pop()
        pounds, ounces = (Decimal(part.replace(",", ".")) for part in joined.groups())
        return rounded(pounds * GRAMS_PER_POUND + ounces * GRAMS_PER_OUNCE)
    first = quantity(words, WEIGHT_UNITS)
    if first is not None and first[1] == GRAMS_PER_POUND:
        second = quantity(words, WEIGHT_UNITS)
        if second is not None and second[1] == GRAMS_PER_OUNCE:
            return rounded(first[0] * GRAMS_PER_POUND + second[0] * GRAMS_PER_OUNCE)
    words.place = start
    return None


def celsius(words: Words, remarks: list[str], *, box: bool = False) -> Decimal | None:
    """Take a temperature, in degrees C. Without a unit the range tells which it is."""
    coldest, hottest, coldest_f, hottest_f = _BOX if box else _BODY
    found = quantity(words, DEGREES)
    if found is None:
        return None
    value, unit = found
    if not unit and words.key() in DEGREES:  # "37.1 degrees C"
        unit = DEGREES[words.pop().key]
    if unit != "F" and coldest <= value <= hottest:
        if not unit:
            remarks.append(f"read as {plain(value)} °C")
        return value
    by_range = not unit and coldest_f <= value <= hottest_f
    if unit == "F" or by_range:
        degrees = celsius_from_fahrenheit(value)
        if coldest <= degrees <= hottest:
            remarks.append(f"{plain(value)} °F = {plain(degrees)} °C")
            return degrees
    if box:
        raise NotUnderstood(sentences.BOX_RANGE.format(plain(value)), "temp box 30")
    raise NotUnderstood(sentences.TEMPERATURE_RANGE.format(plain(value)), "temp 37.1")


def progesterone(words: Words, remarks: list[str]) -> Decimal | None:
    """Take a progesterone value, in ng/mL. Its unit must be said: the two differ threefold."""
    found = quantity(words, _PROGESTERONE)
    if found is None:
        return None
    value, unit = found
    if unit is None:
        raise NotUnderstood(sentences.PROGESTERONE_UNIT, "progesterone 6.2 ng")
    if words.key() in {"ml", "l", "/ml", "/l"}:
        words.pop()
    if unit == 1:
        return value
    converted = rounded(value / unit, "0.01")
    remarks.append(f"{plain(value)} nmol/L = {plain(converted)} ng/mL")
    return converted


def millimetres(words: Words) -> Decimal | None:
    """Take a length, in millimetres."""
    found = quantity(words, _MILLIMETRES)
    return None if found is None else found[0] * (found[1] or 1)


def millilitres(words: Words) -> Decimal | None:
    """Take a volume, in millilitres."""
    found = quantity(words, _MILLILITRES)
    return None if found is None else found[0]


def whole(words: Words, largest: int = 99) -> int | None:
    """Take a whole number up to ``largest``."""
    token = words.peek()
    key = "" if token is None or token.quoted else token.key
    if not (key.isascii() and key.isdigit() and len(key) < 10) or int(key) > largest:  # noqa: PLR2004
        return None
    words.pop()
    return int(key)


def numbers_alone(words: Words) -> list[str]:
    """The numbers that are all that follows, as in ``3``, ``3 and #4``; none when more does."""
    following = [token for token in words.tokens[words.place :] if token.key not in NOISE]
    keys = [token.key.lstrip("#") for token in following if not token.quoted]
    plain_numbers = all(key.isascii() and key.isdigit() for key in keys)
    return keys if plain_numbers and len(keys) == len(following) else []


def seconds(words: Words) -> int | None:
    """Take a length of time such as ``3h``, ``1h30m``, ``20 min``, ``0``; alone it is minutes."""
    token = words.peek()
    if token is None or token.quoted or not re.match(_SPAN, token.key, re.ASCII):
        return None
    text = words.pop().key
    if text.isdigit() and words.key() in _SPAN_UNITS:
        text += words.pop().key
    return span_seconds(text)


def said_seconds(length: int) -> str:
    """A length of time as :func:`seconds` reads it back: ``1h30m``."""
    hours, rest = divmod(length, 3600)
    minutes, left = divmod(rest, 60)
    parts = ((hours, "h"), (minutes, "m"), (left, "s"))
    return "".join(f"{count}{unit}" for count, unit in parts if count) or "0"

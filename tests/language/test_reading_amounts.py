from decimal import Decimal
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from boxlamp.language import NotUnderstood
from boxlamp.language.amounts import celsius, said_seconds, seconds, weight
from boxlamp.language.tokens import Words

OUNCE = Fraction(45359237, 1600000)
POUND = OUNCE * 16


def grams(text: str) -> Decimal | None:
    return weight(Words(text), [])


def degrees(text: str) -> Decimal | None:
    return celsius(Words(text), [])


@given(st.integers(1, 40), st.integers(0, 150))
def test_pounds_and_ounces_are_added_before_rounding(pounds: int, tenths: int) -> None:
    """However they are written, the grams are within half a tenth of the exact value."""
    ounces = Decimal(tenths) / 10
    exact = pounds * POUND + Fraction(ounces) * OUNCE
    for text in (f"{pounds}lb {ounces}oz", f"{pounds} lb {ounces} oz", f"{pounds}lb{ounces}oz"):
        taken = grams(text)
        assert taken is not None
        assert abs(Fraction(taken) - exact) <= Fraction(1, 20)


@given(st.integers(1, 4000))
def test_ounces_are_converted_exactly(tenths: int) -> None:
    """A tenth of a gram is the only rounding."""
    ounces = Decimal(tenths) / 10
    taken = grams(f"{ounces}oz")
    assert taken is not None
    assert abs(Fraction(taken) - Fraction(ounces) * OUNCE) <= Fraction(1, 20)


@given(st.decimals(min_value=Decimal("0.1"), max_value=Decimal(300), places=2))
def test_a_half_is_rounded_up_in_either_unit(value: Decimal) -> None:
    """Ounces or pounds alone become the nearest tenth of a gram, a half upwards."""
    for text, unit in ((f"{value}oz", OUNCE), (f"{value}lb", POUND)):
        tenths = (Fraction(value) * unit * 10 + Fraction(1, 2)) // 1
        assert grams(text) == Decimal(tenths) / 10


@given(st.integers(700, 1130))
def test_fahrenheit_is_told_from_its_range(tenths: int) -> None:
    """70 to 113 without a unit is Fahrenheit, to a hundredth of a degree C."""
    typed = Decimal(tenths) / 10
    taken = degrees(str(typed))
    assert taken is not None
    assert abs(Fraction(taken) - (Fraction(typed) - 32) * Fraction(5, 9)) <= Fraction(1, 200)


@given(st.integers(200, 450), st.sampled_from(["", "c", " C", "\u00b0C", " \u00b0c", "\u2103"]))
def test_celsius_is_kept_as_read(tenths: int, unit: str) -> None:
    """20 to 45 is Celsius; comma and point are the same."""
    typed = str(Decimal(tenths) / 10)
    assert degrees(typed + unit) == degrees(typed.replace(".", ",") + unit) == Decimal(typed)


@given(st.decimals(0, 2000, places=1).filter(lambda t: not 20 <= t <= 45 and not 70 <= t <= 113))
def test_other_temperatures_are_refused(typed: Decimal) -> None:
    """A thermometer that shows 50 or 371 was misread, and the reason is given."""
    with pytest.raises(NotUnderstood, match="20 to 45"):
        degrees(str(typed))


@pytest.mark.parametrize(
    ("text", "taken"), [("18", "18"), ("17.5c", "17.5"), ("64f", "17.78"), ("80", "26.67")]
)
def test_a_box_may_be_cool(text: str, taken: str) -> None:
    """What no body can be, the air in the box can: 0 to 45 is Celsius, 46 to 113 Fahrenheit."""
    assert celsius(Words(text), [], box=True) == Decimal(taken)
    with pytest.raises(NotUnderstood, match="0 to 45"):
        celsius(Words("120"), [], box=True)


@given(st.integers(0, 366 * 86400))
def test_lengths_of_time_read_back(length: int) -> None:
    """``1h30m`` and its kin mean the seconds they came from."""
    assert seconds(Words(said_seconds(length))) == length


@pytest.mark.parametrize(
    ("text", "length"),
    [("3h", 10800), ("1h30m", 5400), ("90", 5400), ("90 s", 90), ("2 hours", 7200), ("0", 0)],
)
def test_lengths_of_time_as_typed(text: str, length: int) -> None:
    """A number alone is minutes."""
    assert seconds(Words(text)) == length


@pytest.mark.parametrize(
    ("text", "grams_taken"),
    [("340", 340), ("340 g", 340), (".5kg", 500), ("0,5 kg", 500), (",5kg", 500), ("340g,", 340),
     ("340g.", 340), ("1 lb", Decimal("453.6"))],
)  # fmt: skip
def test_weights_as_typed(text: str, grams_taken: Decimal) -> None:
    """A point or comma before a number is part of it; one after it is not."""
    assert grams(text) == grams_taken


@pytest.mark.parametrize(
    "text", ["red", "", "3m12", "12ozz", "\u0663\u0664\u0660g", "1e3g", "-5g", "-37.1"]
)
def test_what_is_no_weight_is_left_alone(text: str) -> None:
    """Digits of other scripts, signs and exponents are no readings of a scale."""
    words = Words(text)
    assert weight(words, []) is None
    assert words.place == 0

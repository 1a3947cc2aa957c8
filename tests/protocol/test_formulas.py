"""Formula records: which dog they suit, where they hold, and what is refused."""

from decimal import Decimal
from typing import Any

import pytest
from pydantic import ValidationError

from boxlamp.outside import default_protocol
from boxlamp.protocol.records import FormulaRecord, ProtocolError, read_protocol
from boxlamp.rules.registry import BY_ID
from boxlamp.view.rule_page import rule_json, rule_lines

GOOD: dict[str, Any] = {
    "rule": "overdue", "name": "one", "measure": "icc", "dogs": "all dogs", "constant": 45,
    "per_mm": "0.6", "within": 3, "within_seen": "M", "accuracy": "words", "says": "Words.",
    "seen": "C", "checked": "2026-11-25",
}  # fmt: skip


def formula(**changes: object) -> FormulaRecord:
    return FormulaRecord.model_validate(GOOD | changes)


@pytest.mark.parametrize(
    ("bounds", "kilos", "suits"),
    [
        ({}, "12", True), ({}, None, False), ({"unweighed": True}, None, True),
        ({"under_kg": 9}, "8.999", True), ({"under_kg": 9}, "9", False),
        ({"over_kg": 40}, "40", False), ({"over_kg": 40}, "40.001", True),
        ({"at_least_kg": 9, "at_most_kg": 40}, "9", True),
        ({"at_least_kg": 9, "at_most_kg": 40}, "40", True),
        ({"at_least_kg": 9, "at_most_kg": 40}, "8.999", False),
        ({"at_least_kg": 9, "at_most_kg": 40}, "40.001", False),
    ],
)  # fmt: skip
def test_weights_at_their_bounds(bounds: dict[str, Any], kilos: str | None, *, suits: bool) -> None:
    """To the gram; without a weight only the one that says so."""
    weight = None if kilos is None else Decimal(kilos)

    assert formula(**bounds).suits("any", weight) == suits


@pytest.mark.parametrize(
    ("breed", "suits"), [("Pug", True), (" PUG ", True), ("pugs", False), ("", False)]
)
def test_a_formula_for_a_breed_asks_for_no_weight(breed: str, *, suits: bool) -> None:
    """However the breed is written."""
    assert formula(breeds=("pug",)).suits(breed, None) == suits


def test_where_it_holds() -> None:
    """Both ends belong to it; without an end it goes on."""
    bounded = formula(fewest_days=10, most_days=25)

    assert [bounded.holds(Decimal(d)) for d in ("9.9", "10", "25", "25.1")] == [
        False, True, True, False
    ]  # fmt: skip
    assert formula().holds(Decimal(0))
    assert not formula().holds(Decimal("-0.1"))
    assert formula().holds(Decimal(60))


def test_the_sum_is_written_out_as_it_is_done() -> None:
    """A reader can check it with a pencil."""
    assert formula().written_out == "45 - 0.6 x mm"
    assert formula(divisor="1.5").written_out == "(45 - 0.6 x mm) / 1.5"
    assert formula(divisor="1.5").days_left(Decimal(25)) == 20


@pytest.mark.parametrize(
    "change", [{"measure": "hd"}, {"per_mm": 0}, {"divisor": 0}, {"within": -1}, {"colour": 1}]
)
def test_a_wrong_formula_is_refused(change: dict[str, object]) -> None:
    """Before anything is counted from it."""
    with pytest.raises(ValidationError):
        formula(**change)


def test_a_formula_stated_twice_or_without_a_source_is_refused() -> None:
    """Like any other record."""
    keys = {
        "rule": "overdue", "name": "icc-small", "measure": "icc", "dogs": "dogs",
        "within_seen": "A", "accuracy": "words", "says": "Words.", "seen": "A",
    }  # fmt: skip
    words = "\n".join(f'{key} = "{value}"' for key, value in keys.items())
    record = f"[[formula]]\n{words}\nconstant = 1\nper_mm = 1\nwithin = 1\nchecked = 2026-11-25"
    with pytest.raises(ProtocolError) as refused:
        read_protocol(f"{_shipped()}\n{record}")

    assert "overdue formula icc-small: stated twice." in refused.value.problems
    assert "overdue: a value without a source must be marked C, P or M." in refused.value.problems


def _shipped() -> str:
    from importlib.resources import files

    return files("boxlamp.protocol").joinpath("default.toml").read_text(encoding="utf-8")


def test_the_page_and_its_json_show_every_formula() -> None:
    """With the sum, for which dogs, where it holds, and whether alarms count from it."""
    protocol = default_protocol()
    page = " ".join(" ".join(rule_lines(BY_ID["overdue"], protocol)).split())
    data = rule_json(BY_ID["overdue"], protocol)["limits"]

    for record in protocol.formula:
        assert f"{record.name}: days left = {record.written_out}" in page
        [one] = [each for each in data if each.get("name") == record.name]
        assert one["per_mm"] == float(record.per_mm)
        assert one["within"] == record.within
    assert page.count("Shown only: no alarm counts from it.") == 4

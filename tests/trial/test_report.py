"""What a trial says: figures counted by hand, eighty columns, a documented JSON object."""

import json

import pytest
from jsonschema import validate
from syrupy.assertion import SnapshotAssertion

from boxlamp.imagine import TROUBLES
from boxlamp.rules.registry import BY_ID
from boxlamp.trial import alone_lines, apart_lines, words
from boxlamp.trial.intervals import Figure, Quartiles, share
from boxlamp.trial.lines import trial_lines
from boxlamp.trial.machine import plain_trial, trial_json
from boxlamp.trial.one import Side
from boxlamp.trial.report import ALL, Report, report
from support.nights import DEFAULT
from support.trials import STRICT, USUAL, changed, counted

NIGHTS = 120

FIGURE = {
    "type": "object",
    "required": ["value", "low", "high"],
    "additionalProperties": False,
    "properties": {"value": {"type": "number"}, "low": {"type": ["number", "null"]},
                   "high": {"type": ["number", "null"]}},
}  # fmt: skip
COMPARED = {
    "type": "object",
    "required": ["sides", "apart", "same"],
    "additionalProperties": False,
    "properties": {
        "sides": {"type": "array", "items": FIGURE, "minItems": 1, "maxItems": 2},
        "apart": {"oneOf": [FIGURE, {"type": "null"}]},
        "same": {"type": "boolean"},
    },
}
COUNT = {"type": "integer", "minimum": 0}
TIMES = {
    "type": ["object", "null"],
    "required": ["low", "middle", "high"],
    "properties": dict.fromkeys(("low", "middle", "high"), COUNT),
}
CAUGHT = {
    "type": "object",
    "required": ["flagged", "already", "missed", "watched", "after_min", "before_min", "first"],
    "additionalProperties": False,
    "properties": {
        **dict.fromkeys(("flagged", "already", "missed", "watched"), COUNT),
        **dict.fromkeys(("after_min", "before_min"), TIMES),
        "first": {"type": "array", "items": {"required": ["rule", "nights"]}},
    },
}
SCHEMA = {
    "type": "object",
    "required": ["schema", "seed", "planned", "nights", "partial", "normal", "troubled", "sides",
                 "levels", "rules", "never", "troubles", "missed"],
    "additionalProperties": False,
    "properties": {
        "schema": {"const": 1},
        **dict.fromkeys(("seed", "planned", "nights", "normal", "troubled"), COUNT),
        "partial": {"type": "boolean"},
        "sides": {"type": "array", "items": {"required": ["name", "version", "limits"]}},
        "levels": {"type": "array", "items": {
            "required": ["level", "per_night", "nights"], "additionalProperties": False,
            "properties": {"level": {"enum": ["watch", "call", "go"]}, "per_night": COMPARED,
                           "nights": COMPARED}}},
        "rules": {"type": "array", "items": {
            "required": ["rule", "level", "per_night"], "additionalProperties": False,
            "properties": {"rule": {"enum": [*BY_ID]}, "level": {"enum": ["watch", "call", "go"]},
                           "per_night": COMPARED}}},
        "never": {"type": "array", "items": {"enum": [*BY_ID]}},
        "troubles": {"type": "array", "items": {
            "required": ["trouble", "nights", "flagged", "missed", "sooner_min", "sides"],
            "additionalProperties": False,
            "properties": {"trouble": {"type": "string"}, "nights": {"type": "integer"},
                           "flagged": COMPARED, "missed": COMPARED,
                           "sides": {"type": "array", "items": CAUGHT},
                           "sooner_min": {"oneOf": [FIGURE, {"type": "null"}]}}}},
        "missed": {"type": "array", "items": {"required": ["side", "trouble", "seed"]}},
    },
}  # fmt: skip


def found(*sides: Side, nights: int = NIGHTS) -> Report:
    """The report of a trial of the hand-made nights."""
    return report(counted(nights, *sides), sides, seed=1)


def test_figures_are_those_counted_by_hand() -> None:
    """Of every six nights: three normal with 3 watches and a call, one of three troubles caught."""
    told = trial_json(found(USUAL))
    by_level = {row["level"]: row for row in told["levels"]}

    assert [by_level[level]["per_night"]["sides"][0]["value"] for level in by_level] == [
        pytest.approx(1), pytest.approx(1 / 3), 0
    ]  # fmt: skip
    assert by_level["watch"]["nights"]["sides"][0]["value"] == pytest.approx(2 / 3)
    assert told["rules"][0]["rule"] == "contraction-no-pup"
    every, *each = told["troubles"]
    assert every["trouble"] == ALL
    assert (every["nights"], every["flagged"]["sides"][0]["value"]) == (60, pytest.approx(1 / 3))
    assert [(row["trouble"], row["sides"][0]["flagged"]) for row in each] == [
        ("short", 0), ("stuck", 20)
    ]  # fmt: skip
    assert every["sides"][0]["after_min"] == {"low": 20, "middle": 20, "high": 20}
    assert [one["seed"] for one in told["missed"]] == list(range(3, NIGHTS, 6))
    assert {"contraction-no-pup", "log-quiet"}.isdisjoint(told["never"])


def test_the_difference_is_that_of_the_same_nights() -> None:
    """A call in every normal night instead of in every third; each short trouble caught."""
    told = trial_json(found(USUAL, STRICT))
    call = next(row for row in told["levels"] if row["level"] == "call")
    short = next(row for row in told["troubles"] if row["trouble"] == "short")
    stuck = next(row for row in told["troubles"] if row["trouble"] == "stuck")

    assert call["per_night"]["apart"]["value"] == pytest.approx(2 / 3)
    assert (short["flagged"]["apart"]["value"], short["sooner_min"]) == (1, None)
    assert stuck["flagged"]["same"]
    assert (short["missed"]["apart"]["value"], stuck["missed"]["same"]) == (-1, True)
    assert stuck["sooner_min"]["value"] == 6  # twelve minutes in one, told before in the other


def test_a_protocol_beside_itself_is_the_same_everywhere() -> None:
    """Every difference is nothing and says so."""
    told = found(USUAL, Side("own", DEFAULT))
    compared = [
        *(row.alerts for row in told.levels), *(row.nights for row in told.levels),
        *(row.alerts for row in told.rules), *(row.flagged for row in told.troubles),
    ]  # fmt: skip

    assert all(one.same and one.apart is not None and one.apart.value == 0 for one in compared)
    assert all(row.sooner is None or row.sooner == Figure(0, 0, 0) for row in told.troubles)


@pytest.mark.parametrize("sides", [(USUAL,), (USUAL, STRICT)])
def test_the_json_is_as_documented(sides: tuple[Side, ...]) -> None:
    """Schema 1, with nothing that JSON cannot hold."""
    for nights in (1, 2, NIGHTS):
        told = json.loads(json.dumps(trial_json(found(*sides, nights=nights)), allow_nan=False))
        validate(told, SCHEMA)


@pytest.mark.parametrize("sides", [(USUAL,), (USUAL, STRICT)])
def test_the_screen_is_as_it_was_looked_at(
    sides: tuple[Side, ...], snapshot: SnapshotAssertion
) -> None:
    """One protocol, and two side by side: eighty columns, the level told by mark and word."""
    lines = list(trial_lines(found(*sides)))

    assert max(map(len, lines)) <= words.ACROSS
    assert "\n".join(lines) == snapshot


@pytest.mark.parametrize("nights", [1, 2, 3, 4])
@pytest.mark.parametrize("sides", [(USUAL,), (USUAL, STRICT)])
def test_the_fewest_nights_can_be_told(sides: tuple[Side, ...], nights: int) -> None:
    """One normal night has no interval and no troubles; nothing divides by nothing."""
    lines = list(trial_lines(found(*sides, nights=nights)))

    assert lines[0].endswith(f"{nights} imagined night{'s' * (nights > 1)}, seed 1")
    assert any("troubled nights" in line for line in lines) == (nights > 1)
    assert nights < 4 or max(map(len, lines)) <= words.ACROSS


def test_plain_lines_are_one_fact_each() -> None:
    """Tabs between what, of which, whose and the figures; every missed night has its line."""
    lines = list(plain_trial(found(USUAL, STRICT)))

    assert lines[0] == f"nights\tall\t\t{NIGHTS}\t{NIGHTS}"
    third = share(20, 60)
    assert third is not None
    figures = "\t".join(f"{part:.5f}" for part in third if part is not None)
    assert f"nights-with\tcall\tdefault\t{figures}" in lines
    assert "first\tstuck contraction-no-pup\town\t20" in lines
    assert sum(line.startswith("missed\tshort\tdefault\t") for line in lines) == 20
    assert not any(line.startswith("missed\tshort\town") for line in lines)


@pytest.mark.parametrize(
    ("told", "wanted"),
    [
        (words.rate(Figure(2.1, 1.8, 2.4)), "2.1 (1.8-2.4)"),
        (words.rate(Figure(0.521, 0.502, 0.54), 100), "52 (50-54)"),
        (words.per_night(Figure(1)), "1.00"),
        (words.percent(Figure(0.982, 0.969, 0.99)), "98.2 (96.9-99.0)"),
        (words.percent(Figure(1, 0.97, 1)), "100 (97.0-100)"),
        (words.percent(Figure(0.961, 0.91, 0.984)), "96 (91-98)"),
        (words.signed(Figure(-0.04, -0.046, 0.034), 100), "-4.0 (-4.6 to +3.4)"),
        (words.signed(Figure(0.0001, -0.0001, 0.0001)), "0.0 (0.0 to 0.0)"),
        (words.sooner(Figure(12.2, 9.1, 15)), "12 min sooner (9 to 15)"),
        (words.sooner(Figure(-12.2, -15, -9.1)), "12 min later (9 to 15)"),
        (words.times(Quartiles(10, 25, 65)), "0:25 (0:10-1:05)"),
        (words.times(Quartiles(599, 600, 2400)), "10 h (9:59-40 h)"),
        (words.rounded(0.4), "under 1"),
        (words.rounded(0), "0"),
    ],
)
def test_a_figure_is_short_and_exact(told: str, wanted: str) -> None:
    """A value and its interval, with as many digits as anybody reads."""
    assert told == wanted


def test_every_name_has_room() -> None:
    """No trouble and no rule is cut off in its column."""
    assert max(map(len, TROUBLES)) < 19
    assert max(map(len, BY_ID)) < 27


@pytest.mark.parametrize(
    ("widths", "cells"),
    [
        (alone_lines._LEVELS, ("11.02 (10.47-11.57)", "99.8 (99.3-99.9)")),
        (alone_lines._RULES, ("467 (454-479)", "1102 (1047-1157)", "7.5 (5.9-9.1)")),
        (
            alone_lines._TROUBLES,
            ("50000", "90.1 (88.1-91.8)", "8:40 (2:46-44 h)", "13 h (8:40-44 h)"),
        ),
        (apart_lines._LEVELS, ("1102 (1047-1157)", "1102 (1047-1157)", "-135 (-144 to -129)")),
        (apart_lines._RULES, ("7.5 (5.9-9.1)", "467 (454-479)", "-135 (-144 to -129)")),
        (
            apart_lines._TROUBLES,
            ("5000", "90.1 (88.1-91.8)", "90.1 (88.1-91.8)", "+0.4 (-0.1 to +0.9)"),
        ),
        (apart_lines._TIMES, ("default", "8:40 (2:46-44 h)", "13 h (8:40-44 h)")),
    ],
)
def test_the_widest_figures_fit(widths: tuple[int, ...], cells: tuple[str, ...]) -> None:
    """Every table is eighty columns wide with the longest figures that thousands of nights give."""
    assert len(words.row(widths, "x" * widths[0], *cells)) == words.ACROSS


def test_limits_at_once_and_of_other_clocks_are_named() -> None:
    """What the vet has changed stands at the top."""
    own = Side("own", DEFAULT, (changed("watch", 0), changed("call", 8)))
    lines = " ".join(" ".join(trial_lines(found(USUAL, own, nights=6))).split())

    assert "own: the same but contraction-no-pup watch at once, contraction-no-pup call" in lines
    assert "contraction-no-pup call at 8 min" in lines

"""Weights, rounds, reflexes, milestones, chips: the words of the weeks after the night."""

from datetime import UTC, datetime, timedelta
from decimal import Decimal

import pytest

from boxlamp.language import Context, NotUnderstood, read_line, read_night
from boxlamp.model.entry import Entry
from boxlamp.model.happenings import (
    Amend,
    Feed,
    Kit,
    Milestone,
    Reflexes,
    Round,
    Sign,
    Weighed,
    What,
)

NIGHT = """dam: Ash
date: 2026-03-02

02:00 pup 1 dog 312g red
02:30 pup 2 bitch 298g blue
03:00 pup 3 bitch 305g green
03:30 pup 4 dead
"""
MORNING = datetime(2026, 3, 3, 2, tzinfo=UTC)


def entries(more: str = "") -> tuple[Entry, ...]:
    return read_night(NIGHT + more, source="ash").entries


def box(more: str = "", now: datetime = MORNING) -> Context:
    return Context.of(entries(more), now, "UTC")


def what(line: str, more: str = "") -> What:
    return read_line(line, box(more)).draft.what


def doubts(line: str, more: str = "", now: datetime = MORNING) -> list[str]:
    return [doubt.sentence for doubt in read_line(line, box(more, now)).doubts]


def weights(*rows: tuple[int, str]) -> Round:
    return Round(weights=tuple(Weighed(pup=pup, grams=Decimal(grams)) for pup, grams in rows))


@pytest.mark.parametrize(
    "line",
    [
        "round red 320 blue 305 green 311",
        "round 1 320 2 305 3 311",
        "weights red 320g, blue 305g, green 311g",
        "weighing pup 1 320 g pup 2 305 g pup 3 311 g",
        "round 1 320g blue 305 3 0.311kg",
    ],
)
def test_a_round_names_each_pup_and_its_weight(line: str) -> None:
    """A whole weighing round is one line, pups by number or mark, in any order."""
    assert what(line) == weights((1, "320"), (2, "305"), (3, "311"))


def test_ounces_and_grams_mix_in_one_round() -> None:
    """Each weight may have its own unit, and the conversion is said."""
    heard = read_line("round red 11.5oz blue 305 green 1lb 1oz", box())
    assert heard.draft.what == weights((1, "326"), (2, "305"), (3, "481.9"))
    assert "11.5 oz = 326 g" in heard.echo


def test_whoever_was_not_weighed_is_named() -> None:
    """A round says which living pups it left out; a dead one is not missed."""
    assert "not weighed: pup 3 (green)" in read_line("round red 320 blue 305", box()).echo
    assert "not weighed" not in read_line("round red 320 blue 305 green 311", box()).echo


@pytest.mark.parametrize(
    ("line", "word"),
    [
        ("round red 320 blue", "missing"),
        ("round red blue 305", "missing"),
        ("round red 320 red 330", "twice"),
        ("round red 320 purple 310", "no pup purple"),
        ("round", "missing"),
        ("round 320 305", "no pup 320"),
        ("weigh red 320 blue 305", "several pups"),
    ],
)
def test_a_round_that_is_unsure_is_refused(line: str, word: str) -> None:
    """Half a round is not taken: the line is answered with what is missing."""
    with pytest.raises(NotUnderstood) as refused:
        what(line)
    assert word in str(refused.value)


def test_a_weight_that_fits_another_pup_is_asked_about() -> None:
    """More than a fifth up or down in a day is a slip or another pup, and that pup is named."""
    heard = read_line("weigh red 240", box("04:00 weigh 3 235g\n"))
    assert [doubt.code for doubt in heard.doubts] == ["implausible"]
    assert "-23 %" in heard.doubts[0].sentence
    assert "pup 3 (green)" in heard.doubts[0].fix


@pytest.mark.parametrize(("grams", "asked"), [(374, 0), (375, 1), (250, 0), (249, 1)])
def test_a_fifth_in_a_day_is_the_edge(grams: int, asked: int) -> None:
    """312 g may become 374 or 250 g within a day unasked, and nothing beyond."""
    day_later = datetime(2026, 3, 3, 2, tzinfo=UTC)
    assert len(doubts(f"round red {grams}", now=day_later)) == asked


def test_what_a_week_may_bring_is_not_asked_about() -> None:
    """The allowance grows with the days since the last weight."""
    week = MORNING + timedelta(days=6)
    assert doubts("weigh red 640", now=week) == []
    assert doubts("weigh red 640") != []


def test_one_weight_of_a_round_can_be_amended() -> None:
    """A correction of one pup leaves the others of the round as they were."""
    round_ = "2026-03-03 01:00 round red 320 blue 305\n"
    number = entries(round_)[-1].id
    amended = what(f"amend {number} weigh blue 315", round_)
    assert amended == Amend(target=number, what=weights((1, "320"), (2, "315")))
    whole = what(f"amend {number} round red 321 blue 315", round_)
    assert whole == Amend(target=number, what=weights((1, "321"), (2, "315")))
    part = what(f"amend {number} round red 321", round_)
    assert part == Amend(target=number, what=weights((1, "321"), (2, "305")))


@pytest.mark.parametrize(
    ("line", "wanted"),
    [
        ("reflex 3 2 1 0", Reflexes(pup=3, suckle=2, rooting=1, righting=0)),
        ("reflex green suckle good", Reflexes(pup=3, suckle=2)),
        ("reflexes 3 righting absent suckle weak", Reflexes(pup=3, suckle=1, righting=0)),
        ("reflex 3 ? ? 2", Reflexes(pup=3, righting=2)),
        ("eyes open 3", Milestone(milestone="eyes-open", pup=3)),
        ("eyes green open", Milestone(milestone="eyes-open", pup=3)),
        ("eyes open", Milestone(milestone="eyes-open")),
        ("wormed all", Milestone(milestone="wormed")),
        ("cord stump off red", Milestone(milestone="cord-off", pup=1)),
        ("left home 2", Milestone(milestone="left-home", pup=2)),
        ("left home all", Milestone(milestone="left-home")),
        (
            "chip red 276 0981-0000 0001",
            Milestone(milestone="chipped", pup=1, number="276098100000001"),
        ),
        ("kit towels", Kit(item="towels")),
        ("kit clean towels missing", Kit(item="clean towels", have=False)),
        ('kit "towels missing"', Kit(item="towels missing")),
    ],
)
def test_each_line_means_one_thing(line: str, wanted: What) -> None:
    """What may be typed in the first weeks, and what it stands for."""
    assert what(line) == wanted


@pytest.mark.parametrize(
    "line",
    ["reflex 3", "reflex 3 ? ? ?", "reflex 3 5", "reflex 3 suckle 2 suckle 1", "chip 3", "kit",
     "left home", "eyes open 9", "eyes open 1 2"],
)  # fmt: skip
def test_what_is_unsure_is_refused(line: str) -> None:
    """Nothing is guessed: a line that says too little or too much is answered."""
    with pytest.raises(NotUnderstood):
        what(line)


@pytest.mark.parametrize(
    ("number", "word"),
    [
        ("276098100000001", None),
        ("900123456789012", None),
        ("040274877906943", None),
        ("040274877906944", "at most"),
        ("276999999999999", "at most"),
        ("27609810000000", "15 digits"),
        ("000098100000001", "000"),
        ("999098100000001", "test chip"),
        ("2760981000000A1", "digits only"),
        ("AVID012345", "older kind"),
    ],
)
def test_a_chip_number_is_held_against_the_standard(number: str, word: str | None) -> None:
    """ISO 11784: 15 digits, a country or maker, and a number that fits in 38 bits."""
    asked = doubts(f"chip 3 {number}")
    assert asked == [] if word is None else word in asked[0]


def test_one_chip_belongs_to_one_pup() -> None:
    """The same number for two pups is asked about."""
    first = "2026-03-03 01:00 chip 1 276098100000001\n"
    assert "pup 1 (red)" in doubts("chip 2 276098100000001", first)[0]
    assert doubts("chip 1 276098100000001", first) == []


@pytest.mark.parametrize(("amount", "asked"), [(15, 0), (15.6, 0), (15.7, 1), (40, 1)])
def test_a_meal_larger_than_the_stomach_is_asked_about(amount: float, asked: int) -> None:
    """A pup of 312 g holds about 15.6 ml, at 5 ml per 100 g."""
    assert len(doubts(f"feed red {amount}ml tube")) == asked
    assert isinstance(what(f"feed red {amount}ml tube"), Feed)


def codes(line: str, more: str = "", now: datetime = MORNING) -> list[str]:
    return [doubt.code for doubt in read_line(line, box(more, now)).doubts]


def test_two_pups_exchanged_on_the_scale_are_seen_as_that() -> None:
    """When each weight would fit the other pup, one question asks so and gives the line."""
    grown = "2026-03-03 01:00 round 1 600 2 300 3 305\n"
    heard = read_line("round red 310 blue 620 green 311", box(grown, MORNING + timedelta(hours=1)))
    assert [doubt.code for doubt in heard.doubts] == ["exchanged"]
    assert heard.doubts[0].fix == "round 1 620 2 310 ..."


def test_a_slip_in_a_mark_is_answered_with_the_line_mended() -> None:
    """Nothing of a long line has to be typed again."""
    with pytest.raises(NotUnderstood) as refused:
        what("round red 320 bleu 305 green 311")
    assert refused.value.nearest == "round red 320 blue 305 green 311"


@pytest.mark.parametrize("line", ["weigh 4 200g", "round red 320 4 200", "chip 4 276098100000001"])
def test_a_line_about_a_dead_pup_is_asked_about(line: str) -> None:
    """Pup 4 was born dead: a weight or a chip is another pup's."""
    assert "gone" in codes(line)


def test_a_pup_hardly_leaves_before_six_weeks() -> None:
    """To leave the house ends everything that is watched, so it is asked about; sold is no word."""
    assert codes("left home red", now=MORNING + timedelta(days=40)) == ["gone"]
    assert codes("left home red", now=MORNING + timedelta(days=56)) == []
    with pytest.raises(NotUnderstood):
        what("red sold")


def test_a_second_chip_of_one_pup_is_asked_about() -> None:
    """The number it has already is named."""
    first = "2026-03-03 01:00 chip 1 276098100000001\n"
    assert "276098100000001" in doubts("chip 1 276098100000002", first)[0]


@pytest.mark.parametrize(("reading", "asked"), [("36", 0), ("35.9", 1), ("34.5", 1), ("88", 1)])
def test_a_low_reading_with_pups_in_the_house_may_be_a_pups(reading: str, asked: int) -> None:
    """A forgotten pup must not end the dam's fever; 88 is Fahrenheit, and a cold pup's."""
    assert len(codes(f"temp {reading}")) == asked
    assert codes(f"temp red {reading}") == []


@pytest.mark.parametrize("line", ["push", "pup", "waters", "afterbirth", "rest"])
def test_labour_weeks_after_a_whelping_is_asked_about(line: str) -> None:
    """A stray key in week nine must not put her in labour."""
    assert "long-after" in codes(line, now=MORNING + timedelta(days=60))
    assert "long-after" not in codes(line, now=MORNING)


def test_a_limp_pup_is_written_down_whatever_else_is_unsure() -> None:
    """Its clock must start: what is unsure of it is said with the answer and can be amended."""
    heard = read_line("pup limp lmie 200g", box())
    assert heard.doubts == ()
    assert "look again and amend" in heard.echo
    assert codes("pup lmie 200g") == ["mark"]


def test_amend_last_asks_before_it_makes_something_else_of_an_entry() -> None:
    """The last entry may be another than the one that was meant."""
    temperature = "2026-03-03 01:00 temp 3 35.6\n"
    assert codes("amend last round red 320", temperature) == ["kind"]
    assert codes("amend last temp 3 35.8", temperature) == []


@pytest.mark.parametrize(
    "line",
    ["dam udder odd", "state 3 peculiar", "red sneezed twice", "feed red lots", "wormed 1 2"],
)
def test_a_hint_puts_nothing_untrue_into_a_mouth(line: str) -> None:
    """What could not be read is offered as a note in the person's own words, or not at all."""
    with pytest.raises(NotUnderstood) as refused:
        what(line)
    assert refused.value.nearest in {"", f"note {line}"}


def test_the_signs_that_can_be_said_are_listed() -> None:
    """A dead end names the way out."""
    with pytest.raises(NotUnderstood, match="laboured-breathing"):
        what("state 3 peculiar")
    with pytest.raises(NotUnderstood, match="udder-painful"):
        what("dam peculiar today")


def test_a_restless_dam_is_a_sign() -> None:
    """Said of the dam, panting and restlessness are what they are before labour."""
    assert what("dam panting and restless") == Sign(signs=("panting", "restless"))


@pytest.mark.parametrize("mark", ["all", "dam", "box", "Pups"])
def test_a_mark_is_not_what_others_are_called_by(mark: str) -> None:
    """A pup called `all` could not be told from the whole litter."""
    with pytest.raises(NotUnderstood, match="mark of its own"):
        what(f"mark 3 {mark}")


def test_two_measurements_are_two_lines() -> None:
    """Neither of them is dropped without a word."""
    with pytest.raises(NotUnderstood, match="measurements"):
        what("scan icc 30mm bpd 20mm")

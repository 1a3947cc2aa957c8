"""Lines at the edges of the language: each is read as it was meant, or answered with what works."""

from datetime import datetime, timedelta
from decimal import Decimal

import pytest

from boxlamp.language import Context, NotUnderstood, if_meant, pup_named, read_line, say
from boxlamp.language.behind import cut_behind
from boxlamp.model.entry import Draft, Entry
from boxlamp.model.happenings import (
    Amend,
    Birth,
    Death,
    Expect,
    Milestone,
    Ovulation,
    PupState,
    Sign,
    Step,
    Strike,
    Temperature,
    Treatment,
    VetContact,
    Waters,
    Weight,
    What,
)
from support.happenings import NOW

ZONE = "Europe/Prague"


def born(number: int, at: datetime, mark: str | None = None) -> Entry:
    """The birth of a pup, as the entry of its own number."""
    return Draft(at=at, zone=ZONE, what=Birth(pup=number, mark=mark)).numbered(number, "n", NOW)


RED, SECOND = born(1, NOW - timedelta(minutes=70), "red"), born(2, NOW - timedelta(minutes=5))
BOX = Context.of([RED, SECOND], NOW, ZONE)
EMPTY = Context.of([], NOW, ZONE)


def what(line: str, context: Context = BOX) -> What:
    return read_line(line, context).draft.what


def codes(line: str, context: Context = BOX) -> list[str]:
    return [doubt.code for doubt in read_line(line, context).doubts]


def refusal(line: str, context: Context = BOX) -> NotUnderstood:
    with pytest.raises(NotUnderstood) as refused:
        read_line(line, context)
    return refused.value


@pytest.mark.parametrize(
    ("line", "celsius"),
    [
        ("temp 37.1 degrees C", "37.1"),
        ("temp 98.8 degrees F", "37.11"),
        ("37.1 c", "37.1"),
        ("98.6 f", "37.00"),
    ],
)
def test_a_unit_may_stand_apart(line: str, celsius: str) -> None:
    """The unit of a temperature may be a word of its own, or two."""
    assert what(line) == Temperature(celsius=Decimal(celsius))


@pytest.mark.parametrize("line", ["temp 150 f", "temp 45.1 c", "temp 60"])
def test_a_unit_makes_no_impossible_temperature_possible(line: str) -> None:
    """Whatever its unit, what no body can be is refused with the ranges that are read."""
    assert "no body temperature" in refusal(line).why


@pytest.mark.parametrize(
    ("line", "value"),
    [
        ("progesterone 6.2 ng ml", "6.2"),
        ("progesterone 6.2 ng /ml", "6.2"),
        ("progesterone 20 nmol l", "6.29"),
    ],
)
def test_a_progesterone_unit_in_two_words(line: str, value: str) -> None:
    """``ng ml`` is one unit."""
    assert what(line) == Ovulation(basis="progesterone", value=Decimal(value))


@pytest.mark.parametrize("line", ["push at 02:15 Z", "push 02:15 +01:00"])
def test_half_a_time_behind_is_no_time(line: str) -> None:
    """An offset without a day is never cut off and forgotten."""
    refused = refusal(line)
    assert "cannot be told for sure" in refused.why
    assert refused.nearest == "HH:MM push"


@pytest.mark.parametrize("line", ["strike entry 1 twice", "strike number 1 twice"])
def test_the_word_before_a_number(line: str) -> None:
    """``entry 1`` is entry 1."""
    assert what(line) == Strike(target=1, why="twice")


@pytest.mark.parametrize("line", ["strike last twice", "amend last 02:10"])
def test_there_is_no_last_entry_yet(line: str) -> None:
    """In an empty record ``last`` names nothing, and that is said."""
    assert "no entry yet" in refusal(line, EMPTY).why


@pytest.mark.parametrize("line", ["amend 1 strike 1", "amend 1 amend 1 temp 37"])
def test_no_correction_becomes_another(line: str) -> None:
    """A correction cannot be made of another one; the way out is to strike the entry."""
    assert refusal(line).nearest == "strike 1"


def test_a_sign_is_not_how_a_pup_was_born() -> None:
    """A correction that would put a cry in the place of a birth is asked about first.

    Limp is how it was born, and is kept in the birth.
    """
    assert codes("amend 1 state 1 crying") == ["no-birth"]
    assert what("amend 1 state 1 limp") == Amend(
        target=1, what=Birth(pup=1, mark="red", state="limp")
    )


def test_a_birth_corrected_into_another_number() -> None:
    """Renumbering a birth is looked at as a new birth is: a number that is taken is refused."""
    assert what("amend 2 pup 3 dog") == Amend(target=2, what=Birth(pup=3, sex="dog"))
    assert "already written down" in refusal("amend 1 pup 2 dog").why


@pytest.mark.parametrize(
    ("line", "instead"), [("born 2 312g", "weigh 2 312g"), ("born 2 dog", "sex 2 dog")]
)
def test_a_birth_that_is_known_and_what_else_was_meant(line: str, instead: str) -> None:
    """A second birth of the same number is refused with the line that adds to the first."""
    assert refusal(line).nearest == instead


def test_a_bare_number_over_thirty_is_a_weight() -> None:
    """``pup 31`` weighs 31 g, which is asked about; ``pup 30`` and ``pup #31`` are numbers."""
    assert what("pup 31") == Birth(pup=3, weight=Decimal(31))
    assert what("pup 3 oz") == Birth(pup=3, weight=Decimal("85.0"))
    assert what("pup 30") == Birth(pup=30)
    assert what("pup #31") == Birth(pup=31)
    assert codes("pup 31") == ["implausible"]


def test_a_hundredth_pup() -> None:
    """A litter has ninety-nine pups at most; the next is refused, and so kept as a note."""
    full = Context.of([born(99, NOW)], NOW, ZONE)
    assert "99" in refusal("pup", full).why
    assert what("pup #98", full) == Birth(pup=98)


@pytest.mark.parametrize("line", ["vet called vet; wait an hour", "vet vet called; wait an hour"])
def test_the_vet_named_twice(line: str) -> None:
    """``vet called vet`` is one call."""
    assert what(line) == VetContact(contact="called", said="wait an hour")


@pytest.mark.parametrize(
    "line",
    [
        "limit first-milk call 3h by Dr Novak",
        "limit first-milk call 3h by; it was so last time",
        "limit first-milk call 3h",
        "limit first-milk 3h by Dr Novak; it was so last time",
        "limit first-milk call by Dr Novak; it was so last time",
    ],
)
def test_a_limit_needs_every_part(line: str) -> None:
    """A limit is changed by somebody, for a reason, and to a length: without one it is refused."""
    refused = refusal(line)
    assert refused.nearest.startswith("limit ")
    assert " by " in refused.nearest


@pytest.mark.parametrize("age", ["old", "4y 2", "y"])
def test_an_age_that_is_none(age: str) -> None:
    """What is no number of years or months is answered with what one looks like."""
    assert refusal(f"set age {age}").nearest == "set age ..."


def test_pups_beside_a_count() -> None:
    """The word pups may stand before or behind the number."""
    for line in ("expect pups 6 xray", "expect 6 pups xray"):
        assert what(line) == Expect(count=6, method="xray")
    assert "How many" in refusal("expect pups").why


@pytest.mark.parametrize("line", ["weigh dam", "weigh mum"])
def test_the_dam_without_a_weight(line: str) -> None:
    """Her weight is hers: the example given is not a pup's."""
    assert refusal(line).nearest == "weigh dam ...kg"


def test_said_twice_is_once() -> None:
    """A sign typed twice in a line is one sign."""
    assert what("sign restless restless nesting") == Sign(signs=("restless", "nesting"))


def test_waters_broke_in_any_order() -> None:
    """Broke is the waters' own word and takes nothing from their colour."""
    assert what("waters broke green") == Waters(colour="green")
    assert what("waters green broke") == Waters(colour="green")


@pytest.mark.parametrize("line", ["cord 1 tied 2", "breathing 1 5"])
def test_a_number_too_many(line: str) -> None:
    """A second number behind a step may be a second pup: one line is one entry."""
    assert "One line is one entry" in refusal(line).why


@pytest.mark.parametrize("line", ["milk all", "cord all tied", "wormed all"])
def test_all_of_none(line: str) -> None:
    """A step for all pups before there is one is refused in the words for that."""
    assert "No pup has been written down yet" in refusal(line, EMPTY).why


def test_the_word_pup_before_its_number() -> None:
    """``state pup 1 crying`` and ``state crying pup 1`` are the same."""
    expected = PupState(pup=1, signs=("crying",))
    assert what("state pup 1 crying") == what("state crying pup 1") == expected


def test_nothing_to_take_back() -> None:
    """Who would erase something in an empty record is not told to strike entry 0."""
    assert refusal("erase", EMPTY).nearest == ""
    assert refusal("typo here").nearest == "strike 2 typed by mistake"


def test_a_word_that_only_looks_like_a_date() -> None:
    """Four letters and a stroke are no date, and are answered by name."""
    assert "'1234-567'" in refusal("ovulation 1234-567").why
    assert "'2026-x'" in refusal("mated 2026-x").why


def test_blue_of_her_gums() -> None:
    """A line that cannot be read, of something blue and of gums, is asked about as hers."""
    (hers, *_) = if_meant("odd blue look to the gums", BOX)
    assert "dam blue" in hers
    (its, *_) = if_meant("odd blue look to it", BOX)
    assert "state N blue" in its


@pytest.mark.parametrize(("text", "number"), [("red", 1), ("pup 2", 2), ("#1", 1)])
def test_a_pup_named_by_itself(text: str, number: int) -> None:
    """A command that asks for one pup takes what a line would."""
    assert pup_named(text, BOX.litter) == number


@pytest.mark.parametrize("text", ["", "red 340g", "violet", "3"])
def test_a_text_that_names_no_pup(text: str) -> None:
    """Nothing, too much, an unknown mark and an unknown number are each refused."""
    with pytest.raises(NotUnderstood):
        pup_named(text, BOX.litter)


def test_words_that_end_in_an_impossible_time() -> None:
    """Free words are written so that their end is not taken for a time, not even a wrong one."""
    given = Treatment(what="fluids, next at 25:99")
    assert say(given) == 'given "fluids, next at 25:99"'
    assert what(say(given)) == given


def test_a_quotation_that_goes_on() -> None:
    """A quotation with letters hard behind it is no quotation: it is kept letter by letter."""
    assert what('mark 2 "gold"ish') == Step(step="marked", pup=2, finding='"gold"ish')


@pytest.mark.parametrize("line", ["weigh red 312g", "weigh 1 312g"])
def test_a_weight_goes_to_the_pup_it_names(line: str) -> None:
    """By mark or by number it is the same pup."""
    assert what(line) == Weight(pup=1, grams=Decimal(312))


AUTUMN = datetime.fromisoformat("2026-10-25T00:50:00Z")  # 02:50 the first time, in Prague


@pytest.mark.parametrize("later", [0, 1])
def test_a_correction_within_the_hour_that_comes_twice(later: int) -> None:
    """A corrected time is the one nearest to the time it corrects, and nothing need be asked."""
    at = AUTUMN + timedelta(hours=later)
    night = Context.of([born(1, at)], AUTUMN + timedelta(hours=6), ZONE)
    reading = read_line("amend 1 02:40", night)
    assert reading.draft.at == at - timedelta(minutes=10)
    assert reading.doubts == ()


def test_a_correction_by_more_than_half_a_day() -> None:
    """A corrected time far from the old one is asked about; with its day it is not."""
    assert codes("amend 1 12:00") == ["far"]
    assert read_line("amend 1 12:00", BOX).draft.at < RED.at
    assert codes("amend 1 2026-03-01 12:00") == []


@pytest.mark.parametrize(
    ("line", "asked"),
    [
        ("pup limp", []),
        ("pup dead", []),
        ("pup alive", []),
        ("pup crying", ["another-pup"]),
        ("pup breathing", ["another-pup"]),
        ("pup limp dog 300g", []),
    ],
)
def test_a_birth_soon_after_another(line: str, asked: list[str]) -> None:
    """Only words that may tell of the pup just born are asked about; a limp pup is never."""
    assert codes(line) == asked


@pytest.mark.parametrize("line", ["strike 99 twice", "amend 99 02:10"])
def test_an_entry_that_is_not_there_is_named(line: str) -> None:
    """The number that was typed stands in the answer."""
    assert "There is no entry 99." in refusal(line).why


def test_what_was_given_is_asked_for() -> None:
    """A treatment without a name is refused in its own words, and the example is only a name."""
    refused = refusal("given by Jana")
    assert refused.nearest == "given ... by Jana"
    assert refused.why != refused.nearest


@pytest.mark.parametrize("text", ["\u0663h", "\u0663", "3 \u0126", "1h\u0663\u0660m"])
def test_lengths_of_time_in_other_digits(text: str) -> None:
    """Digits of other scripts are no length of time: nothing is guessed from them."""
    assert "limit " in refusal(f"limit first-milk call {text} by Dr Novak; so it was").nearest


@pytest.mark.parametrize("line", ["set colour red", "set", "set 3 red"])
def test_a_fact_nobody_keeps_is_answered_with_those_that_are(line: str) -> None:
    """An unknown key is refused with every key there is."""
    for key in ("dam", "breed", "weight", "travel"):
        assert key in refusal(line).why


def test_a_word_that_is_nearly_another() -> None:
    """A mark that may be a slip is asked about, with the mark and with the word it is like."""
    (doubt,) = (one for one in read_line("pup dog limpp", BOX).doubts if one.code == "mark")
    assert "limpp" in doubt.sentence
    assert "limpp" in doubt.fix
    assert "limp" in doubt.fix.replace("limpp", "")


@pytest.mark.parametrize("line", ["weigh 340 red", "weigh red 340", "weigh 340 1", "weigh 1 340"])
def test_three_digits_are_a_weight_and_no_pup(line: str) -> None:
    """A weight and a pup are told apart in either order: no litter has a hundred pups."""
    assert what(line) == Weight(pup=1, grams=Decimal(340))


def test_a_pup_that_has_left_is_asked_about() -> None:
    """A weight of a pup that is in its new home, or dead, is probably another pup's."""
    left = Draft(at=NOW - timedelta(minutes=3), what=Milestone(pup=1, milestone="left-home"))
    died = Draft(at=NOW - timedelta(minutes=2), what=Death(pup=2))
    later = [RED, SECOND, left.numbered(3, "n", NOW), died.numbered(4, "n", NOW)]
    context = Context.of(later, NOW, ZONE)
    assert codes("weigh 1 340g", context) == ["gone"]
    assert codes("weigh 2 340g", context) == ["gone"]
    assert codes("weigh 1 340g", Context.of(later[:2], NOW, ZONE)) == []


@pytest.mark.parametrize(("seconds", "asked"), [(0, ["implausible"]), (1, [])])
def test_a_meal_is_looked_at_for_four_weeks(seconds: int, asked: list[str]) -> None:
    """A meal too big for so small a stomach is asked about up to the last second of day 28."""
    at = NOW - timedelta(days=28, seconds=seconds)
    fed = Draft(at=at, what=Birth(pup=1, weight=Decimal(300))).numbered(1, "n", NOW)
    assert codes("feed 1 100ml bottle", Context.of([fed], NOW, ZONE)) == asked


def test_a_birth_is_corrected_part_by_part() -> None:
    """What a correction of a birth says is changed, and what it leaves out stays."""
    heavy = born(1, NOW, "red")
    light = Birth(pup=1, mark="red", weight=Decimal(300), sex="dog")
    context = Context.of([heavy.model_copy(update={"what": light})], NOW, ZONE)
    assert what("amend 1 pup 320g", context) == Amend(
        target=1, what=light.model_copy(update={"weight": Decimal(320)})
    )
    assert what("amend 1 pup bitch", context) == Amend(
        target=1, what=light.model_copy(update={"sex": "bitch"})
    )


@pytest.mark.parametrize("line", ["strike x", "strike", "strike red", "amend ? 02:10"])
def test_a_correction_without_a_number(line: str) -> None:
    """Who forgets the number of the entry sees where it goes."""
    assert refusal(line).nearest.split()[1] in {"N", "2"}


@pytest.mark.parametrize("text", ["", "   ", " . ", " ,!", "red", "red 12"])
def test_no_time_stands_behind_nothing(text: str) -> None:
    """Where there is no time at the end, the words are given back as they are."""
    assert cut_behind(text) == (None, text)


@pytest.mark.parametrize(
    "line", ["pup one is limp", "pup two limp", "state pup two limp", "breathing pup one"]
)
def test_a_pup_is_named_by_a_number_in_words(line: str) -> None:
    """It is the pup that is there: a false birth would stop the clock of her straining."""
    said = what(line)

    assert isinstance(said, PupState | Step)
    assert said.pup == (1 if "one" in line else 2)


@pytest.mark.parametrize("line", ["strike 99 wrong", "amend 99 -3m"])
def test_no_entry_that_is_there_is_offered_for_one_that_is_not(line: str) -> None:
    """Who copies the line that is offered must not withdraw how the litter was opened."""
    assert refusal(line).nearest.split()[1] == "N"


def test_a_slip_offers_what_works_everywhere() -> None:
    """``undo`` is a word of the console; a line alone is told of ``strike``."""
    assert "undo" not in refusal("undo").why


@pytest.mark.parametrize(
    ("line", "told"), [("amend 1 02:10", 1), ("strike 1 again", 1), ("strike 2 no", 0)]
)
def test_a_correction_of_what_is_withdrawn_says_so(line: str, told: int) -> None:
    """It is taken, but it brings nothing back, and whoever types it has to know."""
    struck = Draft(at=NOW, zone=ZONE, what=Strike(target=1)).numbered(3, "n", NOW)
    heard = read_line(line, Context.of([RED, SECOND, struck], NOW, ZONE))

    assert heard.echo.count("withdrawn already") == told


def test_a_mark_that_is_a_number_in_words_is_a_mark() -> None:
    """A pup that is called so is meant, and not the one that was born at that place."""
    called = born(2, NOW - timedelta(minutes=5), "one")
    said = what("pup one is limp", Context.of([RED, called], NOW, ZONE))

    assert said == PupState(pup=2, signs=("limp",))


@pytest.mark.parametrize(
    ("line", "said"),
    [
        ("expect about 5", "expect 5 guess"), ("expect 5 or so", "expect 5 guess"),
        ("expect maybe 7 scan", "expect 7 scan"), ("expect probably 5 pups xray", "expect 5 xray"),
    ],
)  # fmt: skip
def test_a_count_that_nobody_is_sure_of_is_a_count(line: str, said: str) -> None:
    """How it is known says how sure it is."""
    assert say(what(line)) == said


@pytest.mark.parametrize(
    ("line", "nearest"),
    [
        ("expect 5-6", "expect 6"), ("expect 7 or 6 xray", "expect 7 xray"),
        ("expect 5 to 6 scan", "expect 6 scan"),
    ],
)  # fmt: skip
def test_of_two_counts_the_higher_is_offered(line: str, nearest: str) -> None:
    """With the lower one, a pup that has not come would not be waited for."""
    assert refusal(line).nearest == nearest


@pytest.mark.parametrize("line", ["scan 5 6", "scan 5 pups 6 pups", "expect 5 6"])
def test_two_counts_in_one_line_are_not_one(line: str) -> None:
    """Neither is dropped unsaid."""
    refusal(line)

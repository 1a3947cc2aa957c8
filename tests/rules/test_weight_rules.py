"""What must hold of the rules about weight, whatever is typed; and what they say."""

from datetime import datetime, timedelta
from decimal import Decimal

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from boxlamp.engine import Assessment, assess
from boxlamp.model.entry import Entry
from boxlamp.model.happenings import (
    Birth,
    Caesarean,
    Contraction,
    Death,
    Details,
    Finished,
    Milestone,
    Round,
    Strike,
    Weight,
    What,
)
from boxlamp.model.levels import Level
from boxlamp.model.story import Story
from boxlamp.rules.birth_weight import findings
from boxlamp.rules.breeds import breed_named
from boxlamp.rules.registry import BY_ID
from boxlamp.view.reminders import reminder_lines
from support.made import at, entry, told
from support.nights import DEFAULT, SECOND

IDS = ("birth-weight", "weight-loss", "weight-stalled", "weight-slow", "not-doubled",
       "litter-slow", "weighing-due")  # fmt: skip
RULES = tuple(BY_ID[rule] for rule in IDS)
GAPS = (0, 1, 60, 3600, 43_200, 43_201, 86_400, 129_600, 259_200, 864_000)
"""Seconds between two entries: the ages and windows of the rules, and ten days."""

_FACTS: tuple[What, ...] = (
    Details(breed="Labrador"), Details(breed="Labrador cross"), Details(breed="pug"),
    Details.model_validate({"weight": 9000}), Details.model_validate({"breed_birth_weight": 300}),
    Weight.model_validate({"grams": 26_000}), Contraction(), Finished(), Caesarean(),
    Milestone(milestone="left-home"), Milestone(milestone="left-home", pup=1), Death(pup=2),
    Round.model_validate({"weights": [{"pup": 1, "grams": 300}, {"pup": 2, "grams": 310}]}),
    Round.model_validate({"weights": [{"pup": 1, "grams": 300}, {"pup": 2, "grams": 250}]}),
)  # fmt: skip
_GRAMS = st.sampled_from([90, 200, 240, 299, 300, 320, 400, 640])
_BORN = st.builds(
    lambda grams, state: Birth.model_validate({"pup": 1, "weight": grams, "state": state}),
    st.none() | _GRAMS,
    st.sampled_from([None, None, None, "dead"]),
)
_WEIGHED = st.builds(
    lambda pup, grams: Weight.model_validate({"pup": pup, "grams": grams}),
    st.integers(1, 3),
    _GRAMS,
)
_STREAM = st.lists(
    st.tuples(st.sampled_from(GAPS), _BORN | _WEIGHED | _WEIGHED | st.sampled_from(_FACTS)),
    min_size=2,
    max_size=14,
)


@st.composite
def weeks(draw: st.DrawFn) -> tuple[Entry, ...]:
    """Births, weights and facts in any order, over hours or weeks."""
    lines: list[tuple[float, What]] = [(0, Birth(pup=1)), (1, Birth(pup=2))]
    minutes, pups = 1.0, 2
    for gap, what in draw(_STREAM):
        minutes += gap / 60
        pups += isinstance(what, Birth)
        said = what.model_copy(update={"pup": pups}) if isinstance(what, Birth) else what
        lines.append((minutes, said))
    return told(*lines)


def judged(entries: tuple[Entry, ...]) -> Assessment:
    return assess(Story(entries), DEFAULT, RULES)


def shown(assessment: Assessment, moment: datetime) -> set[tuple[str, str, str]]:
    """Every alert that stands, in words, and every reminder by its clock."""
    alerts = assessment.verdict(moment).alerts
    return {(alert.subject, alert.level.word, alert.message) for alert in alerts} | {
        (own.spell.subject, "prompt", own.spell.clock)
        for own in assessment.standings
        if own.level is Level.PROMPT and own.holds(moment)
    }


@settings(max_examples=150, deadline=None)
@given(weeks())
def test_no_weight_rule_looks_ahead(entries: tuple[Entry, ...]) -> None:
    """What stands at a moment, to the word, does not depend on what is written down later."""
    whole = judged(entries)
    moments = {one.at for one in entries}
    for own in whole.standings:
        moments |= {moment for moment in (own.start, own.end) if moment is not None}
    for moment in sorted({edge + by for edge in moments for by in (-SECOND, SECOND * 0, SECOND)}):
        cut = assess(Story(entries).until(moment), DEFAULT, RULES)
        assert shown(cut, moment) == shown(whole, moment), moment


@settings(max_examples=150, deadline=None)
@given(weeks())
def test_every_spell_of_a_weight_rule_is_sound(entries: tuple[Entry, ...]) -> None:
    """None breaks, none ends before it began, none is about a pup that is dead or gone."""
    assessment = judged(entries)
    gone = {f"pup {one.what.pup}" for one in entries if isinstance(one.what, Death)}
    gone |= {
        f"pup {one.what.pup}"
        for one in entries
        if isinstance(one.what, Birth) and one.what.state == "dead"
    }
    for spell in assessment.spells:
        assert spell.clock != "failure", spell.detail
        assert spell.since <= spell.start
        assert spell.end is None or spell.start <= spell.end
        assert len(set(spell.opened)) == len(spell.opened)
    verdict = assessment.verdict(entries[-1].at)
    assert not gone & {alert.subject for alert in verdict.alerts}
    assert not gone & {prompt.subject for prompt in verdict.prompts}


@settings(max_examples=100, deadline=None)
@given(weeks(), st.data())
def test_a_struck_weight_was_never_weighed(entries: tuple[Entry, ...], data: st.DataObject) -> None:
    """Whatever is struck, the weeks read as if the line had never been there."""
    gone = data.draw(st.sampled_from(entries))
    end = at(10_000_000)
    strike = entry(len(entries) + 1, 10_000_000, Strike(target=gone.id))
    without = tuple(one for one in entries if one is not gone)
    assert shown(judged((*entries, strike)), end) == shown(judged(without), end)


@settings(max_examples=150, deadline=None)
@given(weeks())
def test_a_pup_has_one_reminder_at_a_time(entries: tuple[Entry, ...]) -> None:
    """Nobody is asked twice to put the same pup on the scale."""
    assessment = judged(entries)
    for moment in {own.start for own in assessment.standings} | {entries[-1].at}:
        if moment >= entries[-1].at:
            pups = [prompt.subject for prompt in assessment.verdict(moment).prompts]
            assert len(pups) == len(set(pups))


@st.composite
def healthy_litters(draw: st.DrawFn) -> tuple[Entry, ...]:
    """A litter that grows as is published, weighed as is asked for, on an ordinary scale."""
    lines: list[tuple[float, What]] = []
    for pup in range(1, draw(st.integers(1, 5)) + 1):
        first = draw(st.integers(250, 290))
        lines.append((0, Birth.model_validate({"pup": pup, "weight": first})))
        early, later = draw(st.floats(0.088, 0.10)), draw(st.floats(0.045, 0.06))
        grown, done = first * (1 + draw(st.floats(-0.02, 0.06))), 1
        for day in (*range(1, 15), *range(17, 29, 3), *range(35, 57, 7)):
            while done < day:
                pace = early if grown < 2 * first else later if done < 28 else 0.02
                grown, done = grown * (1 + pace), done + 1
            grams = round(grown * (1 + draw(st.floats(-0.008, 0.008))))
            late = draw(st.integers(-60, 0)) if day <= 28 else 0
            weight = Weight.model_validate({"pup": pup, "grams": grams})
            lines.append((1440 * day + late, weight))
    return told(*sorted(lines, key=lambda line: line[0]))


@settings(max_examples=60, deadline=None)
@given(healthy_litters())
def test_a_healthy_litter_stays_quiet(entries: tuple[Entry, ...]) -> None:
    """Eight weeks of ordinary growth raise nothing at all."""
    steps = judged(entries).history(entries[-1].at + timedelta(days=1))
    assert [(step.at, step.rule.id, step.subject, step.level) for step in steps] == []


# ---------------------------------------------------------------- what they say


def message(rule: str, minutes: float, *lines: tuple[float, What]) -> str:
    """The sentence of a rule's only alert at a minute."""
    verdict = assess(Story(told(*lines)), DEFAULT).verdict(at(minutes))
    (alert,) = (alert for alert in verdict.alerts if alert.rule.id == rule)
    return alert.message


def birth(grams: int, pup: int = 1) -> Birth:
    """A pup with its birth weight."""
    return Birth.model_validate({"pup": pup, "weight": grams})


def weight(grams: int | str, pup: int = 1) -> Weight:
    """A pup on the scale."""
    return Weight.model_validate({"pup": pup, "grams": Decimal(grams)})


@pytest.mark.parametrize(
    ("details", "grams", "said"),
    [
        ({"breed": "gsd"}, 337, "German Shepherd pups under 338 g (Mugnier 2020)"),
        ({"breed": "Bichon"}, 163, "Bichon Frise pups under 163.5 g (Mugnier 2020)"),
        ({"breed_birth_weight": 320}, 200,
         "under 208 g, 0.65 of the 320 g given as usual for her breed"),
        ({"breed": "pug"}, 99,
         "under 100 g, 0.65 of the 152.5 g published as the mean of Pug pups"),
        ({"weight": 14_999}, 97, "pups under 98 g of a small dam (under 15 kg)"),
        ({"weight": 15_000}, 145, "pups under 146 g of a medium dam (15 to 25 kg)"),
        ({"weight": 25_001}, 214, "pups under 215 g of a large dam (over 25 kg)"),
    ],
)  # fmt: skip
def test_a_birth_weight_says_what_it_is_held_against(
    details: dict[str, object], grams: int, said: str
) -> None:
    """The weight, the limit in grams, and whose limit it is."""
    known = Details.model_validate(details)
    assert (
        message("birth-weight", 1, (0, known), (1, birth(grams)))
        == f"Birth weight very low ({grams} g), pup 1: {said}."
    )


def test_low_pups_are_told_in_one_sentence() -> None:
    """One line on the board, however many they are, and no pup's very low one among them."""
    lines: list[tuple[float, What]] = [(0, Details(breed="lab")), (1, birth(390))]
    assert message("birth-weight", 2, *lines).startswith("Birth weight low, pup 1: Labrador")
    lines += [(2, birth(410, 2)), (3, birth(400, 3)), (4, birth(380, 4))]
    assert message("birth-weight", 5, *lines) == (
        "Birth weight low, pups 1, 3 and 4: Labrador Retriever pups under 406 g (Mugnier 2020)."
    )


def test_the_mean_of_the_litter_is_told() -> None:
    """With the share, the limit in grams that it comes to, and the mean."""
    lines = [(pup, birth(grams, int(pup))) for pup, grams in enumerate((300, 310, 290, 200), 1)]
    assert message("birth-weight", 5, *lines) == (
        "Birth weight very low (200 g), pup 4: 206 g or less, 0.75 of the litter's mean of 275 g."
    )


def test_every_birth_weight_is_found_also_the_normal_ones() -> None:
    """Who shows weights can say normal, and by which reference; a late first weight has none."""
    lines = ((0, Details(breed="lab")), (1, birth(420)), (2, birth(390, 2)), (3, birth(240, 3)),
             (4, Birth(pup=4)), (900, weight(240, 4)))  # fmt: skip
    found = findings(Story(told(*lines)), assess(Story(told(*lines)), DEFAULT).book)
    assert {pup: finding.level for pup, finding in found.items()} == {
        1: None, 2: Level.WATCH, 3: Level.CALL,
    }  # fmt: skip
    assert {finding.clock for finding in found.values()} == {"labrador retriever"}


def test_a_loss_is_told_in_grams_and_per_cent() -> None:
    """Never rounded up to a limit that was not reached, and never calling a late weight a birth."""
    assert message("weight-loss", 2880, (0, birth(400)), (2880, weight(385))) == (
        "Weight of pup 1: 385 g, 3.7 % under its birth weight of 400 g."
    )
    late = ((0, Birth(pup=1)), (1000, weight(400)), (4000, weight(380)))
    assert message("weight-loss", 4000, *late) == (
        "Weight of pup 1: 380 g, 5 % under its first weight of 400 g."
    )


def test_growth_is_told_with_the_weights_it_is_counted_from() -> None:
    """Both weights and the time between them."""
    lines = ((0, birth(380)), (3000, weight(400)), (4440, weight(400)))
    assert message("weight-stalled", 4440, *lines) == (
        "No gain since the day before, pup 1: 400 g, and 400 g 24 h 00 min before."
    )
    slow = ((0, birth(380)), (1440, weight(400)), (5760, weight(463)))
    assert message("weight-slow", 5760, *slow) == (
        "Slow gain, pup 1: 4.9 % a day (463 g, and 400 g 3 d before)."
    )


def test_doubling_is_told_with_the_newest_weight_and_when_it_was_taken() -> None:
    """And when that is too long ago to tell, the sentence asks for the scale."""
    day = 1440
    lines = ((0, birth(400)), (10 * day, weight(790)))
    assert message("not-doubled", 10 * day, *lines) == (
        "Birth weight not doubled in 10 d by pup 1: 790 g at the age of 10 d, 400 g at birth."
    )
    early = ((0, birth(400)), (5 * day, weight(560)))
    assert message("not-doubled", 10 * day, *early) == (
        "Weigh pup 1: is its birth weight doubled? It is 10 d old, and its last weight is 560 g at "
        "the age of 5 d, 400 g at birth."
    )
    assert message("not-doubled", 10 * day, (0, birth(400))).endswith(
        "its last weight is 400 g at birth, and none since."
    )


def test_half_a_litter_is_told_as_a_count() -> None:
    """How many of how many, and whom to think of."""
    lines: list[tuple[float, What]] = []
    for minute, grams in ((0, 300), (7200, 350), (8640, 350)):
        lines += [(minute, birth(grams, pup) if minute == 0 else weight(grams, pup))
                  for pup in (1, 2)]  # fmt: skip
    assert message("litter-slow", 8640, *lines) == (
        "2 of 2 pups gain too little. Think of the dam: milk, udder, fever."
    )


@pytest.mark.parametrize(
    ("hours", "said"),
    [
        (2, "Weigh all 2 pups: no weight is written down since birth."),
        (16, "Weigh all 2 pups a second time. Half a day shows whether the milk comes."),
        (60, "Weigh all 2 pups: once a day in the first two weeks."),
        (17 * 24, "Weigh all 2 pups: every third day in the third and fourth week."),
        (40 * 24, "Weigh all 2 pups: once a week from now on."),
    ],
)
def test_a_reminder_names_all_pups_in_one_sentence(hours: int, said: str) -> None:
    """Pups that are due for the same thing share a line."""
    lines: list[tuple[float, What]] = [(0, Birth(pup=1)), (0, Birth(pup=2)), (10, Finished())]
    for after, grams in ((3, 300), (20, 310)):
        lines += [(60 * after, weight(grams, pup)) for pup in (1, 2) if after < hours]
    verdict = assess(Story(told(*lines)), DEFAULT, RULES).verdict(at(60 * hours))
    assert [said] == [line.partition(" Same scale")[0] for line in reminder_lines(verdict)]


@pytest.mark.parametrize(
    ("typed", "name"),
    [
        ("Labrador Retriever", "labrador retriever"), ("  LAB ", "labrador retriever"),
        ("labrador-retriever", "labrador retriever"), ("GSD", "german shepherd"),
        ("Alsatian", "german shepherd"), ("German Shepherd Dog", "german shepherd"),
        ("westie", "west highland white terrier"), ("Golden", "golden retriever"),
        ("Rottie", "rottweiler"), ("Aussie", "australian shepherd"), ("ShihTzu", "shih tzu"),
        ("Bichon Frisé", "bichon frise"), ("English Cocker Spaniel", "cocker spaniel"),
        ("St. Bernard", "st bernard"), ("Doberman Pinscher", "dobermann"),
        ("Poodle (Toy)", "toy poodle"), ("Maltese", "maltese"), (None, ""), ("", ""),
    ],
)  # fmt: skip
def test_a_breed_is_known_by_the_names_people_use(typed: str | None, name: str) -> None:
    """Case, spaces, hyphens, accents and everyday names make no difference."""
    assert breed_named(typed) == name


@pytest.mark.parametrize(
    "typed",
    ["Labrador cross", "Labrador x Poodle", "Labradoodle", "Mini Aussie", "Golden x",
     "Miniature Australian Shepherd", "American Cocker Spaniel", "White Shepherd", "Cockapoo",
     "English Springer Spaniel", "Italian Greyhound", "Miniature Pinscher", "Puggle",
     "Pomeranian mix", "Maltese x Shih Tzu", "Poodle", "Spitz", "small", "litter", "breed mean"],
)  # fmt: skip
def test_a_dog_of_another_kind_is_not_taken_for_the_breed(typed: str) -> None:
    """A cross, a smaller variety, a relative: no limits of a breed, and no mean of one."""
    lines = ((0, Details(breed=typed)), (1, birth(60)))
    story = Story(told(*lines))
    assert findings(story, assess(story, DEFAULT).book) == {}

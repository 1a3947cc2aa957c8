"""The rules about the pups' health on random lines: nobody looks ahead, no pup is another's."""

from datetime import datetime

from hypothesis import given, settings
from hypothesis import strategies as st

from boxlamp.engine import Assessment, assess
from boxlamp.model.entry import Entry
from boxlamp.model.happenings import (
    Birth,
    Death,
    Feed,
    Milestone,
    PupState,
    Reflexes,
    Score,
    Step,
    Temperature,
    VetContact,
    What,
)
from boxlamp.model.story import Story
from boxlamp.rules.registry import BY_ID
from support.made import told
from support.nights import DEFAULT, SECOND

IDS = (
    "not-breathing", "viability", "pup-cold", "pup-hot", "nursing-gap", "pup-sign",
    "litter-losses", "box-cold", "box-hot",
)  # fmt: skip
RULES = tuple(BY_ID[name] for name in IDS)
OF_ONE_PUP = tuple(BY_ID[name] for name in IDS[:6])

GAPS = (0, 1, 60, 300, 899, 900, 1799, 1800, 3599, 3600, 7200, 10_800, 21_600, 43_200, 86_399,
        86_400, 604_800, 1_300_000)  # fmt: skip
"""Seconds between two lines: the limits themselves, a second less, and a long wait."""
SIGNS = (
    "crying", "limp", "gasping", "blue", "not-breathing", "cold", "bloated", "diarrhoea",
    "not-suckling", "cleft-palate", "weak", "no-stool", "splayed-legs", "well",
)  # fmt: skip
SCORES = ((2, 2, 2, 2, 2), (1, 1, 1, 1, 0), (0, 1, 0, 1, 1), (2, None, 2, 1, 1), (2, 2, 2, 1, 1))


def _said(kind: type[What], **more: object) -> What:
    return kind.model_validate({"pup": 1, **more})


OF_A_PUP: tuple[What, ...] = (
    *(_said(PupState, signs=[sign]) for sign in SIGNS),
    _said(PupState, signs=["weak", "crying"]), _said(PupState, signs=["not-breathing", "blue"]),
    *(_said(Score, items=items) for items in SCORES),
    *(_said(Temperature, celsius=value, where="pup") for value in ("33.9", "34.8", "36.0", "39.5")),
    _said(Reflexes, suckle=0, righting=1), _said(Reflexes, suckle=2, righting=0),
    _said(Feed), _said(Feed, how="tube"), _said(Death), _said(Milestone, milestone="left-home"),
    *(_said(Step, step=step) for step in ("breathing", "milk", "teat")),
    _said(Step, step="palate", finding="cleft"), _said(Step, step="palate", finding="ok"),
)  # fmt: skip
OF_ALL: tuple[What, ...] = (
    Temperature.model_validate({"celsius": "20", "where": "box"}),
    Temperature.model_validate({"celsius": "35", "where": "box"}),
    VetContact(contact="advised"), VetContact(contact="called"), Milestone(milestone="toilet"),
    Milestone(milestone="walking"),
)  # fmt: skip
BORN: tuple[Birth, ...] = (Birth(pup=1), Birth(pup=1, state="limp"), Birth(pup=1, state="dead"))
PUPS = 3


@st.composite
def weeks(draw: st.DrawFn) -> tuple[Entry, ...]:
    """Three births, and a handful of kinds after them, so that the same ones meet often."""
    kinds = draw(st.lists(st.sampled_from((*OF_A_PUP, *OF_ALL)), min_size=1, max_size=5))
    step = st.tuples(st.sampled_from(GAPS), st.sampled_from(kinds), st.integers(1, PUPS))
    births = [(draw(st.sampled_from(GAPS[:6])), draw(st.sampled_from(BORN)), pup + 1)
              for pup in range(PUPS)]  # fmt: skip
    lines: list[tuple[float, What]] = []
    seconds = 0
    for gap, what, pup in (*births, *draw(st.lists(step, min_size=2, max_size=10))):
        seconds += gap
        named = getattr(what, "pup", None) is not None
        lines.append((seconds / 60, what.model_copy(update={"pup": pup}) if named else what))
    return told(*lines)


def standing(assessment: Assessment, moment: datetime) -> set[tuple[str, str, str]]:
    """What stands at a moment, reminders too, by rule, subject and level."""
    return {
        (own.spell.rule, own.spell.subject, own.level.word)
        for own in assessment.standings
        if own.holds(moment)
    }


def moments_of(assessment: Assessment) -> list[datetime]:
    """Every moment at which something may change, with the second before and the second after."""
    found = {entry.at for entry in assessment.story.entries}
    for own in assessment.standings:
        found |= {moment for moment in (own.start, own.end) if moment is not None}
    return sorted({moment + offset for moment in found for offset in (-SECOND, SECOND * 0, SECOND)})


@settings(max_examples=300, deadline=None)
@given(weeks())
def test_no_rule_about_the_pups_looks_ahead(entries: tuple[Entry, ...]) -> None:
    """The story cut at any moment says of that moment what the whole story says of it."""
    story = Story(entries)
    whole = assess(story, DEFAULT, RULES)
    cuts: dict[int, Assessment] = {}
    for moment in moments_of(whole):
        cut = story.until(moment)
        if len(cut) not in cuts:
            cuts[len(cut)] = assess(cut, DEFAULT, RULES)

        assert standing(cuts[len(cut)], moment) == standing(whole, moment), moment


@settings(max_examples=300, deadline=None)
@given(weeks())
def test_no_rule_about_the_pups_breaks(entries: tuple[Entry, ...]) -> None:
    """Whatever order things come in, no rule fails, and every spell ends after it began."""
    for spell in assess(Story(entries), DEFAULT, RULES).spells:
        assert spell.clock != "failure", spell.detail
        assert spell.since <= spell.start
        assert spell.end is None or spell.start <= spell.end


@settings(max_examples=300, deadline=None)
@given(weeks(), st.integers(1, PUPS))
def test_no_line_about_one_pup_changes_the_clock_of_another(
    entries: tuple[Entry, ...], pup: int
) -> None:
    """What a pup's own rules say of it is the same when nothing is said of the others."""
    own = tuple(one for one in entries if getattr(one.what, "pup", None) in {None, pup})
    subject = f"pup {pup}"
    everybody, alone = (
        {spell for spell in assess(Story(told_of), DEFAULT, OF_ONE_PUP).spells
         if spell.subject == subject}
        for told_of in (entries, own)
    )  # fmt: skip
    assert everybody == alone


@settings(max_examples=200, deadline=None)
@given(weeks())
def test_nothing_of_a_pup_stands_after_it_has_gone(entries: tuple[Entry, ...]) -> None:
    """Dead or in its new home, a pup has no clock of its own."""
    story = Story(entries)
    gone: dict[str, datetime] = {}
    for entry in story.entries:
        left = isinstance(entry.what, Milestone) and entry.what.milestone == "left-home"
        if isinstance(entry.what, Death) or left:
            gone.setdefault(f"pup {getattr(entry.what, 'pup', 0)}", entry.at)
    for spell in assess(story, DEFAULT, OF_ONE_PUP[1:]).spells:
        if spell.subject in gone:
            assert spell.end is not None
            assert spell.end <= gone[spell.subject]

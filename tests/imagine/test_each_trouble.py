"""Each trouble shows in its night, and is told to whoever learns from it."""

from collections import Counter
from datetime import timedelta
from importlib.resources import files

import pytest

from boxlamp.imagine import TROUBLES, Imagined, imagine
from boxlamp.imagine.troubles import ALL, BY_NAME
from boxlamp.imagine.troubles.trouble import Trouble
from boxlamp.model.happenings import VetContact
from boxlamp.model.levels import Level
from boxlamp.model.litter import fold
from boxlamp.model.story import Story
from support.nights import assessed

SEEDS = range(25)
MOST = 0.8
_HOUR = timedelta(hours=1, minutes=1)
SHOWS = {
    "overdue": ("overdue", Level.WATCH),
    "early-labour": ("labour-early", Level.WATCH),
    "fall-no-labour": ("temperature-drop-no-labour", Level.WATCH),
    "first-stage-stalls": ("first-stage-long", Level.WATCH),
    "waters-no-pup": ("waters-no-pup", Level.WATCH),
    "weak-labour": ("weak-contraction-no-pup", Level.CALL),
    "labour-fades": ("gap-more-expected", Level.CALL),
    "long-gap": ("gap-more-expected", Level.CALL),
    "pup-left-behind": ("litter-short", Level.CALL),
    "sac-no-pup": ("sac-no-pup", Level.CALL),
    "blocked": ("contraction-no-pup", Level.GO),
    "part-stuck": ("part-showing", Level.GO),
    "green-first": ("green-before-first-pup", Level.CALL),
    "not-breathing": ("not-breathing", Level.CALL),
    "stuck-in-sac": ("sac-on-pup", Level.CALL),
    "cord-bleeding": ("cord-bleeding", Level.CALL),
    "no-first-milk": ("first-milk", Level.CALL),
    "cold-pup": ("pup-cold", Level.CALL),
    "fading-pup": ("weight-loss", Level.CALL),
    "two-stillborn": ("litter-losses", Level.CALL),
    "bleeding": ("bleeding", Level.CALL),
    "afterbirths-late": ("afterbirths-behind", Level.WATCH),
    "afterbirth-kept": ("afterbirth-missing-at-end", Level.CALL),
    "collapse": ("dam-collapse", Level.GO),
    "vomiting": ("dam-vomiting", Level.CALL),
    "cold-dam": ("dam-cold", Level.WATCH),
    "fever-after": ("dam-hot", Level.WATCH),
    "foul-discharge": ("foul-discharge", Level.CALL),
    "sore-udder": ("udder", Level.CALL),
    "low-calcium": ("dam-tremor", Level.GO),
}
"""The rule that each trouble is about, and the level it reaches in most nights."""


def test_every_trouble_has_its_rule() -> None:
    """Nothing is drawn that no rule is about."""
    assert tuple(SHOWS) == TROUBLES


@pytest.mark.parametrize("trouble", TROUBLES)
def test_the_trouble_shows(trouble: str) -> None:
    """In at least 8 of 10 nights its rule rings at its level before the trouble has ended."""
    rule, least = SHOWS[trouble]
    shown = [_rings(imagine(seed, trouble=trouble), rule, least) for seed in SEEDS]

    assert sum(shown) >= MOST * len(SEEDS)


def _rings(night: Imagined, rule: str, least: Level) -> bool:
    """Whether it stands when the trouble begins, or is raised after that."""
    assert night.troubled is not None
    standing: set[str] = set()
    for step in assessed(night.entries).history(night.ended):
        if step.rule.id != rule:
            continue
        if step.at >= night.troubled and standing:
            return True
        if step.change == "cleared" or step.level < least:
            standing.discard(step.subject)
        else:
            standing.add(step.subject)
    return bool(standing)


@pytest.mark.parametrize("trouble", TROUBLES)
def test_no_two_nights_of_a_trouble_run_alike(trouble: str) -> None:
    """Some are longer by half than others, so that no drill is learnt by heart."""
    lengths = sorted(_length(imagine(seed, trouble=trouble)) for seed in SEEDS)

    assert lengths[-3] > 1.5 * lengths[2]


def _length(night: Imagined) -> float:
    assert night.troubled is not None
    return (night.ended - night.troubled).total_seconds()


def test_some_end_well_and_some_do_not() -> None:
    """Pups are lost in many troubled nights, and in many none is."""
    lost = Counter(
        any(not pup.alive for pup in fold(Story(imagine(seed, trouble=name).entries)).pups.values())
        for name in ("blocked", "weak-labour", "not-breathing", "long-gap", "no-first-milk")
        for seed in range(20)
    )

    assert lost[True] > 25
    assert lost[False] > 25


@pytest.mark.parametrize("trouble", ALL, ids=lambda one: one.name)
def test_what_is_told_of_it(trouble: Trouble) -> None:
    """A line in the list that fits a narrow screen, and a lesson of a sentence or two."""
    assert len(trouble.says) < 56
    assert 60 < len(trouble.lesson) < 260
    assert trouble.lesson.endswith(".")
    assert imagine(3, trouble=trouble.name).text.count("lesson: ") >= 1


def test_one_module_each() -> None:
    """Each trouble lives in the module of its name."""
    folder = files("boxlamp.imagine.troubles")
    for name in BY_NAME:
        assert folder.joinpath(f"{name.replace('-', '_')}.py").is_file(), name


_IN_TIME = "afterbirths-late"
"""The one that asks for a closer look and no more, and comes right."""


@pytest.mark.parametrize("trouble", ALL, ids=lambda trouble: trouble.name)
def test_a_lesson_says_what_was_late_in_its_night(trouble: Trouble) -> None:
    """Who watches a night in which nobody rings in time must not learn that one may wait so."""
    assert ((" Here " in f" {trouble.lesson}") or "here nobody" in trouble.lesson) == (
        trouble.name != _IN_TIME
    )


@pytest.mark.parametrize("trouble", TROUBLES)
def test_what_a_lesson_calls_late_is_late_in_every_night(trouble: str) -> None:
    """Nobody rings about it before help is forced, or before a pup is nearly lost."""
    for seed in SEEDS:
        night = imagine(seed, trouble=trouble)
        rung = [
            one.at
            for one in night.entries
            if isinstance(one.what, VetContact) and one.what.contact == "called"
        ]
        assert night.troubled is not None
        begun, forced = night.troubled, night.ended
        assert not [at for at in rung if begun <= at < forced - _HOUR], (trouble, seed)

"""Prompts: what is said once, right after an entry, in the order of work at the box."""

from datetime import timedelta
from decimal import Decimal

import pytest

from boxlamp.model.happenings import (
    Afterbirth,
    Birth,
    Caesarean,
    Contraction,
    Expect,
    Feed,
    Finished,
    PupState,
    Rest,
    Settled,
    Sign,
    Step,
    Temperature,
    Waters,
    What,
)
from boxlamp.model.litter import fold
from boxlamp.model.story import Story
from boxlamp.rules import prompts
from boxlamp.rules.prompts import prompts_for
from support.made import entry, moved, told


def said_after(*whats: What) -> tuple[str, ...]:
    """What is said after the last of these, ten minutes apart."""
    entries = told(*((10.0 * number, what) for number, what in enumerate(whats)))
    return prompts_for(entries[-1], fold(Story(entries)))


def places(said: tuple[str, ...], *words: str) -> list[int]:
    """At which place each of these words is said first."""
    return [next(place for place, line in enumerate(said) if word in line) for word in words]


def mentions(said: tuple[str, ...], word: str) -> bool:
    return any(word in line for line in said)


def test_a_birth_brings_the_order_of_work() -> None:
    """Sac, mouth and nose, dry, warm, cord, scale, mark, palate, teat, afterbirth, hands."""
    said = said_after(Birth(pup=1))
    order = places(
        said, "sac", "mouth, then the nose", "Rub it dry", "warm", "Cord", "Weigh", "Mark",
        "palate", "teat", "afterbirth", "hands",
    )  # fmt: skip
    assert order == sorted(set(order))


def test_panting_while_she_nurses_is_a_question_about_cramps() -> None:
    """After the whelping it may be the first of low calcium; before it, it is labour."""
    panting = Sign(signs=("panting",))
    said = said_after(Birth(pup=1), Finished(), panting)
    assert mentions(said, "Stiff, trembling")
    assert not mentions(said_after(panting), "Stiff")
    assert not mentions(said_after(Birth(pup=1, state="dead"), Finished(), panting), "Stiff")


def test_what_the_line_already_said_is_left_out() -> None:
    """A pup written down alive, weighed and marked is not to be weighed and marked."""
    said = said_after(Birth(pup=1, state="alive", weight=Decimal(312), mark="red"))
    for word in ("sac", "Weigh", "Mark it"):
        assert not mentions(said, word)
    assert mentions(said, "mouth")


def test_a_pup_in_its_sac_is_opened_first() -> None:
    """The first thing said is the thing that cannot wait, and it is said once."""
    said = said_after(Birth(pup=1, in_sac=True))
    assert said[0] == "Tear the sac at the face now."
    assert sum("sac" in line for line in said) == 1


def test_a_limp_pup_is_not_swung() -> None:
    """No swinging and no big breaths, before anything that can wait."""
    said = said_after(Birth(pup=1, state="limp"))
    order = places(said, "mouth", "Rub", "No swinging, no big breaths", "warm", "Cord")
    assert order == sorted(order)


def test_a_dead_pup_is_not_weighed() -> None:
    """Only what matters is said; and that one may be wrong about death."""
    said = said_after(Birth(pup=1, state="dead"))
    assert mentions(said, "Not sure that it is dead?")
    assert mentions(said, "afterbirth")
    for word in ("Weigh", "teat", "Cord", "palate", "sac"):
        assert not mentions(said, word)


def test_the_cord_is_left_alone_unless_it_must_be_touched() -> None:
    """Two centimetres, the far side, never pulled: and only if it bleeds or needs cutting."""
    (line,) = (line for line in said_after(Birth(pup=1)) if line.startswith("Cord"))
    for word in ("only if it bleeds or needs cutting", "2 cm", "far side", "Never pull"):
        assert word in line


def test_a_pup_by_caesarean_needs_warmth_and_milk_and_no_cord_or_afterbirth() -> None:
    """What the surgeon's table has done is not asked for."""
    said = said_after(Caesarean(), Birth(pup=1))
    assert mentions(said, "warm")
    assert mentions(said, "teat")
    for word in ("sac", "Cord", "afterbirth"):
        assert not mentions(said, word)


def test_the_last_expected_pup_may_not_be_the_last() -> None:
    """The count is a least number, whichever way it was counted."""
    assert mentions(said_after(Expect(count=1, method="xray"), Birth(pup=1)), "one more")
    assert not mentions(said_after(Expect(count=2), Birth(pup=1)), "one more")
    assert not mentions(said_after(Birth(pup=1)), "one more")
    assert not mentions(said_after(Expect(count=1), Birth(pup=1), Birth(pup=2)), "one more")


def test_the_first_push_after_a_birth_puts_the_pups_aside() -> None:
    """Once for each pup that is coming, and only while there is a pup to put aside."""
    aside = tuple(prompt.says for prompt in prompts.NEXT_COMING)
    assert said_after(Birth(pup=1), Contraction()) == aside
    assert said_after(Birth(pup=1), Contraction(strength="weak")) == aside
    assert said_after(Birth(pup=1), Contraction(), Contraction()) == ()
    assert said_after(Birth(pup=1), Contraction(), Rest(), Contraction()) == ()
    assert said_after(Birth(pup=1), Contraction(), Birth(pup=2), Contraction()) == aside
    assert said_after(Contraction()) == ()
    assert said_after(Birth(pup=1, state="dead"), Contraction()) == ()


def test_first_stage_signs_are_answered_once() -> None:
    """At the first of them; again when she had settled; never in labour."""
    signs = Sign(signs=("nesting",))
    assert mentions(said_after(signs), "temperature")
    assert said_after(signs, signs) == ()
    assert said_after(signs, Settled(), signs) == said_after(signs)
    assert said_after(Waters(), signs) == ()


def test_waters() -> None:
    """Their colour, unless it was given; what green means, before the first pup."""
    assert mentions(said_after(Waters()), "colour")
    assert not mentions(said_after(Waters(colour="clear")), "colour")
    assert mentions(said_after(Waters(colour="clear")), "green or black")
    assert not mentions(said_after(Birth(pup=1), Waters()), "green or black")


def test_finished_asks_for_the_vet_and_counts_the_afterbirths() -> None:
    """The vet within 24 hours, and the count in plain numbers."""
    said = said_after(Birth(pup=1), Birth(pup=2), Afterbirth(), Finished())
    assert mentions(said, "within 24 hours")
    assert mentions(said, "Pups 2, afterbirths 1. Afterbirths not accounted for: 1.")
    assert mentions(said, "Look for what is missing")
    done = said_after(Birth(pup=1), Afterbirth(), Finished())
    assert mentions(done, "Pups 1, afterbirths 1. Afterbirths not accounted for: 0.")
    assert not mentions(done, "Look for what is missing")
    assert not mentions(said_after(Caesarean(), Birth(pup=1), Finished()), "afterbirths")


@pytest.mark.parametrize(("celsius", "low"), [("37.3", False), ("37.2", True), ("36.6", True)])
def test_a_low_temperature_before_labour(celsius: str, low: bool) -> None:  # noqa: FBT001
    """At the boundary and on both sides of it."""
    reading = Temperature.model_validate({"celsius": celsius})
    assert bool(said_after(reading)) is low
    assert bool(said_after(Sign(signs=("nesting",)), reading)) is low


def test_a_low_temperature_elsewhere_means_nothing_here() -> None:
    """In labour, after a caesarean, in a pup or in the box."""
    low = Temperature.model_validate({"celsius": "36.5"})
    assert said_after(Contraction(), low) == ()
    assert said_after(Caesarean(), low) == ()
    for where in ("pup", "box"):
        elsewhere = Temperature.model_validate({"celsius": "30", "where": where})
        assert said_after(elsewhere) == ()


def test_most_lines_bring_nothing() -> None:
    """A prompt that comes at every line is read at none."""
    for what in (Rest(), Afterbirth(), Step(pup=1, step="milk"), Settled()):
        assert said_after(Birth(pup=1), what) == ()


EVERY = (
    *prompts.BIRTH, *prompts.LAST_EXPECTED, *prompts.NEXT_COMING, *prompts.FIRST_SIGNS,
    *prompts.WATERS, *prompts.FINISHED, *prompts.LOW_TEMPERATURE, *prompts.COLD_PUP,
    *prompts.FELT_COLD, *prompts.COLD_NEWBORN, *prompts.TOO_COLD_TO_FEED, *prompts.FELT_TOO_COLD,
)  # fmt: skip


@pytest.mark.parametrize("prompt", EVERY, ids=lambda prompt: prompt.says[:30])
def test_every_prompt_is_short_and_says_where_it_comes_from(prompt: prompts.Prompt) -> None:
    """Nobody reads a paragraph with a wet pup in the hand."""
    assert prompt.source
    assert len(prompt.says) <= 120


def of_pup(celsius: str, pup: int = 1) -> Temperature:
    return Temperature(celsius=Decimal(celsius), where="pup", pup=pup)


@pytest.mark.parametrize("fed", [Feed(pup=1), Feed(pup=1, how="tube"), Step(pup=1, step="milk"),
                                 Step(pup=1, step="teat")])  # fmt: skip
def test_feeding_a_cold_pup_is_answered(fed: What) -> None:
    """Warm it first: whichever way it is fed, and only while its last reading speaks of now."""
    stop = tuple(prompt.says.format(pup=1) for prompt in prompts.TOO_COLD_TO_FEED)
    assert said_after(Birth(pup=1), of_pup("34.9"), fed) == stop
    assert said_after(Birth(pup=1), of_pup("35.0"), fed) == ()
    assert said_after(Birth(pup=1), of_pup("34.9"), of_pup("35.2"), fed) == ()
    assert said_after(Birth(pup=1), Birth(pup=2), of_pup("34.9", 2), fed) == ()
    waits = [Rest()] * 6
    assert said_after(Birth(pup=1), of_pup("34.9"), *waits[:5], fed) == stop
    assert said_after(Birth(pup=1), of_pup("34.9"), *waits, fed) == ()
    assert said_after(fed) == ()


def test_a_cold_reading_says_what_to_do_first() -> None:
    """Warm it, do not feed it, measure again; in the first hour too, in which nothing alarms."""
    said = said_after(Birth(pup=1), of_pup("34.9"))
    assert said[0].startswith("Warm it first")
    assert mentions(said, "Do not feed it")
    assert mentions(said, "again in 30 minutes")
    assert said_after(Birth(pup=1), of_pup("35.0")) == ()


def test_a_pup_cold_to_the_hand_is_measured() -> None:
    """Warmed, not fed, and the thermometer asked."""
    said = said_after(Birth(pup=1), PupState(pup=1, signs=("cold",)))
    assert mentions(said, "Do not feed it")
    assert mentions(said, "Take its temperature")
    assert said_after(Birth(pup=1), PupState(pup=1, signs=("crying",))) == ()


@pytest.mark.parametrize("fed", [Feed(pup=2), Feed(pup=2, how="bottle"), Step(pup=2, step="milk"),
                                 Step(pup=2, step="teat")])  # fmt: skip
def test_feeding_a_pup_that_felt_cold_is_answered(fed: What) -> None:
    """As long as the hand speaks of now, and no thermometer and no later look has said better."""
    two = (Birth(pup=1), Birth(pup=2))
    felt = PupState(pup=2, signs=("cold", "weak"))
    stop = tuple(prompt.says.format(pup=2) for prompt in prompts.FELT_TOO_COLD)
    waits = [Rest()] * 6
    assert stop[0].startswith("Pup 2 was cold to the hand")
    assert said_after(*two, felt, fed) == stop
    assert said_after(*two, felt, *waits[:5], fed) == stop
    assert said_after(*two, felt, *waits, fed) == ()
    assert said_after(*two, felt, PupState(pup=2, signs=("well",)), fed) == ()
    assert said_after(*two, felt, of_pup("35.0", 2), fed) == ()
    measured = said_after(*two, felt, of_pup("34.9", 2), fed)
    assert measured == tuple(prompt.says.format(pup=2) for prompt in prompts.TOO_COLD_TO_FEED)
    assert said_after(*two, PupState(pup=1, signs=("cold",)), fed) == ()


COLD = PupState(pup=1, signs=("cold",))


@pytest.mark.parametrize("cold", [COLD, of_pup("34.0")])
def test_of_a_pup_under_an_hour_old_it_is_said_that_no_clock_runs(cold: What) -> None:
    """And from when it counts: up to the last second before, and no longer at the hour."""
    born = (0.0, Birth(pup=1))
    early, late, at_hour = (told(born, (at, cold)) for at in (20, 60 - 1 / 60, 60))
    said = [prompts_for(one[-1], fold(Story(one))) for one in (early, late, at_hour)]
    for answer in said[:2]:
        assert "Under an hour old, cold is usual and brings no alert." in answer
        assert answer[-1] == "Pup 1: write it down again at 03:00 if it is still cold."
    assert not mentions(said[2], "usual")


def test_when_its_cold_counts_is_told_by_the_clock_at_the_box() -> None:
    """In the zone of the line; and at once, when the hour was over as the line was typed."""
    lines = told((0.0, Birth(pup=1)), (20.0, COLD))
    there = moved(lines, timedelta(0), zone="Europe/Prague")
    late = (lines[0], entry(2, 20.0, COLD, typed=60.0))
    assert mentions(prompts_for(there[-1], fold(Story(there))), "again at 04:00 if")
    assert mentions(prompts_for(late[-1], fold(Story(late))), "again now if")


def test_cold_is_not_called_usual_in_a_pup_that_is_dead_or_unknown() -> None:
    """Nobody waits for either to grow older."""
    assert not mentions(said_after(Birth(pup=1, state="dead"), COLD), "usual")
    assert not mentions(said_after(Birth(pup=2), COLD), "usual")
    assert not mentions(said_after(Birth(pup=1), Temperature.model_validate(
        {"celsius": "34", "where": "box"})), "usual")  # fmt: skip


def test_fewer_than_guessed_is_mentioned_once_at_the_end() -> None:
    """A guess raises no alert; what is missing by it is said when she is called finished."""
    guess = Expect(count=6, method="guess")

    assert mentions(said_after(guess, Birth(pup=1), Finished()), "1 of the 6 guessed")
    assert not mentions(said_after(guess, Birth(pup=1)), "guessed")
    assert not mentions(said_after(Expect(count=1, method="guess"), Birth(pup=1), Finished()),
                        "guessed")  # fmt: skip
    for counted in ("xray", "scan"):
        expected = Expect.model_validate({"count": 6, "method": counted})
        assert not mentions(said_after(expected, Birth(pup=1), Finished()), "guessed")


def test_what_to_look_out_for_is_no_finding() -> None:
    """After clear waters green and black are spoken of as what may come, with an if."""
    said = said_after(Waters(colour="clear"))

    assert any(words.startswith("If what comes is or turns green or black") for words in said)

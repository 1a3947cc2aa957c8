from importlib import import_module
from itertools import pairwise

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from boxlamp.model.entry import Entry
from boxlamp.model.happenings import (
    Birth,
    Contraction,
    DamState,
    Details,
    Mating,
    Rest,
    VetContact,
)
from boxlamp.model.story import Story
from boxlamp.rules import contraction_no_pup
from boxlamp.rules.rule import Watcher, spells_of
from boxlamp.rules.spell import Spell, Yardstick
from boxlamp.training.screening import screen
from boxlamp.training.telling import AFTERWARDS, hanging, lines, opening, result, short_words
from boxlamp.view.text import width_of
from support.made import at, entry, told
from support.messy import MESSY
from support.nights import DEFAULT


def telling(entries: tuple[Entry, ...]) -> list[str]:
    """Every line of the telling, an hour beyond the last entry."""
    return [line for _, some in lines(screen(entries, DEFAULT)) for line in some]


@settings(max_examples=60, deadline=None)
@given(MESSY)
def test_every_moment_is_told_once_and_in_order(entries: tuple[Entry, ...]) -> None:
    """A line for each, with its time in front; every line that is typed is among them."""
    screening = screen(entries, DEFAULT)
    moments = list(lines(screening))

    assert [when for when, _ in moments] == [moment.at for moment in screening.moments]
    for moment, (_, some) in zip(screening.moments, moments, strict=True):
        time = f"{moment.at:%H:%M:%S}"
        assert sum(line.startswith(time) for line in some) == 1
    for moment in screening.moments:
        role, words = short_words(moment, screening)
        assert words
        assert role in {"entry", "dim", "watch", "call", "go"}


@settings(deadline=None)
@given(st.text("ab \t", max_size=60), st.integers(42, 120))
def test_a_long_line_hangs_under_its_words(words: str, across: int) -> None:
    """No line is wider than the terminal, the times stand alone, and no word is lost."""
    line = f"02:00:00             {words}"
    some = hanging(line, across)

    assert all(width_of(one) <= across for one in some)
    assert all(one.startswith(" " * 21) for one in some[1:])
    assert "".join("".join(some).split()) == "".join(line.split())


def test_a_rule_that_fails_says_so_and_what_to_do(monkeypatch: pytest.MonkeyPatch) -> None:
    """Neither its sentence with the error in it nor its steps: it has found nothing."""
    engine = import_module("boxlamp.engine.assess")

    def failing(watch: Watcher, story: Story, yardstick: Yardstick) -> tuple[Spell, ...]:
        if watch is contraction_no_pup.RULE.watch:
            raise KeyError("the tide")
        return spells_of(watch, story, yardstick)

    monkeypatch.setattr(engine, "spells_of", failing)
    told_of = "\n".join(telling(told((0, Contraction()), (1, Rest()))))

    assert (
        "CALL   The rule contraction-no-pup could not be worked out and watches nothing. Watch the "
        "clock yourself, and in doubt ring the vet. (KeyError: 'the tide')"
    ) in told_of
    assert "Strong contractions began" not in told_of
    assert "Say how long she has pushed hard" not in told_of


def test_a_line_typed_in_its_own_minute_is_not_called_late() -> None:
    """Half a minute is the time it takes to type; from another minute it is said."""
    assert telling((entry(1, 0, Rest(), typed=0.5),))[0].endswith("rest")
    assert telling((entry(1, 0, Rest(), typed=1),))[0].endswith("rest  [at 02:00]")


def test_a_fact_of_a_day_told_late_is_told_when_it_was_typed() -> None:
    """A mating remembered in the night is no news of the night, and has no time of day."""
    mating = entry(2, -90_000, Mating(), typed=5).model_copy(update={"certainty": "day"})
    first, second, *_ = telling((entry(1, 0, Rest()), mating))

    assert first.startswith("02:00:00             rest")
    assert second == "02:05:00             mated  [29 Dec]"


def test_what_is_known_before_sets_the_scene() -> None:
    """The facts of a day that come first stand at the top, without a time."""
    entries = (
        entry(1, -90_000, Mating()).model_copy(update={"certainty": "day"}),
        entry(2, 0, Details(dam="Ash", breed="Border Terrier")),
        entry(3, 1, Contraction()),
    )
    screening = screen(entries, DEFAULT)

    assert list(opening(screening)) == [
        "Ash, Border Terrier. The night of 02 March 2026, UTC.",
        "29 Dec 2025          mated",
        "",
    ]


def test_what_it_came_to() -> None:
    """Born, alive, afterbirths, and the alerts that came, by level."""
    entries = told((0, Contraction()), (21, Birth(pup=1)), (22, Birth(pup=2, state="dead")))
    assert result(screen(entries, DEFAULT, until=at(23))).startswith(
        "Born 2, alive 1, afterbirths 0, owed 2. Alerts: 2 watch, 1 call, 0 go."
    )


def test_once_the_vet_is_there_nobody_is_told_to_ring_or_drive() -> None:
    """The telling says what the board of that moment says to do."""
    entries = told(
        (0, Contraction()),
        (22, VetContact(contact="arrived")),
        (40, DamState(signs=("collapsed",))),
    )
    lines_ = telling(entries)
    ring = [line.strip() for line in lines_ if "Ring the vet now" in line]
    go = [after.strip() for line, after in pairwise(lines_) if "!!! GO" in line]

    assert len(ring) == 1  # before the vet came
    assert len(go) == 2
    assert all(step.startswith("Tell the vet who is with her, now.") for step in go)


def test_a_night_typed_afterwards_says_how_to_see_it_better() -> None:
    """Once, at the start, and not where it is told so already."""
    late = tuple(entry(number, number, Rest(), typed=200) for number in range(1, 4))

    assert AFTERWARDS in list(opening(screen(late, DEFAULT)))
    assert AFTERWARDS not in list(opening(screen(late, DEFAULT, as_corrected=True)))
    assert AFTERWARDS not in list(opening(screen(told((0, Rest()), (20, Rest())), DEFAULT)))
    assert len(AFTERWARDS) <= 80

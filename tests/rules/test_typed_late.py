"""What is typed late was silence neither before nor after: the rule that asks for news."""

from boxlamp.model.happenings import Birth, DamState
from support.made import at, entry
from support.nights import assessed


def test_the_last_that_was_typed_counts_not_the_last_that_happened() -> None:
    """Two lines of one minute: what was typed second was typed, though it stands first."""
    night = (
        entry(1, 0, Birth(pup=1)),
        entry(2, 10, DamState(signs=("drank",)), typed=31),
        entry(3, 10, Birth(pup=2), typed=46),
    )
    watches = [
        step.at
        for step in assessed(night).history(at(600))
        if (step.rule.id, step.change) == ("log-quiet", "raised")
    ]
    assert watches == [at(66)]


def test_what_is_typed_the_next_day_silences_nothing_of_the_night() -> None:
    """An entry added to the night afterwards is no sign of life in it."""
    night = (
        entry(1, 0, Birth(pup=1)),
        entry(2, 5, DamState(signs=("drank",)), typed=1000),
        entry(3, 10, DamState(signs=("ate",))),
        entry(4, 60, Birth(pup=2)),
    )
    quiet = [
        (step.at, step.change)
        for step in assessed(night).history(at(90))
        if step.rule.id == "log-quiet"
    ]
    assert quiet == [(at(30), "raised"), (at(60), "cleared"), (at(80), "raised")]

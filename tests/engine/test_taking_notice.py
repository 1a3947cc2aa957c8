"""Taking notice of an alert, and what is said to be a matter of minutes."""

from boxlamp.engine import assess, history_as_known
from boxlamp.model.happenings import Ack, Birth, Contraction, PupState, Strike, Waters
from boxlamp.model.story import Story
from support.made import at, entry, told
from support.nights import DEFAULT


def test_noticed_in_the_very_second_of_a_correction() -> None:
    """Taking notice in the second in which something else is struck is told, and told once."""
    entries = (
        entry(1, 0, Contraction()),
        entry(2, 1, Waters()),
        entry(3, 17, Strike(target=2, why="wrong")),
        entry(4, 17, Ack()),
    )
    steps = [
        (step.at, step.change)
        for step in history_as_known(entries, DEFAULT, at(19))
        if step.rule.id == "contraction-no-pup"
    ]
    assert steps == [(at(15), "raised"), (at(17), "acknowledged")]


def test_where_minutes_count_is_said_of_the_alert() -> None:
    """A pup that does not breathe is a matter of minutes; an afterbirth that is owed is not."""
    entries = told((0, Birth(pup=1)), (120, PupState(pup=1, signs=("not-breathing",))))
    alerts = assess(Story(entries), DEFAULT).verdict(at(130)).alerts
    found = {alert.rule.id: alert.in_minutes for alert in alerts}
    assert found["not-breathing"] is True
    assert found["afterbirth-owed"] is False

"""How somebody has come along: the drills one by one, and what still goes wrong."""

from collections.abc import Iterator, Sequence
from datetime import tzinfo

from boxlamp.rules.registry import BY_ID
from boxlamp.training.drill.order import weak_rules
from boxlamp.training.drill.record import Result
from boxlamp.view.text import clean, counted, date_text

_LATEST = 15
_FEW = 3


def progress_lines(past: Sequence[Result], zone: tzinfo) -> Iterator[str]:
    """The latest drills, oldest first, then where this person stands."""
    done = sorted(past, key=lambda one: one.at)
    if not done:
        yield "No drill yet. Begin with: boxlamp drill"
        return
    if len(done) > _LATEST:
        yield f"The latest {_LATEST} of {len(done)} drills:"
    for one in done[-_LATEST:]:
        day = date_text(one.at.astimezone(zone).date(), year=True)
        left = "" if one.finished else ", left early"
        score = "  no score" if one.score is None else f"{one.score:>3} of 100"
        calm = f", calm held {one.calm_held} of {one.calm}" if one.calm else ""
        yield f"{day}  {score:<10}  {clean(one.dam)}{calm}{left}"
    yield ""
    whole = [one for one in done if one.finished]
    passed = sum(one.passed for one in whole)
    yield f"{counted(len(whole), 'drill', 'drills')} finished, {passed} passed."
    scores = [one.score for one in whole if one.score is not None]
    if len(scores) >= 2 * _FEW:
        first, last = _mean(scores[:_FEW]), _mean(scores[-_FEW:])
        yield f"The first {_FEW} came to {first} of 100 on average, the last {_FEW} to {last}."
    weak = [rule for rule in sorted(weak_rules(done)) if rule in BY_ID]
    if weak:
        yield "Wrong, and not yet right again (a go takes two right answers):"
        yield from (f"  boxlamp rules {rule:<28} {BY_ID[rule].title}" for rule in weak)


def _mean(scores: Sequence[int]) -> int:
    return round(sum(scores) / len(scores))

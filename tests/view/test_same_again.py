"""Several pups with the same alert: each is named, and what to do is said once."""

from datetime import UTC, datetime

from boxlamp.engine import assess
from boxlamp.language import read_night
from boxlamp.model.story import Story
from boxlamp.view.board import board
from boxlamp.view.said import alert_lines
from support.nights import DEFAULT

NIGHT = """dam: Ash
date: 2026-03-02
vet: Dr Vane (invented)
vet-phone: 000 555 099

02:00 pup 1 400g red
02:05 pup 2 400g blue
02:10 pup 3 400g green
2026-03-06 08:00 round 1 440 2 440 3 440
2026-03-07 08:00 round 1 440 2 440 3 431
"""
AT = datetime(2026, 3, 7, 9, tzinfo=UTC)


def test_the_same_advice_is_given_once() -> None:
    """Two pups that stand still share what to do; one that lost is a matter of its own."""
    story = Story(read_night(NIGHT, source="ash").entries)
    verdict = assess(story, DEFAULT).verdict(AT)
    lines = [line for line in board(verdict, story.entries, UTC).alerts
             if line.rule == "weight-stalled"]  # fmt: skip

    assert [(line.level.word, line.subject, bool(line.do)) for line in lines] == [
        ("call", "pup 3 (marked green)", True),
        ("watch", "pup 1 (marked red)", True),
        ("watch", "pup 2 (marked blue)", False),
    ]
    told = list(alert_lines(verdict, UTC))
    assert sum("Weigh it again in 12 hours" in line for line in told) == 1
    for pup in ("pup 1 (marked red)", "pup 2 (marked blue)"):
        assert sum(f"No gain since the day before, {pup}" in line for line in told) == 1

"""The second stage of labour: when it runs. Two rules share these stretches."""

from collections.abc import Iterator
from datetime import datetime, timedelta

from boxlamp.model.entry import Entry
from boxlamp.model.happenings import Birth, Caesarean, Contraction, Expect, Finished, Scan
from boxlamp.model.litter import Litter, take
from boxlamp.model.story import Story
from boxlamp.rules.spell import Spell, Stopwatch, Yardstick

OWNER = "second-stage-long"
"""The rule that holds the settings."""


def second_stage(story: Story, yardstick: Yardstick, rule: str = OWNER) -> Iterator[Spell]:
    """Spells of the second stage, from the first contraction or birth until it is over.

    It is over when the whelping is called finished, at a caesarean, or after some hours of calm
    since the last pup of an x-ray or scan count. A push, a birth or a higher count after such a
    calm shows that it was not over: the clock goes on from where the stage began.
    """
    calm = timedelta(seconds=float(yardstick.number(OWNER, "calm-after-last")))
    watch, litter = Stopwatch(rule), Litter()
    began: Entry | None = None
    effort: Entry | None = None
    for entry in story.of(Contraction, Birth, Expect, Scan, Caesarean, Finished):
        over = _calm_end(litter, effort, calm)
        if over is not None and over <= entry.at:
            watch.stop(over)
        take(litter, entry)
        match entry.what:
            case Caesarean():
                watch.close(entry)
                break
            case Finished():
                watch.close(entry)
                began = effort = None
            case Contraction() | Birth():
                began, effort = began or entry, entry
            case _:
                pass  # a count: it may end a stage or show that it goes on
        if began is not None:
            _go_on(watch, entry, began, _calm_end(litter, effort, calm))
    else:
        over = _calm_end(litter, effort, calm)
        if over is not None:
            watch.stop(over)
    return watch.finish()


def _calm_end(litter: Litter, effort: Entry | None, calm: timedelta) -> datetime | None:
    """When the calm after the last pup will be long enough, if nothing more happens."""
    counted = litter.expected is not None and litter.expected_by in {"xray", "scan"}
    if effort is None or not counted or litter.born < max(1, litter.expected or 0):
        return None
    return effort.at + calm


def _go_on(watch: Stopwatch, entry: Entry, began: Entry, over: datetime | None) -> None:
    if over is not None and over <= entry.at:
        watch.close(entry)
    else:
        also = () if began is entry else (began.id,)
        watch.open(entry, since=began.at, also=also)

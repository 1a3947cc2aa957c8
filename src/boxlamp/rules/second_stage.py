"""The second stage of labour: when it runs. Two rules share these stretches."""

from collections.abc import Iterator
from dataclasses import dataclass, field
from datetime import datetime, timedelta

from boxlamp.model.entry import Entry
from boxlamp.model.happenings import Birth, Caesarean, Contraction, Expect, Finished, Scan
from boxlamp.model.litter import Litter, take
from boxlamp.model.story import Story
from boxlamp.rules.spell import Spell, Stopwatch, Yardstick, span

OWNER = "second-stage-long"
"""The rule that holds the settings."""


@dataclass(eq=False, repr=False)
class _Stage:
    """The second stage of one litter while its entries go by."""

    watch: Stopwatch
    calm: timedelta
    litter: Litter = field(default_factory=Litter)
    began: Entry | None = None
    effort: Entry | None = None
    """The latest contraction or birth."""

    @property
    def over(self) -> datetime | None:
        """When the calm after the last counted pup will be long enough, if nothing happens."""
        expected = self.litter.expected
        counted = expected is not None and self.litter.expected_by in {"xray", "scan"}
        if self.effort is None or not counted or self.litter.born < max(1, expected or 0):
            return None
        return self.effort.at + self.calm

    def take(self, entry: Entry) -> None:
        """Let one entry begin the stage, end it, or show that it goes on."""
        self.run_out(entry.at)
        take(self.litter, entry)
        match entry.what:
            case Caesarean() | Finished():
                self.watch.close(entry)
                self.began = self.effort = None
            case Contraction() | Birth() if self.litter.caesarean is None:
                self.began, self.effort = self.began or entry, entry
            case _:
                pass  # a count: it may end the stage or show that it goes on
        self._follow(entry)

    def run_out(self, now: datetime | None = None) -> None:
        """Let the calm end the stage, if it was long enough by now."""
        if self.over is not None and (now is None or self.over <= now):
            self.watch.stop(self.over)

    def _follow(self, entry: Entry) -> None:
        if self.began is None:
            return
        if self.over is not None and self.over <= entry.at:
            self.watch.close(entry)
        else:
            also = () if self.began is entry else (self.began.id,)
            self.watch.open(entry, since=self.began.at, also=also)


def second_stage(story: Story, yardstick: Yardstick, rule: str = OWNER) -> Iterator[Spell]:
    """Spells of the second stage, from the first contraction or birth until it is over.

    It is over when the whelping is called finished, at a caesarean, or after some hours of calm
    since the last pup of an x-ray or scan count. A push, a birth or a higher count after such a
    calm shows that it was not over: the clock goes on from where the stage began. After a
    caesarean there is none.
    """
    calm = span(yardstick, OWNER, "calm-after-last")
    stage = _Stage(Stopwatch(rule), calm)
    for entry in story.of(Contraction, Birth, Expect, Scan, Caesarean, Finished):
        stage.take(entry)
    stage.run_out()
    return stage.watch.finish()

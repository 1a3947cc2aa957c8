"""A pup that is fed by the log has not been fed for hours.

What it watches: in the first week, the time since a pup's last feed, for a pup whose feeds are
being written down: the clock begins with the second `feed` within half a day. Another feed,
`milk` or `to-teat` begins it anew. `well` in a pup whose last `feed` was at the teat, the pup's
death, its leaving home and the end of its first week end it, and so does a whole day in which no
feed is written down. The first `milk` after the birth alone begins nothing: a litter that simply
lies at the dam has no such clock.

Why it matters: a pup has hardly any reserves. In its first week it drinks about every two hours;
after a few hours without milk its blood sugar falls, and it grows weak and cold.

What to do: see that it is warm, then feed it or hold it to a teat, and write that down. If it
drinks at the teat again, write `feed 3 teat`, and `state 3 well` to stop writing its feeds down.

Example:
    02:00 pup
    08:00 feed 1 3ml bottle
    10:00 feed 1 3ml bottle
    #= 13:00 watch nursing-gap pup 1
    13:20 feed 1 4ml bottle
    #= 13:20 cleared nursing-gap pup 1
"""

from collections.abc import Iterator
from dataclasses import dataclass, field
from datetime import datetime, timedelta

from boxlamp.model.entry import Entry
from boxlamp.model.happenings import Birth, Death, Feed, Milestone, PupState, Step
from boxlamp.model.levels import Level, pup_subject
from boxlamp.model.story import Story
from boxlamp.rules.renewed import Renewed
from boxlamp.rules.rule import Rule
from boxlamp.rules.scale import Scales
from boxlamp.rules.spell import Spell, Yardstick, span

ID = "nursing-gap"


@dataclass(eq=False, repr=False)
class _Meals:
    """When each pup was last fed, as far as it is written down."""

    yardstick: Yardstick
    pups: Scales = field(default_factory=Scales)
    fed: dict[int, datetime] = field(default_factory=dict)
    by_hand: dict[int, bool] = field(default_factory=dict)
    """Whether a pup's last feed came by bottle or tube: being well does not fill it."""
    clocks: Renewed = field(default_factory=lambda: Renewed(ID))

    def take(self, entry: Entry) -> None:
        """Let one entry feed a pup, or end its clock."""
        self.pups.take(entry)
        match entry.what:
            case Feed(pup=pup, how=how):
                self.by_hand[pup] = how != "teat"
                same = self.fed.get(pup) == entry.at and self._runs(pup, entry.at)
                logged = same or self._logged(pup, entry.at)
                self.fed[pup] = entry.at
                self._eaten(pup, entry, begins=logged)
            case Step(pup=pup, step="milk" | "teat"):
                self._eaten(pup, entry, begins=self._runs(pup, entry.at))
            case PupState(pup=pup, signs=signs) if "well" in signs and not self.by_hand.get(pup):
                self.clocks.cut(entry, subject=pup_subject(pup))
            case Death() | Milestone():
                for pup, scale in self.pups.pups.items():
                    if scale.gone is entry:
                        self.clocks.cut(entry, subject=pup_subject(pup))
            case _:
                pass

    def _runs(self, pup: int, at: datetime) -> bool:
        """Whether the clock of this pup stands; a meal in its very last second comes in time."""
        spell = self.clocks.ahead.get((pup_subject(pup), "main"))
        return spell is not None and (spell.end or at) >= at

    def _eaten(self, pup: int, entry: Entry, *, begins: bool) -> None:
        """A meal ends the gap before it, and may begin the next one."""
        scale, subject = self.pups.pups.get(pup), pup_subject(pup)
        self.clocks.cut(entry, subject=subject)
        if begins and scale is not None and scale.gone is None:
            over = scale.birth.at + span(self.yardstick, ID, "until")
            end = min(entry.at + span(self.yardstick, ID, "given-up-after"), over)
            self.clocks.plan(entry, since=entry.at, end=end, subject=subject)

    def _logged(self, pup: int, at: datetime) -> bool:
        """Whether an earlier feed shows that this pup's feeds are being written down."""
        last = self.fed.get(pup)
        return last is not None and last < at <= last + self._logged_within

    @property
    def _logged_within(self) -> timedelta:
        return span(self.yardstick, ID, "logged-within")


def watch(story: Story, yardstick: Yardstick) -> Iterator[Spell]:
    """For each pup whose feeds are written down, from one to the next."""
    meals = _Meals(yardstick)
    for entry in story.of(Birth, Feed, Step, PupState, Death, Milestone):
        meals.take(entry)
    return meals.clocks.finish()


RULE = Rule(
    id=ID,
    group="each pup",
    title="Long since its last feed",
    watch=watch,
    says={"": "No feed {lasting}: {subject}."},
    do={
        Level.WATCH: (
            "See that it is warm, then feed it or hold it to a teat, and write that down.",
            "Does it drink at the teat again? Then write `feed 3 teat`, then `state 3 well`.",
        ),
        Level.CALL: (
            "Ring the vet now. Say how old the pup is and when it last drank.",
            "Keep it warm. Do not feed a cold pup: warm it first.",
        ),
    },
    page=__doc__,
    running="Since the last feed",
)

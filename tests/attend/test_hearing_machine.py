"""Raised, heard, escalated, heard again, cleared, raised anew: what sounds is what should."""

from datetime import datetime, timedelta

from hypothesis import settings
from hypothesis import strategies as st
from hypothesis.stateful import invariant, precondition, rule

from boxlamp.attend.sound import Sound
from boxlamp.engine import Assessment, assess
from boxlamp.model.entry import Draft, Entry
from boxlamp.model.happenings import (
    Ack,
    Birth,
    Contraction,
    DamState,
    Part,
    PupState,
    Rest,
    Step,
    Strike,
    What,
)
from boxlamp.model.levels import DAM, pup_subject
from boxlamp.model.story import Story
from boxlamp.rules.registry import BY_ID
from support.effort import effort
from support.hearing import MINUTES, Heard, Hearing, Key, Running
from support.machines import CountedMachine, say_figures
from support.made import TWO
from support.nights import DEFAULT, SECOND

RULES = tuple(BY_ID[name] for name in MINUTES)
PUSHING, SHOWING, DANGER = (
    (name, DAM) for name in ("contraction-no-pup", "part-showing", "dam-collapse")
)
SHORT_REST = timedelta(minutes=30)
MINUTE = timedelta(minutes=1)


def breathless(pup: int) -> Key:
    """The alert of a pup that does not breathe."""
    return "not-breathing", pup_subject(pup)


class Alarm(CountedMachine):
    """A night in which alerts come and go, and somebody hears them or does not."""

    def __init__(self) -> None:
        super().__init__()
        self.clock = TWO
        self.entries: list[Entry] = []
        self.sound, self.model = Sound(), Hearing()
        self.pups = 0
        self.rested: tuple[datetime, datetime] | None = None
        self.tick()

    @property
    def now(self) -> datetime:
        """The moment that is judged: never before the last line."""
        return max([self.clock, *(one.recorded for one in self.entries[-1:])])

    def judged(self) -> Assessment:
        """What the four rules make of the night."""
        return assess(Story(self.entries), DEFAULT, RULES)

    def type(self, what: What, back: timedelta = timedelta(0)) -> int:
        """A line is written down, now or late, a second or more after the one before it.

        Within one second the order is that of the kinds, which is another test's business.
        """
        self.clock = max([self.clock, *(one.recorded + SECOND for one in self.entries[-1:])])
        draft = Draft.model_validate({"at": self.now - back, "what": what})
        self.entries.append(draft.numbered(len(self.entries) + 1, "ash", self.now))
        return len(self.entries)

    def tick(self) -> None:
        """What sounds in this second is what the model says."""
        verdict = self.judged().verdict(self.now)
        assert self.sound.due(verdict) == self.model.sounds(self.now)

    def begins(self, key: Key, line: int, since: datetime | None = None) -> None:
        """A clock begins to run, unless it does."""
        at = self.entries[line - 1].at
        self.model.running.setdefault(key, Running(since or at, at, line))

    # What happens

    @rule()
    def push(self) -> None:
        """She pushes; after a short rest it is one spell of pushing."""
        line = self.type(Contraction(strength="strong"))
        short = self.rested is not None and self.now - self.rested[0] < SHORT_REST
        since = self.rested[1] if self.rested is not None and short else None
        self.begins(PUSHING, line, since)
        self.rested = None
        self.tick()

    @precondition(lambda self: PUSHING not in self.model.running and self.rested is None)
    @rule(minutes=st.sampled_from([1, 14, 15, 20, 29, 30, 45]))
    def push_typed_late(self, minutes: int) -> None:
        """A push is written down long after it was seen: what it raises nobody has heard."""
        self.clock = self.now + SECOND
        last = max((one.at for one in self.entries if not isinstance(one.what, Ack)), default=TWO)
        back = timedelta(minutes=minutes)
        if self.now - back > last:
            self.begins(PUSHING, self.type(Contraction(), back))
            self.tick()

    @rule(minutes=st.sampled_from([16, 21, 31, 60]))
    def push_typed_after_a_hearing(self, minutes: int) -> None:
        """Nobody can have heard what was not yet written down."""
        self.birth(limp=False)
        self.wait(2 * 3600)
        self.hear(None)
        self.wait(60)
        self.push_typed_late(minutes)

    @rule()
    def rest(self) -> None:
        """She rests."""
        line = self.type(Rest())
        clock = self.model.running.pop(PUSHING, None)
        if clock is not None:
            self.rested = self.entries[line - 1].at, clock.since
        self.tick()

    @rule()
    def part(self) -> None:
        """A part shows."""
        self.begins(SHOWING, self.type(Part(part="head")))
        self.tick()

    @precondition(lambda self: self.pups < 9)
    @rule(limp=st.booleans())
    def birth(self, limp: bool) -> None:  # noqa: FBT001
        """A pup is out: pushing and showing are over, and it breathes or does not."""
        self.pups += 1
        line = self.type(Birth(pup=self.pups, state="limp" if limp else "alive"))
        self.rested = None
        for key in (PUSHING, SHOWING):
            self.model.running.pop(key, None)
        if limp:
            self.begins(breathless(self.pups), line)
        self.tick()

    @precondition(lambda self: self.pups)
    @rule(data=st.data(), breathes=st.booleans())
    def pup(self, data: st.DataObject, breathes: bool) -> None:  # noqa: FBT001
        """A pup breathes, or stops breathing."""
        pup = data.draw(st.integers(1, self.pups))
        if breathes:
            self.type(Step(pup=pup, step="breathing"))
            self.model.running.pop(breathless(pup), None)
        else:
            self.begins(breathless(pup), self.type(PupState(pup=pup, signs=("not-breathing",))))
        self.tick()

    @rule(how=st.sampled_from(["collapsed", "fits", "recovered"]))
    def dam(self, how: str) -> None:
        """She is in danger, or out of it."""
        line = self.type(DamState.model_validate({"signs": (how,)}))
        if how == "recovered":
            self.model.running.pop(DANGER, None)
        else:
            self.begins(DANGER, line)
        self.tick()

    # Who hears it

    @rule(name=st.none() | st.sampled_from(sorted(MINUTES)))
    def hear(self, name: str | None) -> None:
        """Everything that stands is acknowledged, or one rule."""
        line = self.type(Ack(rule=name))
        self.model.heard.append(Heard(line, self.now, name))
        self.tick()

    @rule(back=st.sampled_from([SECOND, MINUTE, 4 * MINUTE, 10 * MINUTE]))
    def hear_written_late(self, back: timedelta) -> None:
        """It was heard some minutes ago and is only written down now."""
        line = self.type(Ack(), back)
        self.model.heard.append(Heard(line, self.now - back, None))
        self.tick()

    @precondition(lambda self: self.model.heard)
    @rule()
    def take_back_the_last_hearing(self) -> None:
        """An acknowledgement struck is none."""
        self.type(Strike(target=self.model.heard.pop().line))
        self.tick()

    # How time goes by

    @rule(seconds=st.sampled_from([1, 1, 29, 30, 60, 119, 120, 299, 300, 900, 1800, 7200]))
    def wait(self, seconds: int) -> None:
        """Time goes by, a second or a night's sleep of the computer."""
        self.clock = self.now + timedelta(seconds=seconds)
        self.tick()

    @rule(off=st.sampled_from([-SECOND, timedelta(0), SECOND]))
    def wait_for_the_next_level(self, off: timedelta) -> None:
        """To the very second at which something is reached, and to its neighbours."""
        due = self.judged().next_change(self.now)
        if due is not None:
            self.clock = due + off
            self.tick()

    @precondition(lambda self: self.model.repeats())
    @rule(data=st.data(), off=st.sampled_from([-SECOND, timedelta(0), timedelta(0), SECOND]))
    def wait_for_a_repeat(self, data: st.DataObject, off: timedelta) -> None:
        """To the second at which something unheard sounds again, or something heard is asked."""
        moment = data.draw(st.sampled_from(self.model.repeats())) + off
        if moment > self.now:
            self.clock = moment
            self.tick()

    @rule(minutes=st.integers(1, 90))
    def the_clock_is_set_back(self, minutes: int) -> None:
        """What sounded at a time that is now ahead sounds again."""
        self.clock = self.now - timedelta(minutes=minutes)
        self.tick()

    @invariant()
    def the_board_shows_what_stands_and_who_heard_it(self) -> None:
        """Quietened or not, an alert stays on the board at its level."""
        alerts = self.judged().verdict(self.now).alerts
        shown = {(alert.rule.id, alert.subject): alert for alert in alerts}
        assert {key: alert.level for key, alert in shown.items()} == self.model.stands(self.now)
        for key, alert in shown.items():
            assert alert.acknowledged == self.model.heard_at(key, self.now)
            assert alert.quiet == self.model.quiet(key, alert.level, self.now)


TestAlarm = Alarm.TestCase
TestAlarm.settings = settings(
    max_examples=effort(40, nightly=600), stateful_step_count=effort(25, nightly=50), deadline=None
)


def teardown_module() -> None:
    """Say how much was tried."""
    say_figures(Alarm)

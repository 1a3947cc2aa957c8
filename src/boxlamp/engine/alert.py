"""What the engine says: alerts, running clocks, deadlines, transitions."""

from datetime import datetime, timedelta
from typing import Literal, NamedTuple

from boxlamp.model.levels import Level
from boxlamp.model.litter import Litter
from boxlamp.model.spans import ago, in_words, lasting
from boxlamp.model.story import Story
from boxlamp.protocol.book import Book
from boxlamp.rules.rule import Group, Rule, Urgency
from boxlamp.rules.spell import Spell


class Alert(NamedTuple):
    """A level that stands now, with everything that explains it.

    ``raised`` is when this level was reached, ``since`` where the clock counts from,
    ``elapsed`` how long that is now, ``limit`` what it was held against. ``acknowledged`` is
    when a person took notice of it at this level; that quietens the sound and nothing else.
    ``sounds`` is when it last became due to sound.
    """

    rule: Rule
    subject: str
    level: Level
    raised: datetime
    since: datetime
    elapsed: timedelta
    limit: timedelta
    message: str
    do: tuple[str, ...]
    spell: Spell
    acknowledged: datetime | None
    quiet: bool
    """Acknowledged, and not due to sound again."""
    also: tuple[str, ...] = ()
    """The other clocks of the rule that run for this subject, the gravest first."""

    @property
    def counted(self) -> timedelta:
        """How long its clock has counted: ``elapsed``, or less where it is held."""
        return self.spell.start - self.since if self.spell.held else self.elapsed

    @property
    def in_minutes(self) -> bool:
        """Whether minutes, or seconds, count."""
        return self.urgency in {"seconds", "minutes"}

    @property
    def urgency(self) -> Urgency:
        """How urgent it is beside others of its level: as urgent as anything it speaks of."""
        told = (self.rule.urgency_of(clock) for clock in (self.spell.clock, *self.also))
        return min(told, key=_URGENCY.__getitem__)

    @property
    def entries(self) -> tuple[int, ...]:
        """The numbers of the entries that opened the clock."""
        return self.spell.opened


class Prompt(NamedTuple):
    """A reminder that stands now. It is no alert: nothing sounds and nothing escalates."""

    rule: Rule
    subject: str
    since: datetime
    """From when on it is shown."""
    message: str
    do: tuple[str, ...]
    spell: Spell


class Deadline(NamedTuple):
    """A level that will be reached if nothing is written down before."""

    rule: Rule
    subject: str
    level: Level
    due: datetime
    spell: Spell


class Clock(NamedTuple):
    """A running clock, with the level it stands at and every limit ahead of or behind it."""

    rule: Rule
    spell: Spell
    elapsed: timedelta
    level: Level | None
    limits: tuple[tuple[Level, datetime], ...]
    """When each level is or was reached, earliest first."""

    def next_limit(self, now: datetime) -> tuple[Level, datetime] | None:
        """The next level ahead and when it comes."""
        return next(((level, due) for level, due in self.limits if due > now), None)


Change = Literal["raised", "escalated", "cleared", "acknowledged"]


class Transition(NamedTuple):
    """One step in the life of an alert. A fall to a lower level is a clearing and a raising."""

    at: datetime
    rule: Rule
    subject: str
    level: Level
    change: Change
    since: datetime
    entries: tuple[int, ...]
    spell: Spell
    also: tuple[str, ...] = ()
    """The other clocks of the rule that ran for this subject then, the gravest first."""


class Verdict(NamedTuple):
    """Everything the engine has to say about one moment."""

    at: datetime
    story: Story
    litter: Litter
    book: Book
    alerts: tuple[Alert, ...]
    """In the order of :func:`pressing`: what the vet wants to hear first."""
    prompts: tuple[Prompt, ...]
    """Reminders, the oldest first."""
    clocks: tuple[Clock, ...]
    next: tuple[Deadline, ...]
    """In order of time."""

    @property
    def worst(self) -> Level | None:
        """The highest level that stands."""
        return max((alert.level for alert in self.alerts), default=None)


FAILED = "failure"
"""The clock of a rule that could not be worked out: it watches nothing."""

_FAILED_STEPS = (
    "Watch the clock yourself: this rule does not do it for you now.",
    "In doubt ring the vet, and say that the program has failed in this.",
)

_URGENCY: dict[Urgency, int] = {"seconds": 0, "minutes": 0, "usual": 1, "records": 2}
_GROUPS: tuple[Group, ...] = ("labour", "before labour", "the dam", "afterbirths", "each pup")


def pressing(alert: Alert) -> tuple[object, ...]:
    """What stands first on the board, in the check and on the call sheet: a key to sort by.

    The highest level; what can cost a life within minutes, whoever's; then the labour, the dam,
    the afterbirths, the pups' feeding and weights; what was not written down comes last. Of two
    alike the newest. A pup that hands must help within seconds stands among the calls from the
    first second on: nobody rings about a weight while it does not breathe.
    """
    urgency = _URGENCY[alert.urgency]
    level = max(alert.level, Level.CALL) if alert.urgency == "seconds" else alert.level
    group = _GROUPS.index(alert.rule.group) if urgency else 0
    newest = -alert.raised.timestamp()
    return -level, urgency, group, newest, alert.rule.id, alert.subject


def explain(rule: Rule, spell: Spell, now: datetime, also: tuple[str, ...] = ()) -> str:
    """The sentence of a rule's alert about this spell, filled in for this moment.

    ``also`` are the other clocks of the rule that run for the same subject.
    """
    if spell.clock == FAILED:
        why = " ".join(spell.detail.split())
        return (
            f"The rule {rule.id} could not be worked out and watches nothing. Watch the clock "
            f"yourself, and in doubt ring the vet. ({why})"
        )
    return rule.sentence(spell.clock).format(
        elapsed=in_words(now - spell.since),
        lasting=lasting(now - spell.since),
        ago=ago(now - spell.since),
        subject=spell.subject,
        detail=spell.detail,
        also=also_words(rule, spell, also),
    )


def steps_of(rule: Rule, spell: Spell, level: Level) -> tuple[str, ...]:
    """What to do. What a failed rule would say belongs to a trouble that nobody has seen."""
    return _FAILED_STEPS if spell.clock == FAILED else rule.steps(level)


def also_words(rule: Rule, spell: Spell, also: tuple[str, ...]) -> str:
    """``, also blue and cold``: what stands beside a spell and is not said of it already."""
    own = rule.gravest_first.get(spell.clock, "")
    words = dict.fromkeys(rule.gravest_first.get(clock, "") for clock in also)
    told = [one for one in words if one and one != own and one not in spell.detail]
    *most, last = told or [""]
    return f", also {' and '.join(filter(None, (', '.join(most), last)))}" if last else ""

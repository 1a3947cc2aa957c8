"""What a rule is: a pure function over a story, and the page that explains it."""

from collections.abc import Callable, Iterable, Mapping
from types import MappingProxyType
from typing import Literal, NamedTuple

from boxlamp.model.levels import Level
from boxlamp.model.story import Story
from boxlamp.rules.spell import Spell, Yardstick

Group = Literal["before labour", "labour", "afterbirths", "the dam", "each pup"]

Urgency = Literal["seconds", "minutes", "usual", "records"]

Watcher = Callable[[Story, Yardstick], Iterable[Spell]]


def spells_of(watch: Watcher, story: Story, yardstick: Yardstick) -> tuple[Spell, ...]:
    """The spells that one rule finds in a story: found once, for all rules that build on them."""
    return story.once((watch, yardstick), lambda: tuple(watch(story, yardstick)))


class Rule(NamedTuple):
    """One rule of the catalogue.

    ``title`` is what a person reads first. ``says`` is the alert's sentence, by clock ("" for
    any other clock); it may use ``{lasting}`` (for 12 min), ``{ago}`` (12 min ago), ``{elapsed}``
    (12 min), ``{subject}``, ``{detail}`` and ``{also}`` (what else stands, see ``gravest_first``).
    ``do`` is what to do at each level, the most pressing thing first; a level without its own
    list takes the one below. ``page`` is the rule module's docstring. A ``never_relaxed`` rule
    cannot be loosened.
    """

    id: str
    group: Group
    title: str
    watch: Watcher
    says: Mapping[str, str]
    do: Mapping[Level, tuple[str, ...]]
    page: str
    never_relaxed: bool = False
    urgency: Urgency = "usual"
    """Among alerts of one level those where minutes count come first, mere records last.

    What hands must do within seconds, whoever is rung meanwhile, comes before every call as well.
    """
    minutes: frozenset[str] = frozenset()
    """The clocks of a usual rule for which minutes count all the same."""
    running: str = ""
    """What its clock is called while no level is reached; a title would sound like a verdict."""
    on_board: bool = True
    """Whether its clock is shown while it runs. A clock that says the same as another is not."""
    gravest_first: Mapping[str, str] = MappingProxyType({})
    """Clocks of one subject that can run at once, the gravest first, each with a word or two.

    One alert speaks of them all: with the sentence of the gravest, and the words of the others
    as ``{also}``. A clock without words is not named beside another.
    """

    def rank(self, clock: str) -> int:
        """The place of a clock among those that can run at once: 0 for the gravest."""
        if not self.gravest_first:
            return 0
        known = list(self.gravest_first)
        return known.index(clock) if clock in known else len(known)

    def urgency_of(self, clock: str) -> Urgency:
        """How urgent an alert of this clock is beside others of its level."""
        return "minutes" if clock in self.minutes else self.urgency

    def in_minutes(self, clock: str) -> bool:
        """Whether an alert of this clock is one where minutes, or seconds, count."""
        return self.urgency_of(clock) in {"seconds", "minutes"}

    def sentence(self, clock: str) -> str:
        """The template of the alert's sentence for one of this rule's clocks."""
        return self.says.get(clock, self.says.get("", self.title))

    def steps(self, level: Level) -> tuple[str, ...]:
        """What to do at ``level``."""
        for lower in range(level, -1, -1):
            if Level(lower) in self.do:
                return self.do[Level(lower)]
        return ()

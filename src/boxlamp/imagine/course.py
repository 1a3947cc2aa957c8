"""What truly happens in a whelping, seen or not.

Time is told in minutes from the dam's first strain; what came before it is negative. Nothing
here knows what somebody will write down, and nothing knows how long is too long.
"""

from typing import NamedTuple

from boxlamp.imagine.figures import Method
from boxlamp.imagine.imagined import Size
from boxlamp.model.happenings import Death, What
from boxlamp.model.seen import BirthState, Presentation, Sex

NEVER = float("inf")


class Dam(NamedTuple):
    """The bitch, and what was known of her before."""

    name: str
    breed: str
    size: Size
    kilos: float
    years: int
    first_litter: bool
    days: int
    """Days from ovulation to her first strain."""
    mated_before: int
    """Days from the first mating to ovulation."""


class Effort(NamedTuple):
    """A stretch of pushing, weak or strong."""

    begin: float
    end: float
    strong: bool


class Pup(NamedTuple):
    """One pup, and when each thing truly happens to it; ``NEVER`` when it does not."""

    born: float
    sex: Sex
    grams: int
    presentation: Presentation | None
    state: BirthState = "alive"
    in_sac: bool = False
    sac_opened: float = 0.0
    """Seconds after the birth, like ``breathes``."""
    breathes: float = 0.0
    milk: float = NEVER
    """Minutes after the birth, like ``afterbirth``."""
    afterbirth: float = NEVER
    eaten: bool = False
    unseen: bool = False
    """The afterbirth is eaten while nobody looks."""
    bleeds: float = 0.0
    """Minutes for which its cord bleeds."""

    @property
    def alive(self) -> bool:
        """Born alive, whether or not it needs help."""
        return self.state != "dead"


class Event(NamedTuple):
    """Anything else that happens in front of, or is done by, whoever sits by the box."""

    at: float
    what: What
    note: str = ""
    to_the_second: bool = False


class Course(NamedTuple):
    """A whole whelping, from the hours before it to the calm after it."""

    dam: Dam
    signs: float
    """The first stage begins; ``NEVER`` when it does not."""
    waters: float
    sac: float
    """A sac is at the vulva, before the first pup."""
    efforts: tuple[Effort, ...]
    pups: tuple[Pup, ...]
    warmth: tuple[tuple[float, float], ...]
    """Her temperature in °C: points of a line, by minute."""
    counted: int
    """How many were counted beforehand, and by what."""
    counted_by: Method
    over: float
    """The whelping is over, and anybody can see it."""
    inside: tuple[Pup, ...] = ()
    """Pups that do not come by themselves any more."""
    events: tuple[Event, ...] = ()
    troubled: float | None = None
    """The trouble truly begins."""
    ended: float | None = None
    """The trouble has run its course."""
    watched: float = NEVER
    """Somebody has taken her temperature since then; ``NEVER`` where nothing called for it."""
    silent: float = NEVER
    """From here on only events are told: she is with the vet, or the night has ended."""

    @property
    def strain(self) -> float:
        """Her first strain."""
        return min((effort.begin for effort in self.efforts), default=NEVER)

    def in_trouble(self, at: float) -> bool:
        """Whether something is the matter at a minute, seen or not."""
        return (
            self.troubled is not None
            and self.ended is not None
            and self.troubled <= at <= self.ended
        )

    def died(self, number: int) -> float:
        """When this pup dies: at its birth if it comes dead; ``NEVER`` if it lives."""
        pup = self.pups[number - 1]
        deaths = (one.at for one in self.events if _kills(one.what, number))
        return min(deaths, default=NEVER) if pup.alive else pup.born

    def living(self, at: float) -> list[Pup]:
        """The pups that are out and alive at a minute."""
        return [
            pup
            for number, pup in enumerate(self.pups, start=1)
            if pup.born <= at < self.died(number)
        ]

    def lost(self, at: float) -> bool:
        """Whether any pup is dead by a minute."""
        return any(self.died(number) <= at for number in range(1, len(self.pups) + 1))

    def nursing(self, at: float) -> bool:
        """Whether a pup that has found the teat is there to nurse at a minute."""
        return any(pup.born + pup.milk <= at for pup in self.living(at))

    def celsius(self, at: float) -> float:
        """Her temperature at a minute."""
        before = self.warmth[0]
        for point in self.warmth:
            if point[0] >= at:
                share = (at - before[0]) / (point[0] - before[0]) if point[0] > before[0] else 1.0
                return before[1] + share * (point[1] - before[1])
            before = point
        return before[1]


def _kills(what: What, number: int) -> bool:
    return isinstance(what, Death) and what.pup == number

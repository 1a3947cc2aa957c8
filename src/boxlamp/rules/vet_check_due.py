"""No vet has seen her since the whelping.

What it watches: the time since `finished` until the vet has come or seen her. What the vet or a
scan calls finished needs no second look, and a vet who saw her after the last pup has looked. A
caesarean was the vet's own. A second clock asks sooner for the telephone when the night was not
smooth: an afterbirth was not seen, a pup was born dead or has died, a pup needed help, or
something was given. Another birth ends both until the next `finished`.

Why it matters: a pup or an afterbirth that stayed behind can be found by hand or by scan before
it makes her ill. A look within a day is the ordinary end of a whelping, also of a good one.

What to do: ring in the daytime and ask when and where she should be seen. Have this log ready.

Example:
    02:00 pup dead
    02:20 afterbirth
    02:30 finished
    #= 2026-03-03 02:30 watch vet-check-due
    #= 2026-03-04 02:30 call vet-check-due
    2026-03-04 09:00 vet seen; all well
    #= 2026-03-04 09:00 cleared vet-check-due
"""

from collections.abc import Iterator
from dataclasses import dataclass, field

from boxlamp.model.entry import Entry
from boxlamp.model.happenings import (
    Afterbirth,
    Birth,
    Caesarean,
    Death,
    Finished,
    PupState,
    Treatment,
    VetContact,
)
from boxlamp.model.levels import Level
from boxlamp.model.litter import Litter, take
from boxlamp.model.story import Story
from boxlamp.rules.rule import Rule
from boxlamp.rules.signs import follow
from boxlamp.rules.spell import Spell, Stopwatch, Yardstick

ID = "vet-check-due"
_KINDS = (Birth, Afterbirth, Death, PupState, Treatment, Caesarean, Finished, VetContact)
_IN_NEED = frozenset({"limp", "not-breathing", "gasping", "blue"})
_MISSING, _DEAD = "an afterbirth was not seen", "a pup has died"
_HELPED, _GIVEN = "a pup needed help", "something was given"


@dataclass(eq=False, repr=False)
class _Night:
    """How the whelping went, and whether a vet has seen how it ended."""

    litter: Litter = field(default_factory=Litter)
    over: Entry | None = None
    """The `finished` that waits for a vet."""
    seen: bool = False
    _reasons: dict[str, int] = field(default_factory=dict)

    @property
    def reasons(self) -> dict[str, int]:
        """Why a look matters more, each with the entry that says so, in order."""
        debts = self.litter.ledger.debts.values()
        missing = [debt.birth.id for debt in debts if debt.answer in {"owed", "not-seen"}]
        return ({_MISSING: missing[0]} if missing else {}) | self._reasons

    def take(self, entry: Entry) -> None:
        """Let one entry end the whelping, call for a look, or be the look."""
        take(self.litter, entry)
        match entry.what:
            case Birth():
                self.over, self.seen = None, self.litter.caesarean is not None
            case Caesarean() | VetContact(contact="seen" | "arrived") | Finished(by="vet" | "scan"):
                self.over, self.seen = None, True
            case Finished() if not self.seen:
                self.over = self.over or entry
            case _:
                pass
        # What is said of a pup that nobody has written down changes nothing.
        if getattr(entry.what, "pup", None) in {None, *self.litter.pups}:
            for reason in _found(entry):
                self._reasons.setdefault(reason, entry.id)


def _found(entry: Entry) -> Iterator[str]:
    """What an entry says that makes a look matter more."""
    match entry.what:
        case Birth(state="dead") | Death():
            yield _DEAD
        case Birth(state="limp"):
            yield _HELPED
        case PupState(signs=signs) if _IN_NEED & set(signs):
            yield _HELPED
        case Treatment():
            yield _GIVEN
        case _:
            pass


def watch(story: Story, _yardstick: Yardstick) -> Iterator[Spell]:
    """From `finished` until a vet has seen her; a clock of its own when there is a reason."""
    main, helped = Stopwatch(ID), Stopwatch(ID, clock="helped")
    night = _Night()
    for entry in story.of(*_KINDS):
        night.take(entry)
        over = night.over
        if over is None:
            main.close(entry)
            helped.close(entry)
        else:
            main.open(entry)
            reasons = night.reasons
            ids = (over.id, *reasons.values())
            follow(helped, entry, " and ".join(reasons), ids, since=over.at)
    yield from main.finish()
    yield from helped.finish()


RULE = Rule(
    id=ID,
    group="the dam",
    title="No vet has seen her yet",
    watch=watch,
    says={
        "": "She was called finished {ago} and no vet has seen her.",
        "helped": "Finished {ago}, no vet has seen her, and {detail}.",
    },
    do={
        Level.WATCH: (
            "Ring the vet in the daytime and ask when she should be seen.",
            "Write down when the vet has seen her.",
        ),
        Level.CALL: (
            "Ring the vet now and ask to have her seen today. Have this log ready.",
            "Take her temperature and look at her discharge first, if it takes no time.",
        ),
    },
    page=__doc__,
)

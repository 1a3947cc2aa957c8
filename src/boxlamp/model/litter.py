"""The litter folded from its story: the dam, the phase, the pups with their steps.

One pass in canonical order. Entries that name a pup nobody has written down are kept in the
record but change nothing here.
"""

from collections.abc import Callable
from dataclasses import dataclass, field
from datetime import datetime, timedelta
from decimal import Decimal
from typing import Any, Literal

from boxlamp.model.coming import LAPSES, says_coming
from boxlamp.model.entry import Entry
from boxlamp.model.happenings import (
    Birth,
    Caesarean,
    Contraction,
    Death,
    Details,
    Expect,
    Feed,
    Finished,
    Kit,
    Milestone,
    Note,
    Part,
    PupState,
    Sac,
    Scan,
    Score,
    Settled,
    Sexed,
    Sign,
    Step,
    Temperature,
    VetContact,
    Waters,
    Weight,
    What,
)
from boxlamp.model.ledger import IN_THE_LEDGER, Answer, Ledger
from boxlamp.model.seen import BirthState, Presentation, PupSign, Sex
from boxlamp.model.story import Story

Phase = Literal["waiting", "first stage", "labour", "after whelping"]
"""Before any sign; first-stage signs; waters, pushing or births; over."""

CountedBy = Literal["xray", "scan", "guess"]

# Our choice: a vet who came to a labour, or to whom she was brought, may well stay for hours.
_VISIT = timedelta(hours=4)
# Our choice: no drive takes longer, and nobody writes down that they have turned back.
_DRIVE = timedelta(hours=4)

# How far a count can be trusted. A weaker way of knowing never replaces a stronger one.
_TRUST = {None: 0, "guess": 1, "scan": 2, "xray": 3}


@dataclass
class Pup:
    """One pup: what is known of it now, and when each newborn step was written down.

    ``steps`` maps a step's name to its time and finding. Weights are in grams.
    """

    number: int
    birth: Entry
    by_caesarean: bool = False
    sex: Sex | None = None
    mark: str | None = None
    state: BirthState | None = None
    presentation: Presentation | None = None
    birth_weight: Decimal | None = None
    weight: Decimal | None = None
    weighed: datetime | None = None
    celsius: Decimal | None = None
    """Its last temperature."""
    measured: datetime | None = None
    """When that was taken."""
    steps: dict[str, tuple[datetime, str]] = field(default_factory=dict)
    signs: tuple[PupSign, ...] = ()
    looked: datetime | None = None
    """When those signs were seen."""
    score: tuple[int | None, ...] | None = None
    milestones: dict[str, tuple[datetime, str]] = field(default_factory=dict)
    """When each milestone was last written down, and the number that came with it."""
    died: datetime | None = None

    @property
    def born(self) -> datetime:
        """The instant of birth."""
        return self.birth.at

    @property
    def alive(self) -> bool:
        """Not born dead and not written down as dead since."""
        return self.died is None

    @property
    def here(self) -> bool:
        """Alive and still in this house."""
        return self.alive and "left-home" not in self.milestones

    @property
    def name(self) -> str:
        """How people speak of it: ``pup 3``, ``pup 3 (marked blue)``.

        A mark alone would read as a sign: a blue pup is one that lacks oxygen.
        """
        return f"pup {self.number} (marked {self.mark})" if self.mark else f"pup {self.number}"


@dataclass
class Litter:
    """Everything known of a litter at the end of its story."""

    details: Details = field(default_factory=Details)
    pups: dict[int, Pup] = field(default_factory=dict)
    ledger: Ledger = field(default_factory=Ledger)
    expected: int | None = None
    expected_by: CountedBy | None = None
    phase: Phase = "waiting"
    phase_since: datetime | None = None
    labour_since: datetime | None = None
    last_contraction: Entry | None = None
    first_push: Entry | None = None
    """The first contraction since the last birth."""
    vet_came: datetime | None = None
    """When she and the vet came together, unless the vet was rung or driven to since."""
    left_for_vet: datetime | None = None
    """When they left for the vet, unless it is written down that they came there, or are home."""
    vet_coming: datetime | None = None
    """When the vet was said to be coming to her, unless newer words tell otherwise."""
    caesarean: datetime | None = None
    finished: datetime | None = None
    kit: dict[str, bool] = field(default_factory=dict)
    """Items of the preparation list somebody has spoken of: ready, or no longer so."""

    @property
    def born(self) -> int:
        """Pups born so far, alive or dead."""
        return len(self.pups)

    @property
    def alive(self) -> int:
        """Pups alive now."""
        return sum(pup.alive for pup in self.pups.values())

    def with_vet(self, now: datetime) -> bool:
        """Whether the vet can be taken to be with her still.

        Nobody writes down that the vet has gone, so it lapses: an alert must not go on saying
        that help is in the room.
        """
        return self.vet_came is not None and now - self.vet_came < _VISIT

    def on_the_way(self, now: datetime) -> bool:
        """Whether they can be taken to be driving to the vet: left, and not there yet.

        This lapses too: who turned back without a word must be told to leave again.
        """
        return self.left_for_vet is not None and now - self.left_for_vet < _DRIVE

    def awaits_vet(self, now: datetime) -> bool:
        """Whether the vet was said to be coming to her, and not so long ago."""
        return self.vet_coming is not None and now - self.vet_coming < LAPSES

    @property
    def last_birth(self) -> datetime | None:
        """When the latest pup was born."""
        return max((pup.born for pup in self.pups.values()), default=None)

    @property
    def in_order(self) -> list[Pup]:
        """Pups in the order of their birth."""
        return sorted(self.pups.values(), key=lambda pup: (pup.born, pup.number))

    def afterbirth_of(self, pup: int) -> Answer:
        """What is known of one pup's afterbirth."""
        debt = self.ledger.debts.get(pup)
        return debt.answer if debt is not None else "owed"

    def enter(self, phase: Phase, at: datetime) -> None:
        """Move to a phase; staying in one keeps the time it began."""
        if self.phase != phase:
            self.phase, self.phase_since = phase, at
            self.finished = None  # what was called finished too early goes on
            if phase == "labour" and self.labour_since is None:
                self.labour_since = at

    def expect(self, count: int, method: CountedBy) -> None:
        """Take in a count of pups, unless a better one is already known."""
        if _TRUST[method] >= _TRUST[self.expected_by]:
            self.expected, self.expected_by = count, method


_OVER_WHEN_IT_BREATHES = ("limp", "not-breathing", "gasping", "blue")

# Asking a model for a field it does not have is slow, and most entries name no pup.
_OF_A_PUP = frozenset(kind for kind in What.__subclasses__() if "pup" in kind.model_fields)


def fold(story: Story) -> Litter:
    """The litter at the end of this story."""
    litter = Litter()
    for entry in story.entries:
        take(litter, entry)
    return litter


def take(litter: Litter, entry: Entry) -> None:
    """Let one entry change the litter. Entries must come in canonical order."""
    what = entry.what
    kind = type(what)
    pup = getattr(what, "pup", None) if kind in _OF_A_PUP else None
    if pup is not None and pup not in litter.pups and kind is not Birth:
        return
    if kind in IN_THE_LEDGER:
        litter.ledger.take(entry)
    change = _CHANGES.get(kind)
    if change is not None:
        change(what, entry, litter)


def merged(details: Details, later: Details) -> Details:
    """``details`` with whatever ``later`` says put over it."""
    return details.model_copy(update={name: said for name, said in later if said is not None})


_Change = Callable[[Any, Entry, Litter], None]
_CHANGES: dict[type[What], _Change] = {}
"""What each kind of happening changes in the litter; most kinds change nothing."""


def _on(*kinds: type[What]) -> Callable[[_Change], _Change]:
    """Let this function say what such happenings change."""

    def note(change: _Change) -> _Change:
        _CHANGES.update(dict.fromkeys(kinds, change))
        return change

    return note


@_on(Details)
def _(what: Details, _entry: Entry, litter: Litter) -> None:
    litter.details = merged(litter.details, what)


@_on(Expect)
def _(what: Expect, _entry: Entry, litter: Litter) -> None:
    litter.expect(what.count, what.method)


@_on(Scan)
def _(what: Scan, _entry: Entry, litter: Litter) -> None:
    if what.count is not None:
        litter.expect(what.count, "xray" if what.method == "xray" else "scan")


@_on(Sign)
def _(_what: Sign, entry: Entry, litter: Litter) -> None:
    if litter.phase == "waiting":
        litter.enter("first stage", entry.at)


@_on(Settled)
def _(_what: Settled, entry: Entry, litter: Litter) -> None:
    if litter.phase == "first stage":
        litter.enter("waiting", entry.at)


@_on(Waters, Sac, Part, Contraction)
def _(what: What, entry: Entry, litter: Litter) -> None:
    litter.enter("labour", entry.at)
    if isinstance(what, Contraction):
        litter.last_contraction = entry
        litter.first_push = litter.first_push or entry


@_on(Caesarean)
def _(_what: Caesarean, entry: Entry, litter: Litter) -> None:
    litter.caesarean, litter.left_for_vet, litter.vet_coming = entry.at, None, None
    litter.enter("labour", entry.at)


@_on(Finished)
def _(_what: Finished, entry: Entry, litter: Litter) -> None:
    litter.enter("after whelping", entry.at)
    litter.finished = entry.at
    litter.vet_came = litter.left_for_vet = litter.vet_coming = None


@_on(VetContact)
def _(what: VetContact, entry: Entry, litter: Litter) -> None:
    litter.vet_came = entry.at if what.contact == "arrived" else None
    if says_coming(what):
        litter.vet_coming = entry.at
    elif what.contact not in {"called", "advised"} or what.said:  # newer words, or an arrival
        litter.vet_coming = None
    if what.contact == "left-for":
        litter.left_for_vet = entry.at
    elif what.contact in {"arrived", "seen"}:  # ringing and being told something is no arrival
        litter.left_for_vet = None


@_on(Note)
def _(what: Note, _entry: Entry, litter: Litter) -> None:
    if says_home(what):
        litter.vet_came = litter.left_for_vet = None


def says_home(note: Note) -> bool:
    """Whether a note says that they are home again: it begins with ``home``, or nearly."""
    return any(word.strip(",.;:") == "home" for word in note.words.casefold().split()[:2])


@_on(Birth)
def _(what: Birth, entry: Entry, litter: Litter) -> None:
    litter.first_push = None
    if litter.caesarean is None:
        litter.enter("labour", entry.at)
    litter.pups[what.pup] = Pup(
        number=what.pup, birth=entry, by_caesarean=litter.caesarean is not None,
        sex=what.sex, mark=what.mark, state=what.state, presentation=what.presentation,
        birth_weight=what.weight, weight=what.weight,
        weighed=None if what.weight is None else entry.at,
        died=entry.at if what.state == "dead" else None,
    )  # fmt: skip


@_on(Sexed)
def _(what: Sexed, _entry: Entry, litter: Litter) -> None:
    litter.pups[what.pup].sex = what.sex


@_on(Step)
def _(what: Step, entry: Entry, litter: Litter) -> None:
    pup = litter.pups[what.pup]
    pup.steps[what.step] = (entry.at, what.finding)
    if what.step == "breathing":
        pup.signs = tuple(sign for sign in pup.signs if sign not in _OVER_WHEN_IT_BREATHES)
    if what.step == "marked" and what.finding:
        pup.mark = what.finding


@_on(Feed)
def _(what: Feed, entry: Entry, litter: Litter) -> None:
    if what.how == "teat":
        litter.pups[what.pup].steps.setdefault("milk", (entry.at, ""))


@_on(Weight)
def _(what: Weight, entry: Entry, litter: Litter) -> None:
    if what.pup is None:
        return
    pup = litter.pups[what.pup]
    pup.weight, pup.weighed = what.grams, entry.at
    pup.birth_weight = pup.birth_weight or what.grams


@_on(Temperature)
def _(what: Temperature, entry: Entry, litter: Litter) -> None:
    if what.where == "pup" and what.pup is not None:
        pup = litter.pups[what.pup]
        pup.celsius, pup.measured = what.celsius, entry.at


@_on(Score)
def _(what: Score, _entry: Entry, litter: Litter) -> None:
    litter.pups[what.pup].score = what.items


@_on(PupState)
def _(what: PupState, entry: Entry, litter: Litter) -> None:
    pup = litter.pups[what.pup]
    pup.signs, pup.looked = what.signs, entry.at


@_on(Milestone)
def _(what: Milestone, entry: Entry, litter: Litter) -> None:
    # Said of no pup it is true of all that are here; one that has left is not spoken of.
    meant = [what.pup] if what.pup is not None else [p.number for p in litter.in_order if p.here]
    for number in meant:
        litter.pups[number].milestones[what.milestone] = (entry.at, what.number)


@_on(Kit)
def _(what: Kit, _entry: Entry, litter: Litter) -> None:
    litter.kit[what.item] = what.have


@_on(Death)
def _(what: Death, entry: Entry, litter: Litter) -> None:
    pup = litter.pups[what.pup]
    pup.died = pup.died or entry.at

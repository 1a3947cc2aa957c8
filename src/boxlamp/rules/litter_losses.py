"""Several pups of the litter are lost, or one after its first day.

What it watches: pups born dead, and pups that die later. A call at the second that is born dead,
by caesarean too, and at the second live-born death within seven days. A live-born pup that dies
when it is a day old or more is a call by itself, for the pups that are left. It ends when the vet
has advised, come or seen them after the newest loss, or seven days after that loss; that the vet
was called is not yet an answer. A pup that breathes after it was written down as dead is no loss.
Another loss after the vet's advice is a call again.

Why it matters: two litters in three have no stillborn pup at all. One dead pup is bad luck; two
may have one cause, in the womb or in the milk, and an infection spreads from pup to pup in days.

What to do: ring the vet about those that live and about the dam. Keep the bodies cool, not
frozen: the vet may find the cause in them. Weigh every pup and take every temperature.

Example:
    02:00 pup dead
    02:40 pup
    03:10 pup dead
    #= 03:10 call litter-losses litter
    03:30 vet advised; bring all of them in the morning
    #= 03:30 cleared litter-losses litter
"""

from collections.abc import Iterator
from dataclasses import dataclass, field
from datetime import timedelta

from boxlamp.model.entry import Entry
from boxlamp.model.happenings import Birth, Death, Milestone, VetContact
from boxlamp.model.levels import LITTER, Level, pup_subject
from boxlamp.model.spans import in_words
from boxlamp.model.story import Story
from boxlamp.rules.renewed import Renewed
from boxlamp.rules.rule import Rule
from boxlamp.rules.scale import Scale, Scales
from boxlamp.rules.spell import Spell, Yardstick, span

ID = "litter-losses"
_STILLBORN, _DEATHS, _REST = "stillborn", "deaths", "rest"


@dataclass(eq=False, repr=False)
class _Losses:
    """The pups lost so far, and what is to be asked about those that are left."""

    yardstick: Yardstick
    pups: Scales = field(default_factory=Scales)
    stillborn: list[Entry] = field(default_factory=list)
    died: list[Entry] = field(default_factory=list)
    clocks: Renewed = field(default_factory=lambda: Renewed(ID))

    def take(self, entry: Entry) -> None:
        """Let one entry be a loss, or the answer to one."""
        lost = self._lost(entry)
        self.pups.take(entry)
        match entry.what:
            case Birth(state="dead"):
                self._let_stand(entry)
                self.stillborn.append(entry)
                self._call(entry, _STILLBORN, self.stillborn)
            case Death() if lost is not None:
                self._die(entry, lost)
            case VetContact(contact="advised" | "arrived" | "seen"):
                self.clocks.cut(entry, subject=LITTER)
            case _:
                pass
        if not any(self.pups.here):
            self.clocks.cut(entry, _REST, subject=LITTER)

    def _lost(self, entry: Entry) -> Scale | None:
        """The pup that dies by this entry: it was alive and here."""
        scale = self.pups.pups.get(entry.what.pup) if isinstance(entry.what, Death) else None
        return scale if scale is not None and scale.gone is None else None

    def _die(self, entry: Entry, lost: Scale) -> None:
        self._let_stand(entry)
        self.died.append(entry)
        self._call(entry, _DEATHS, [one for one in self.died if entry.at - one.at <= self._week])
        age = lost.age(entry.at)
        if age >= span(self.yardstick, ID, "first-day"):
            told = f"{pup_subject(lost.pup)} has died, {in_words(age)} old"
            self._stand(entry, _REST, told, [])

    def _call(self, entry: Entry, clock: str, losses: list[Entry]) -> None:
        if len(losses) >= self.yardstick.number(ID, "how-many"):
            self._stand(entry, clock, str(len(losses)), losses)

    def _stand(self, entry: Entry, clock: str, detail: str, losses: list[Entry]) -> None:
        """Let a call stand for some days after this loss."""
        also = tuple(one.id for one in losses)
        self.clocks.renew(entry, clock, lasts=self._week, subject=LITTER, also=also, detail=detail)

    def _let_stand(self, entry: Entry) -> None:
        """Let what stands already stand for some days after this loss, whatever its kind."""
        for clock in (_STILLBORN, _DEATHS, _REST):
            spell = self.clocks.standing(entry.at, clock, LITTER)
            if spell is not None:
                self._stand(entry, clock, spell.detail, [])

    @property
    def _week(self) -> timedelta:
        return span(self.yardstick, ID, "within")


def watch(story: Story, yardstick: Yardstick) -> Iterator[Spell]:
    """From the second loss, or a loss after the first day, until a vet has advised."""
    losses = _Losses(yardstick)
    for entry in story.of(Birth, Death, Milestone, VetContact):
        losses.take(entry)
    return losses.clocks.finish()


RULE = Rule(
    id=ID,
    group="each pup",
    title="Pups lost",
    watch=watch,
    says={
        _STILLBORN: "{detail} pups of this litter were born dead.",
        _DEATHS: "{detail} pups of this litter have died within a week.",
        _REST: "Ask about the pups that are left: {detail}.",
    },
    do={
        Level.CALL: (
            "Ring the vet now. Say how many are lost, when, and how the dam and the others are.",
            "Keep the bodies cool, not frozen: the vet may want to look at them.",
            "Weigh each living pup and take its temperature. Take the dam's too.",
            "Write down what the vet says: `vet advised` and the words.",
        ),
    },
    page=__doc__,
    on_board=False,
)

"""What a pup should have reached, or what is due for it, by its age. A reminder, and no alert.

What it watches: each pup's days since its birth. From its day on it asks for the cord stump, the
eyes, the ears, walking, urine and stool without help, the wormings, the first vaccination and the
chip. It ends when that is written down for the pup or for the whole litter, when the pup dies or
leaves home, and after some weeks when nobody writes it down. Where the day has come on which the
vet should hear of it, the sentence says so. A worming is asked for again some days after the last.

Why it matters: pups differ by days, and a day more is no illness. A pup that is far behind its
littermates is worth a look, and what the vet gives has its time.

What to do: look at every pup, and write down what you find. Ask the vet what to give and when.

Example:
    02:00 pup
    #= 2026-03-07 02:00 prompt milestone-due pup 1
    2026-03-07 08:00 cord off
    2026-03-14 09:00 eyes open 1
    2026-03-16 09:00 wormed
    #= 2026-03-21 02:00 prompt milestone-due pup 1
    2026-03-21 09:00 ears open
"""

from collections.abc import Iterator
from dataclasses import dataclass, field
from datetime import datetime, timedelta
from typing import get_args

from boxlamp.model.entry import Entry
from boxlamp.model.happenings import Birth, Death, Milestone
from boxlamp.model.levels import Level, pup_subject
from boxlamp.model.seen import MilestoneName
from boxlamp.model.story import Story
from boxlamp.rules.foreseen import Foreseen
from boxlamp.rules.rule import Rule
from boxlamp.rules.scale import Scales
from boxlamp.rules.spell import Spell, Yardstick, span

ID = "milestone-due"
_AGAIN = frozenset({"wormed"})
"""What is due again after it was done."""


@dataclass(eq=False, repr=False)
class _Pups:
    """What is asked of each pup that is here."""

    yardstick: Yardstick
    clocks: Foreseen = field(default_factory=lambda: Foreseen(ID))
    here: Scales = field(default_factory=Scales)
    asked: tuple[str, ...] = field(init=False)
    """The milestones that the protocol asks for."""

    def __post_init__(self) -> None:
        """Look them up once, and not for each pup."""
        names = get_args(MilestoneName)
        self.asked = tuple(name for name in names if self.yardstick.has(ID, f"{name}-until"))

    def take(self, entry: Entry) -> None:
        """Let one entry begin what is asked of a pup, answer it, or end it."""
        meant = self._meant(entry)
        self.here.take(entry)
        match entry.what:
            case Birth(pup=pup, state=state) if state != "dead":
                for name in self.asked:
                    self._ask(entry, pup, name, entry.at)
            case Death() | Milestone(milestone="left-home"):
                for pup in meant:
                    self.clocks.cut(entry, subject=pup_subject(pup))
            case Milestone(milestone=name):
                for pup in meant:
                    self.clocks.cut(entry, name, _late(name), subject=pup_subject(pup))
                    if name in _AGAIN and name in self.asked:
                        self._ask(entry, pup, name, entry.at)
            case _:
                pass

    def _meant(self, entry: Entry) -> list[int]:
        """The pups an entry is about that are here: one of them, or all."""
        named = getattr(entry.what, "pup", None)
        return [scale.pup for scale in self.here.here if named in {None, scale.pup}]

    def _ask(self, entry: Entry, pup: int, name: str, since: datetime) -> None:
        """Foresee what will be asked: first whether it is so, and later to ring the vet."""
        born, subject = self.here.pups[pup].birth.at, pup_subject(pup)
        end = born + self._span(f"{name}-until")
        if self.yardstick.has(ID, _late(name)):
            late = born + self._span(_late(name))
            self.clocks.plan(entry, _late(name), since=born, start=late, end=end, subject=subject)
            end = late
        self.clocks.plan(entry, name, since=since, end=end, subject=subject)

    def _span(self, name: str) -> timedelta:
        return span(self.yardstick, ID, name)


def _late(name: str) -> str:
    """The clock, and the setting, that say when the vet should hear of it."""
    return f"{name}-late"


def watch(story: Story, yardstick: Yardstick) -> Iterator[Spell]:
    """For each pup and each milestone, from the birth until it is written down."""
    pups = _Pups(yardstick)
    for entry in story.of(Birth, Death, Milestone):
        pups.take(entry)
    return pups.clocks.finish()


RULE = Rule(
    id=ID,
    group="each pup",
    title="Due for the pups",
    watch=watch,
    says={
        "cord-off": "Cord stump off (`cord off`)? Look at {subject}. Red, wet, swollen or smelly: "
        "ring the vet now.",
        "eyes-open": "Eyes open (`eyes open`)? Look at {subject}. Swollen lids or pus: ring the "
        "vet now.",
        "eyes-open-late": "Ring the vet: eyes not open yet, or not written down, in {subject}.",
        "ears-open": "Ears open (`ears open`)? Look at {subject}.",
        "ears-open-late": "Ring the vet: ears not open yet, or not written down, in {subject}.",
        "walking": "Walking (`walking`)? Watch {subject}. Legs that slide out sideways: ring the "
        "vet.",
        "walking-late": "Ring the vet: not walking yet, or not written down, in {subject}.",
        "toilet": "Urine and stool without help (`toilet`)? Watch {subject}. Swollen belly and no "
        "stool: ring the vet now.",
        "wormed": "Worming (`wormed`) is due for {subject}. Ask the vet what to give, and whether "
        "to the dam as well.",
        "vaccinated": "First vaccination (`vaccinated`): ask the vet for a day for {subject}. "
        "Newer advice begins at six weeks of age, older at eight.",
        "chipped": "A chip (`chip`) is due before leaving home for {subject}.",
    },
    do={Level.PROMPT: ("Write it down when it is so, for one pup or for all.",)},
    page=__doc__,
    on_board=False,
)

"""The whelping looks over and an afterbirth is still missing.

What it watches: the time since the last birth, once the whelping looks over and while any
afterbirth is owed. It looks over when `finished` is typed; or when the number of pups seen on an
x-ray or scan is born and she rests, which means a `rest` is written down or nothing has come for
the time called calm. A second clock runs at once when she also seems ill: a fever, a foul
discharge, dullness, new pushing after `finished`, or green or black discharge a day after the
last pup. "Not seen" is an answer and ends the first clock, but not the second: what was looked
for and never seen may still be inside her. That afterbirth counts until it is written down as
seen or eaten with the number of its pup, until a caesarean, or until a vet has seen her after
the last pup or called her finished.

Why it matters: most missing afterbirths were eaten or come by themselves within a day or two.
One that stays can lead to an infected womb, and that makes her very ill. So the count starts a
phone call, and signs of illness start the car.

What to do: count again with the bedding in your hands, and write down what you find: seen,
eaten, or not seen. Take her temperature. Do not give her anything to bring it out.

Example:
    02:00 pup
    02:30 finished
    #= 02:30 watch afterbirth-missing-at-end
    #= 06:00 call afterbirth-missing-at-end
    07:00 temp 39.8
    #= 07:00 go afterbirth-missing-at-end
    08:00 afterbirth
    #= 08:00 cleared afterbirth-missing-at-end
"""

from collections.abc import Iterator
from dataclasses import dataclass, field
from datetime import datetime

from boxlamp.model.entry import Entry
from boxlamp.model.happenings import (
    Afterbirth,
    Birth,
    Caesarean,
    Finished,
    VetContact,
    What,
)
from boxlamp.model.ledger import Debt
from boxlamp.model.levels import Level
from boxlamp.model.story import Story
from boxlamp.rules import ending, illness
from boxlamp.rules.ending import Ending
from boxlamp.rules.illness import Illness
from boxlamp.rules.rule import Rule
from boxlamp.rules.spell import Spell, Stopwatch, Yardstick, span

ID = "afterbirth-missing-at-end"
_KINDS: tuple[type[What], ...] = tuple(
    dict.fromkeys((*ending.KINDS, *illness.KINDS, Afterbirth, Caesarean, VetContact))
)
_COUNTED = (Birth, Afterbirth, Caesarean, VetContact, Finished)


@dataclass(eq=False, repr=False)
class _Picture:
    """How the whelping stands, how ill she looks, and whether a vet has seen how it ended."""

    state: Ending
    signs: Illness
    looked: bool = False
    """A vet has seen her since the last birth: the same look that ends ``vet-check-due``."""
    owed: list[Debt] = field(default_factory=list)
    """Afterbirths nobody has answered for."""
    unseen: list[Debt] = field(default_factory=list)
    """Afterbirths that were looked for and not seen, while no vet has judged that."""

    def take(self, entry: Entry) -> None:
        """Let one entry change the picture."""
        self.state.take(entry)
        self.signs.take(entry, self.state)
        if isinstance(entry.what, _COUNTED):
            self._count(entry)

    def _count(self, entry: Entry) -> None:
        """Say anew what is missing, after an entry that may have changed it."""
        match entry.what:
            case Birth():
                self.looked = self.state.litter.caesarean is not None
            case Caesarean() | VetContact(contact="seen" | "arrived") | Finished(by="vet" | "scan"):
                self.looked = True
            case _:
                pass
        ledger = self.state.litter.ledger
        unseen = [debt for debt in ledger.debts.values() if debt.answer == "not-seen"]
        self.owed, self.unseen = ledger.owed, [] if self.looked else unseen


@dataclass(eq=False, repr=False)
class _Clocks:
    """The clock since the last birth, and the one that signs of illness start."""

    main: Stopwatch = field(default_factory=lambda: Stopwatch(ID))
    ill: Stopwatch = field(default_factory=lambda: Stopwatch(ID, clock="ill"))

    def start(self, at: datetime | None, now: _Picture) -> None:
        """From ``at``, if that has come, run both clocks that should run."""
        reason, owed, unseen = now.state.reason, now.owed, now.unseen
        if at is None or reason is None:
            return
        if owed and not self.main.running:
            births = tuple(debt.birth.id for debt in owed if debt.birth is not reason)
            self.main.open(reason, at=at, since=now.state.litter.last_birth, also=births)
        if now.signs.standing and (owed or unseen) and not self.ill.running:
            *earlier, newest = now.signs.standing.values()
            answers = dict.fromkeys(debt.settled.id for debt in unseen if debt.settled)
            also = (*answers, *(sign.id for sign in earlier))
            self.ill.open(newest, at=at, since=newest.at, also=also, detail=now.signs.words)

    def stop(self, entry: Entry, now: _Picture) -> None:
        """Stop what is no longer true after this entry."""
        again = now.state.over is None
        if again or not now.owed:
            self.main.close(entry)
        settled = not now.owed and not now.unseen
        if again or settled or now.signs.words != self.ill.detail:
            self.ill.close(entry)


def watch(story: Story, yardstick: Yardstick) -> Iterator[Spell]:
    """From the end of the whelping, while afterbirths are owed or were never seen."""
    state = Ending(span(yardstick, ID, "calm"))
    now, clocks = _Picture(state, Illness(ID, yardstick)), _Clocks()
    for entry in story.of(*_KINDS):
        state.pass_to(entry.at)
        clocks.start(state.over, now)
        now.take(entry)
        clocks.stop(entry, now)
        if state.over is not None:
            clocks.start(entry.at, now)
    clocks.start(state.over or state.due, now)
    yield from clocks.main.finish()
    yield from clocks.ill.finish()


RULE = Rule(
    id=ID,
    group="afterbirths",
    title="Afterbirth missing at the end",
    watch=watch,
    says={
        "": "The whelping looks over and an afterbirth is missing, {elapsed} after the last pup.",
        "ill": "An afterbirth is missing and {detail}, written down {ago}.",
    },
    do={
        Level.WATCH: (
            "Look through the bedding and write down what you find: seen, eaten, or not seen.",
            "Take her temperature and write it down.",
        ),
        Level.CALL: (
            "Ring the vet now. Say how many are missing, when the last pup came, and how she is.",
            "Have her temperature and the colour of any discharge ready.",
        ),
        Level.GO: (
            "Leave for the vet now and ring on the way.",
            "Take the pups along, warm, in their own box.",
        ),
    },
    page=__doc__,
    running="Afterbirth still owed",
)

"""The afterbirth ledger: every pup owes one, and which afterbirth settled whose debt."""

from dataclasses import dataclass, field
from typing import Literal

from boxlamp.model.entry import Entry
from boxlamp.model.happenings import Afterbirth, Birth, Caesarean

IN_THE_LEDGER = frozenset({Birth, Afterbirth, Caesarean})
"""The kinds of happening that the ledger is about."""

Answer = Literal["owed", "seen", "eaten", "not-seen", "caesarean"]
"""``not-seen`` is an answer and settles the debt; ``owed`` is the absence of one."""


@dataclass
class Debt:
    """What one pup owes: its birth, the answer so far and the entry that gave it."""

    pup: int
    birth: Entry
    answer: Answer = "owed"
    settled: Entry | None = None


@dataclass
class Ledger:
    """Births on one side, afterbirths on the other. Feed it entries in canonical order.

    An afterbirth that names a pup settles that pup's debt, any other the oldest. One written
    down before its pup waits in ``surplus`` and settles the next birth. After a caesarean nothing
    is owed, for the pups before it or by it: the surgeon empties the womb (common practice).
    """

    debts: dict[int, Debt] = field(default_factory=dict)
    surplus: list[Entry] = field(default_factory=list)
    passed: int = 0
    """Afterbirths that were seen or eaten, whoever they belong to."""
    _by_caesarean: bool = False

    @property
    def owed(self) -> list[Debt]:
        """Debts without an answer, oldest first."""
        owing = (debt for debt in self.debts.values() if debt.answer == "owed")
        return sorted(owing, key=lambda debt: (debt.birth.at, debt.pup))

    def take(self, entry: Entry) -> None:
        """Let one entry change the ledger; entries of other kinds change nothing."""
        match entry.what:
            case Caesarean():
                self._by_caesarean = True
                for debt in self.owed:
                    debt.answer, debt.settled = "caesarean", entry
            case Birth(pup=number):
                self._born(number, entry)
            case Afterbirth() as afterbirth:
                self._settle(afterbirth, entry)
            case _:
                pass

    def _born(self, number: int, entry: Entry) -> None:
        debt = self.debts[number] = Debt(number, entry)
        if self._by_caesarean:
            debt.answer = "caesarean"
        elif self.surplus:
            debt.answer, debt.settled = "seen", self.surplus.pop(0)

    def _settle(self, afterbirth: Afterbirth, entry: Entry) -> None:
        seen = afterbirth.fate != "not-seen"
        self.passed += afterbirth.count if seen else 0
        for turn in range(afterbirth.count):
            debt = self._meant(afterbirth.of if turn == 0 else None)
            if debt is not None:
                debt.answer, debt.settled = afterbirth.fate, entry
            elif seen:
                self.surplus.append(entry)

    def _meant(self, pup: int | None) -> Debt | None:
        """The debt an afterbirth is meant for, or None when nothing is left to settle."""
        if pup is not None and pup in self.debts:
            named = self.debts[pup]
            # "Not seen" may turn into "found after all"; a settled one cannot come twice.
            return named if named.answer in {"owed", "not-seen"} else None
        return next(iter(self.owed), None)

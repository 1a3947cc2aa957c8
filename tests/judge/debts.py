"""Who owes an afterbirth, told once more from the catalogue.

One debt per pup from its birth; an afterbirth without a name settles the oldest; "eaten" and "not
seen" are answers; nothing is owed after a caesarean (reference page of ``afterbirth-owed``); one
that finds no debt waits and settles the next birth (reference page of ``afterbirth-surplus``).
"""

from dataclasses import dataclass, field

from boxlamp.model.happenings import Afterbirth, Birth, Caesarean, What


@dataclass
class Debts:
    """Pups that owe, oldest first; pups whose afterbirth was not seen; afterbirths to spare."""

    owing: list[int] = field(default_factory=list)
    unseen: list[int] = field(default_factory=list)
    spare: int = 0
    known: set[int] = field(default_factory=set)
    by_caesarean: bool = False

    def take(self, what: What) -> None:
        """Let one entry settle or make a debt."""
        if isinstance(what, Caesarean):
            self.owing, self.unseen, self.spare, self.by_caesarean = [], [], 0, True
        elif isinstance(what, Birth):
            self.known.add(what.pup)
            if self.spare and not self.by_caesarean:
                self.spare -= 1
            elif not self.by_caesarean:
                self.owing.append(what.pup)
        elif isinstance(what, Afterbirth):
            self._came(what.of if what.of in self.known else None, what.fate)
            for _ in range(what.count - 1):
                self._came(None, what.fate)

    def _came(self, pup: int | None, fate: str) -> None:
        """One afterbirth, of this pup or of nobody knows which."""
        there = fate != "not-seen"
        if pup is None and self.owing:
            pup = self.owing[0]
        if pup in self.owing:
            self.owing.remove(pup)
            self.unseen += [] if there else [pup]
        elif pup in self.unseen:
            self.unseen = [one for one in self.unseen if one != pup or not there]
        else:
            self.spare += there and not self.by_caesarean

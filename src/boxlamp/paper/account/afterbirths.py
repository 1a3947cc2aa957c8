"""The balance of births and afterbirths."""

from collections.abc import Iterable

from boxlamp.model.ledger import Answer
from boxlamp.model.litter import Litter
from boxlamp.paper.account.matter import Matter
from boxlamp.paper.account.models import Afterbirths


def afterbirths_of(matter: Matter) -> Afterbirths:
    """Who owes one, who answered how; pups are named by number, in order of birth.

    After a caesarean nothing is owed and none is too many: the womb was emptied by hand.
    """
    litter = matter.verdict.litter
    return Afterbirths(
        pups=litter.born,
        passed=litter.ledger.passed,
        owed_by=tuple(_answered(litter, "owed")),
        not_seen_of=tuple(_answered(litter, "not-seen")),
        with_caesarean=tuple(_answered(litter, "caesarean")),
        surplus=0 if litter.caesarean else len(litter.ledger.surplus),
    )


def _answered(litter: Litter, answer: Answer) -> Iterable[int]:
    return (pup.number for pup in litter.in_order if litter.afterbirth_of(pup.number) == answer)

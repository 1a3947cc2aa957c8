"""What an account is made from. Every builder of a part takes this and nothing else."""

from typing import NamedTuple

from boxlamp.engine import Assessment, Verdict
from boxlamp.model.entry import Entry


class Matter(NamedTuple):
    """One litter at one moment, judged.

    ``entries`` are all that had happened and been typed by then, as typed, in order of number;
    ``assessment`` is made of them and ``verdict`` is its answer for the moment. ``chain`` is the
    hash at the end of the litter's chain of all its entries, and ``kept`` how many those are.
    """

    litter: str
    zone: str
    entries: tuple[Entry, ...]
    assessment: Assessment
    verdict: Verdict
    chain: str
    kept: int

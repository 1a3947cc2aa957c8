"""What can go wrong: one module per trouble, and the plain list of them."""

from boxlamp.imagine.figures import KINDS
from boxlamp.imagine.troubles import (
    blocked,
    green_first,
    labour_fades,
    long_gap,
    no_first_milk,
    not_breathing,
    part_stuck,
    weak_labour,
)
from boxlamp.imagine.troubles.trouble import Trouble

ALL: tuple[Trouble, ...] = (
    weak_labour.TROUBLE,
    labour_fades.TROUBLE,
    long_gap.TROUBLE,
    blocked.TROUBLE,
    part_stuck.TROUBLE,
    green_first.TROUBLE,
    not_breathing.TROUBLE,
    no_first_milk.TROUBLE,
)
BY_NAME: dict[str, Trouble] = {trouble.name: trouble for trouble in ALL}
TROUBLES: tuple[str, ...] = tuple(BY_NAME)

_IN_KIND = {kind: sum(one.share for one in ALL if one.kind == kind) for kind in KINDS}
WEIGHTS: tuple[tuple[str, float], ...] = tuple(
    (one.name, KINDS[one.kind].value * one.share / _IN_KIND[one.kind]) for one in ALL
)
"""How often each is drawn: the share of its kind, and its own share in that."""

"""What can go wrong: one module per trouble, and the plain list of them."""

from math import fsum

from boxlamp.imagine.figures import KINDS
from boxlamp.imagine.troubles import (
    afterbirth_kept,
    afterbirths_late,
    bleeding,
    blocked,
    cold_dam,
    cold_pup,
    collapse,
    cord_bleeding,
    early_labour,
    fading_pup,
    fall_no_labour,
    fever_after,
    first_stage_stalls,
    foul_discharge,
    green_first,
    labour_fades,
    long_gap,
    low_calcium,
    no_first_milk,
    not_breathing,
    overdue,
    part_stuck,
    pup_left_behind,
    sac_no_pup,
    sore_udder,
    stuck_in_sac,
    two_stillborn,
    vomiting,
    waters_no_pup,
    weak_labour,
)
from boxlamp.imagine.troubles.trouble import Trouble

_MODULES = (
    # before and in labour
    overdue, early_labour, fall_no_labour, first_stage_stalls, waters_no_pup, weak_labour,
    labour_fades, long_gap, pup_left_behind,
    # a pup does not pass
    sac_no_pup, blocked, part_stuck, green_first,
    # the newborn
    not_breathing, stuck_in_sac, cord_bleeding, no_first_milk, cold_pup, fading_pup, two_stillborn,
    # the dam
    bleeding, afterbirths_late, afterbirth_kept, collapse, vomiting, cold_dam, fever_after,
    foul_discharge, sore_udder, low_calcium,
)  # fmt: skip
ALL: tuple[Trouble, ...] = tuple(module.TROUBLE for module in _MODULES)
"""Every trouble, in the order in which a whelping can meet them."""
BY_NAME: dict[str, Trouble] = {trouble.name: trouble for trouble in ALL}
TROUBLES: tuple[str, ...] = tuple(BY_NAME)

_IN_KIND = {kind: fsum(one.share for one in ALL if one.kind == kind) for kind in KINDS}
WEIGHTS: tuple[tuple[str, float], ...] = tuple(
    (one.name, KINDS[one.kind].value * one.share / _IN_KIND[one.kind]) for one in ALL
)
"""How often each is drawn: the share of its kind, and its own share in that."""

"""The registry: one line per rule, in the order of the catalogue."""

from boxlamp.rules import (
    afterbirth_missing_at_end,
    afterbirth_owed,
    afterbirth_surplus,
    afterbirths_behind,
    bleeding,
    contraction_no_pup,
    cord_bleeding,
    dam_cold,
    dam_collapse,
    dam_hot,
    dam_tremor,
    dam_vomiting,
    first_milk,
    first_stage_long,
    foul_discharge,
    gap_count_unknown,
    gap_more_expected,
    green_after_whelping,
    green_before_first_pup,
    labour_early,
    litter_short,
    log_quiet,
    not_breathing,
    overdue,
    part_showing,
    sac_no_pup,
    sac_on_pup,
    second_stage_long,
    temperature_back_no_labour,
    temperature_drop_no_labour,
    vet_check_due,
    waters_no_pup,
    weak_contraction_no_pup,
)
from boxlamp.rules.rule import Rule

RULES: tuple[Rule, ...] = (
    # before labour
    overdue.RULE,
    labour_early.RULE,
    temperature_drop_no_labour.RULE,
    temperature_back_no_labour.RULE,
    first_stage_long.RULE,
    # labour
    waters_no_pup.RULE,
    sac_no_pup.RULE,
    contraction_no_pup.RULE,
    weak_contraction_no_pup.RULE,
    part_showing.RULE,
    gap_more_expected.RULE,
    gap_count_unknown.RULE,
    second_stage_long.RULE,
    green_before_first_pup.RULE,
    bleeding.RULE,
    foul_discharge.RULE,
    log_quiet.RULE,
    litter_short.RULE,
    # afterbirths
    afterbirth_owed.RULE,
    afterbirths_behind.RULE,
    afterbirth_missing_at_end.RULE,
    afterbirth_surplus.RULE,
    # the dam
    dam_hot.RULE,
    dam_cold.RULE,
    dam_collapse.RULE,
    dam_tremor.RULE,
    dam_vomiting.RULE,
    green_after_whelping.RULE,
    vet_check_due.RULE,
    # each pup
    sac_on_pup.RULE,
    not_breathing.RULE,
    cord_bleeding.RULE,
    first_milk.RULE,
)

BY_ID: dict[str, Rule] = {rule.id: rule for rule in RULES}

NEVER_RELAXED: frozenset[str] = frozenset(rule.id for rule in RULES if rule.never_relaxed)

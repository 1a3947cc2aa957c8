"""The registry: one line per rule, in the order of the catalogue."""

from boxlamp.rules import (
    contraction_no_pup,
    dam_hot,
    waters_no_pup,
)
from boxlamp.rules.rule import Rule

RULES: tuple[Rule, ...] = (
    # labour
    waters_no_pup.RULE,
    contraction_no_pup.RULE,
    # the dam
    dam_hot.RULE,
)

BY_ID: dict[str, Rule] = {rule.id: rule for rule in RULES}

NEVER_RELAXED: frozenset[str] = frozenset(rule.id for rule in RULES if rule.never_relaxed)

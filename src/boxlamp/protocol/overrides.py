"""Changed limits: which changes are allowed, and what is wrong with the others."""

from collections.abc import Iterable, Mapping
from datetime import timedelta

from boxlamp.model.happenings import Limit
from boxlamp.model.levels import Level
from boxlamp.protocol.records import level_of

Spans = Mapping[tuple[str, str], Mapping[Level, timedelta]]
"""The limits in force, by rule and clock."""

Following = Mapping[tuple[str, str, Level], str]
"""The limits that always equal another rule's, by rule, clock and level."""


def loosens(limit: Limit, spans: Spans) -> bool:
    """Whether this change lets a clock run longer than ``spans`` do before that level."""
    standing = spans.get((limit.rule, limit.clock), {}).get(level_of(limit.level))
    return standing is None or timedelta(seconds=limit.seconds) > standing


def objections(
    limits: Iterable[Limit], spans: Spans, never_relaxed: frozenset[str], following: Following
) -> list[str]:
    """What is wrong with changing ``spans`` so, one sentence each; empty when it may be done."""
    found: list[str] = []
    merged = {key: dict(levels) for key, levels in spans.items()}
    for limit in limits:
        key = limit.rule, limit.clock
        if key not in merged:
            clocks = sorted(clock for rule, clock in merged if rule == limit.rule)
            found.append(
                f"{limit.rule}: it has no clock {limit.clock!r}, only {', '.join(clocks)}."
                if clocks
                else f"{limit.rule}: no rule of that name has a clock. See `boxlamp rules`."
            )
            continue
        leader = following.get((*key, level_of(limit.level)))
        if leader is not None:
            found.append(
                f"{limit.rule}: its {limit.level} always comes with that of {leader}. "
                f"Change {leader} instead."
            )
            continue
        if limit.rule in never_relaxed and loosens(limit, spans):
            found.append(
                f"{limit.rule}: this rule is never relaxed; {limit.level} may only come sooner."
            )
            continue
        merged[key][level_of(limit.level)] = timedelta(seconds=limit.seconds)
    for (rule, clock), levels in merged.items():
        if [levels[level] for level in sorted(levels)] != sorted(levels.values()):
            found.append(f"{rule} {clock}: a higher level would come before a lower one.")
    return found

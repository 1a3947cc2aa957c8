"""Changed limits: which changes are allowed, and what is wrong with the others."""

from collections.abc import Iterable
from datetime import timedelta

from boxlamp.model.happenings import Limit
from boxlamp.protocol.records import Protocol, level_of


def loosens(limit: Limit, protocol: Protocol) -> bool:
    """Whether this change lets a clock run longer than the protocol does before that level."""
    standing = protocol.spans.get((limit.rule, limit.clock), {}).get(level_of(limit.level))
    return standing is None or timedelta(seconds=limit.seconds) > standing


def objections(
    limits: Iterable[Limit], protocol: Protocol, never_relaxed: frozenset[str]
) -> list[str]:
    """What is wrong with these changes, one sentence each; empty when they may be used."""
    found: list[str] = []
    merged = {key: dict(levels) for key, levels in protocol.spans.items()}
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
        if limit.rule in never_relaxed and loosens(limit, protocol):
            found.append(
                f"{limit.rule}: this rule is never relaxed; {limit.level} may only come sooner."
            )
            continue
        merged[key][level_of(limit.level)] = timedelta(seconds=limit.seconds)
    for (rule, clock), levels in merged.items():
        if [levels[level] for level in sorted(levels)] != sorted(levels.values()):
            found.append(f"{rule} {clock}: a higher level would come before a lower one.")
    return found

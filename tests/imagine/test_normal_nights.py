"""A normal night is normal: nothing rings that has no cause in it.

How often the rest ring in normal nights is no promise but a finding: see
tests/benchmarks/imagined_nights.py.
"""

from collections import Counter

from boxlamp.imagine import imagine
from boxlamp.model.levels import Level
from support.nights import assessed

NIGHTS = range(150)
NEVER = {
    "afterbirth-surplus", "bleeding", "box-cold", "box-hot", "cord-bleeding", "dam-cold",
    "dam-collapse", "dam-off-food", "dam-tremor", "dam-vomiting", "foul-discharge",
    "green-after-whelping", "green-before-first-pup", "part-showing", "pup-cold", "pup-hot",
    "pup-sign", "udder", "vet-check-due", "viability", "weight-loss", "weight-stalled",
}  # fmt: skip


def rung() -> Counter[tuple[str, Level]]:
    """In how many nights each rule reached each level."""
    found: Counter[tuple[str, Level]] = Counter()
    for seed in NIGHTS:
        night = imagine(seed, trouble="none")
        steps = assessed(night.entries).history(night.ended)
        found.update({
            (step.rule.id, step.level) for step in steps
            if step.change in {"raised", "escalated"} and step.level >= Level.WATCH
        })  # fmt: skip
    return found


def test_nothing_rings_without_a_cause() -> None:
    """No blood, no pup in danger and no miscount of afterbirths in 150 normal nights; no fever.

    A healthy dam may be watched for her warmth, for the readings published of them reach so high;
    none is hot enough for a call.
    """
    found = rung()

    assert not {rule for rule, _ in found} & NEVER
    assert not {level for rule, level in found if rule == "dam-hot"} - {Level.WATCH}


def test_a_drive_is_rare() -> None:
    """In nine nights of ten nothing says go: what does is the far end of a published range."""
    go = Counter({rule: count for (rule, level), count in rung().items() if level is Level.GO})

    assert sum(go.values()) <= 0.15 * len(NIGHTS)
    assert set(go) <= {"contraction-no-pup", "weak-contraction-no-pup", "gap-more-expected"}

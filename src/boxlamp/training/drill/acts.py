"""What to do first: one right step among four, and the order behind it.

The right one comes from the rule's own steps or from the order of work with a newborn pup. The
wrong ones come later in that order, or belong to another trouble.
"""

from collections.abc import Iterable, Sequence
from typing import NamedTuple
from zlib import crc32

from boxlamp.model.entry import Entry
from boxlamp.model.happenings import Birth
from boxlamp.model.levels import Level
from boxlamp.rules.prompts import prompts_for
from boxlamp.rules.registry import RULES
from boxlamp.training.drill.night import PastNight, Rise

_OPTIONS = 4
_SAME_START = 2
# True at any time with any pup, so none of these is ever too early or too late.
_ANY_TIME = ("Keep it warm", "Watch for", "No swinging", "Not sure", "Put it aside", "Cord", "That",
             "Wash your", "Write `finished`")  # fmt: skip


class Act(NamedTuple):
    """Four steps, the place of the right one, and all the steps of that moment in order."""

    options: tuple[str, ...]
    right: int
    steps: tuple[str, ...]
    rule: str | None = None
    """The rule the steps are of; none for the order of work at a birth."""


def act_of_birth(night: PastNight, entry: Entry) -> Act | None:
    """The first thing to do for a pup just born alive; nothing after a caesarean."""
    if not isinstance(entry.what, Birth) or entry.what.state == "dead":
        return None
    litter = night.verdict(entry.recorded).litter
    if litter.caesarean is not None or litter.last_birth != entry.at:
        return None
    steps = prompts_for(entry, litter)
    # The step after the first may be done in the same breath, so it is never offered as wrong.
    later = [step for step in steps[2:] if not step.startswith(_ANY_TIME)]
    return _act(steps, later[:: max(1, len(later) // 3)], seed=str(entry.recorded))


def act_of_alert(night: PastNight, rise: Rise | None) -> Act | None:
    """The first thing to do where a level has just been reached."""
    if rise is None or rise.rule.urgency == "records":
        return None
    alerts = [one for one in night.verdict(rise.at).alerts if one.rule.id == rise.rule.id]
    steps = rise.rule.steps(rise.level)
    if not alerts or not steps:
        return None
    seed = f"{rise.rule.id} {rise.at}"
    wrong = [*steps[1:2], *_shuffled(_of_others(rise), seed)]
    act = _act(steps, wrong, seed=seed)
    return act and act._replace(rule=rise.rule.id)


def _of_others(rise: Rise) -> list[str]:
    """First steps of rules about something else, at a level that sends nobody to the vet."""
    own = {step for level in Level for step in rise.rule.steps(level)}
    found = (
        rule.steps(Level.WATCH)[0]
        for rule in RULES
        if rule.group != rise.rule.group and Level.WATCH in rule.do
    )
    return [step for step in dict.fromkeys(found) if step not in own]


def _act(steps: Sequence[str], wrong: Iterable[str], *, seed: str) -> Act | None:
    """The question, when there are enough different steps for one."""
    if not steps:
        return None
    chosen = [steps[0]]
    for step in wrong:
        alike = {_start(step)} & {_start(one) for one in chosen}
        if len(chosen) < _OPTIONS and not alike:
            chosen.append(step)
    if len(chosen) < _OPTIONS:
        return None
    options = _shuffled(chosen, seed)
    return Act(tuple(options), options.index(steps[0]), tuple(steps))


def _start(step: str) -> tuple[str, ...]:
    return tuple(step.split()[:_SAME_START])


def _shuffled(steps: Iterable[str], seed: str) -> list[str]:
    """In an order that looks like none and is always the same."""
    return sorted(steps, key=lambda step: crc32(f"{seed} {step}".encode()))

"""What to do first: one right step among four, and the order behind it.

Asked only where one step alone can be defended: at a birth in the sac or of a limp pup, and
where a single alert stands at the worst level and its first step is work with the hands.
"""

from collections.abc import Iterable, Sequence
from datetime import timedelta
from typing import NamedTuple
from zlib import crc32

from boxlamp.engine import Alert, Verdict
from boxlamp.model.entry import Entry
from boxlamp.model.happenings import Birth, Temperature, Waters
from boxlamp.rules.prompts import prompts_for
from boxlamp.training.drill.mistakes import MISTAKES
from boxlamp.training.drill.night import PastNight
from boxlamp.training.drill.rises import Rise

_OPTIONS = 4
_MEASURED = timedelta(hours=1)
# True at any time with any pup, so none of these is ever too early or too late.
_ANY_TIME = ("Keep it warm", "Watch for", "No swinging", "Not sure", "Put it aside", "Cord", "That",
             "Wash your", "Write `finished`", "Open the sac, if")  # fmt: skip
_TELEPHONE = ("Ring the vet", "Leave for the vet", "Tell the vet")


class Act(NamedTuple):
    """Four steps, the place of the right one, and all the steps of that moment in order."""

    options: tuple[str, ...]
    right: int
    steps: tuple[str, ...]
    rule: str | None = None
    """The rule the steps are of; none for the order of work at a birth."""


def act_of_birth(night: PastNight, entry: Entry) -> Act | None:
    """The first thing to do for a pup born alive in its sac, or limp; none after a caesarean."""
    what = entry.what
    if not isinstance(what, Birth) or what.state == "dead":
        return None
    if not (what.in_sac or what.state == "limp") or entry.at != entry.recorded:
        return None
    litter = night.verdict(entry.recorded).litter
    if litter.caesarean is not None or what.pup not in litter.pups:
        return None
    steps = [step for step in prompts_for(entry, litter) if not step.startswith(_ANY_TIME)]
    # Out of the sac the airway comes next, in the same breath, so it is never offered as wrong.
    later = steps[2:] if what.in_sac else steps[1:]
    return _act(steps, later, seed=str(entry.recorded))


def act_of_alert(night: PastNight, rise: Rise, known: Verdict) -> Act | None:
    """The first thing to do where a level was reached and nothing else stands as high."""
    worst = [one for one in known.alerts if one.level == known.worst]
    if len(worst) != 1 or worst[0].rule.id != rise.rule.id or rise.rule.id not in MISTAKES:
        return None
    steps = rise.rule.steps(worst[0].level)
    if not steps or steps[0].startswith(_TELEPHONE) or _is_done(worst[0], known):
        return None
    act = _act(steps, MISTAKES[rise.rule.id], seed=f"{rise.rule.id} {rise.at} {night.begins}")
    return act and act._replace(rule=rise.rule.id)


def _is_done(alert: Alert, known: Verdict) -> bool:
    """Whether the first step asks for something that is already written down."""
    if alert.rule.id == "waters-no-pup":
        seen = known.story.last(Waters)
        return seen is not None and isinstance(seen.what, Waters) and seen.what.colour != "unknown"
    if alert.rule.id == "dam-hot":  # "take it again"
        taken = [one for one in known.story.of(Temperature) if one.id not in alert.entries]
        return any(alert.raised < one.at > known.at - _MEASURED for one in taken)
    return False


def _act(steps: Sequence[str], wrong: Iterable[str], *, seed: str) -> Act | None:
    """The question, when there are enough different steps for one."""
    if not steps:
        return None
    chosen = [*steps[:1], *(step for step in wrong if step not in steps[:1])][:_OPTIONS]
    if len(chosen) < _OPTIONS:
        return None
    options = sorted(chosen, key=lambda step: crc32(f"{seed} {step}".encode()))
    return Act(tuple(options), options.index(steps[0]), tuple(steps))

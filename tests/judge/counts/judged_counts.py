"""Which rules this judge decides, and how; and why it leaves the others to another."""

from boxlamp.model.happenings import (
    Afterbirth,
    Birth,
    Caesarean,
    Contraction,
    DamState,
    Death,
    Details,
    Discharge,
    Expect,
    Feed,
    Finished,
    Limit,
    Mating,
    Milestone,
    Ovulation,
    Part,
    PupState,
    Reflexes,
    Rest,
    Sac,
    Scan,
    Score,
    Settled,
    Sign,
    Step,
    Temperature,
    Treatment,
    VetContact,
    Waters,
    Weight,
    What,
)
from judge.counts import aftercare, dam, pups, scale, signs, term
from judge.counts.clips_judge import CLIPS_RULES
from judge.counts.compare import Judge

_OVER: tuple[type[What], ...] = (
    Birth, Contraction, Waters, Sac, Part, Caesarean, Finished,
)  # fmt: skip
_COUNT: tuple[type[What], ...] = (Expect, Scan, Details, Limit)

_PUP: tuple[type[What], ...] = (Birth, Death, Milestone)

_TERM: tuple[type[What], ...] = (Mating, Ovulation, Scan, Details)

_EVERY = (
    Judge("dam-collapse", dam.collapse, (DamState,)),
    Judge("dam-tremor", dam.tremor, (*_OVER, DamState)),
    Judge("dam-vomiting", dam.vomiting, (DamState, Sign)),
    Judge("dam-hot", dam.hot, (*_OVER, Sign, Temperature, DamState, Discharge,
                               Death, Milestone)),
    Judge("dam-cold", dam.cold, (*_OVER, Temperature, DamState)),
    Judge("foul-discharge", dam.foul, (Discharge, DamState, Temperature)),
    Judge("bleeding", dam.bleeding, (*_COUNT, Discharge, DamState)),
    Judge("green-after-whelping", dam.green_after, (Birth, Discharge)),
    Judge("lochia-long", dam.lochia, (Birth, Caesarean, Finished, Discharge)),
    Judge("udder", dam.udder, (*_OVER, DamState)),
    Judge("eclampsia-window", dam.eclampsia, (*_PUP, Caesarean, Finished, Details, Weight),
          reminder=True),
    Judge("afterbirths-behind", aftercare.behind, (Birth, Afterbirth, Caesarean)),
    Judge("afterbirth-surplus", aftercare.surplus, (Birth, Afterbirth, Caesarean)),
    Judge("afterbirth-missing-at-end", aftercare.missing_at_end,
          (*_OVER, *_COUNT, Afterbirth, Rest, Temperature, Discharge, DamState, VetContact)),
    Judge("litter-short", aftercare.litter_short, (*_OVER, *_COUNT)),
    Judge("vet-check-due", aftercare.vet_check,
          (Birth, Finished, Afterbirth, Caesarean, PupState, Death, Treatment, VetContact)),
    Judge("viability", pups.viability,
          (*_PUP, Score, Reflexes, PupState, Temperature, Feed, Step)),
    Judge("viability", pups.viability_reminders, (*_PUP, Score, PupState), reminder=True),
    Judge("pup-cold", pups.cold, (*_PUP, Temperature)),
    Judge("pup-cold", pups.cold_reminders, (*_PUP, Temperature), reminder=True),
    Judge("pup-hot", pups.hot, (*_PUP, Temperature)),
    Judge("pup-hot", pups.hot_reminders, (*_PUP, Temperature), reminder=True),
    Judge("box-cold", pups.box_cold, (*_PUP, Temperature)),
    Judge("box-hot", pups.box_hot, (*_PUP, Temperature)),
    Judge("litter-losses", pups.losses, (*_PUP, VetContact)),
    Judge("birth-weight", scale.birth_weight, (*_PUP, Details, Weight)),
    Judge("weight-loss", scale.loss, (*_PUP, Weight)),
    Judge("weight-stalled", scale.stalled, (*_PUP, Weight)),
    Judge("weight-slow", scale.slow, (*_PUP, Weight)),
    Judge("not-doubled", scale.not_doubled, (*_PUP, Weight)),
    Judge("litter-slow", scale.litter_slow, (*_PUP, Weight)),
    Judge("weighing-due", scale.weighing_due, (*_OVER, Death, Milestone, Details, Weight),
          reminder=True),
    Judge("overdue", term.overdue, (*_TERM, Birth, Caesarean, Finished), besides=term.midnights),
    Judge("labour-early", term.labour_early,
          (*_TERM, *_OVER, Sign, Settled), besides=term.midnights),
    Judge("temperature-due", term.temperature_due, (*_TERM, *_OVER, Temperature), reminder=True,
          besides=term.midnights),
    Judge("pup-sign", signs.signs,
          (*_PUP, PupState, Step, Feed, Temperature, VetContact)),
    Judge("milestone-due", term.milestone_due, _PUP, reminder=True),
)  # fmt: skip
JUDGES = _EVERY
BY_RULE = {rule: [judge for judge in JUDGES if judge.rule == rule]
           for rule in dict.fromkeys(judge.rule for judge in JUDGES)}  # fmt: skip

_CLOCK = "a clock: left to the judge in temporal logic"
LEFT = dict.fromkeys(
    (
        "temperature-drop-no-labour", "temperature-back-no-labour", "first-stage-long",
        "waters-no-pup", "sac-no-pup", "contraction-no-pup", "rest-no-pup",
        "weak-contraction-no-pup", "weak-rest-no-pup", "part-showing", "gap-more-expected",
        "gap-count-unknown", "second-stage-long",
        "green-before-first-pup", "log-quiet", "afterbirth-owed", "dam-off-food", "sac-on-pup",
        "not-breathing", "cord-bleeding", "first-milk", "nursing-gap",
    ),
    _CLOCK,
)  # fmt: skip
"""The rules that this judge does not decide, each with the reason."""


def _how(rule: str) -> str:
    ways = ["slow judge: at any instant, from the entries up to it"]
    ways += ["reminders too"] if any(judge.reminder for judge in BY_RULE[rule]) else []
    ways += ["CLIPS: after each entry"] if rule in CLIPS_RULES else []
    return "; ".join(ways)


JUDGED_COUNTS = {rule: _how(rule) for rule in BY_RULE} | LEFT
"""Every rule of the registry: how it is judged here, or why it is not."""

"""Who judges which rule: every rule of the catalogue stands here exactly once.

``formula``: told a second time in temporal logic, in this room. ``evaluator``: a reading, a count
or a threshold of numbers, for which a formula would only repeat arithmetic; a slow and obvious
evaluator tells it a second time. Anything else is a reason why neither does.
"""

from judge.verdicts import JUDGED

_ARITHMETIC: dict[str, str] = {
    "overdue": "evaluator",
    "labour-early": "evaluator",
    "dam-hot": "evaluator",
    "dam-cold": "evaluator",
    "dam-vomiting": "evaluator",
    "eclampsia-window": "evaluator",
    "temperature-due": "evaluator",
    "viability": "evaluator",
    "pup-cold": "evaluator",
    "pup-hot": "evaluator",
    "pup-sign": "evaluator",
    "litter-losses": "evaluator",
    "birth-weight": "evaluator",
    "weight-loss": "evaluator",
    "weight-stalled": "evaluator",
    "weight-slow": "evaluator",
    "not-doubled": "evaluator",
    "litter-slow": "evaluator",
    "weighing-due": "evaluator",
    "milestone-due": "evaluator",
    "box-cold": "evaluator",
    "box-hot": "evaluator",
}

HOW: dict[str, str] = dict.fromkeys(sorted(JUDGED), "formula") | _ARITHMETIC
"""Rule id, and how it is judged: ``formula``, ``evaluator``, or the reason why by neither."""

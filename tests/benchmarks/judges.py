"""The engine beside the two outside judges, on the same nights with the same verdicts.

Each judge is held against the engine running only the rules which that judge decides, and it is
looked up first that both say the same of every night; otherwise a time would mean nothing.
Processor time of this process. Usage: python tests/benchmarks/judges.py [NIGHTS]
"""

import statistics
import sys
import time
from collections.abc import Callable
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parents[1]))

from judge.counts.clips_judge import CLIPS_RULES, verdicts
from judge.engine_says import engine_says
from judge.verdicts import JUDGED, judge
from support.nights import DEFAULT

from boxlamp.engine import assess
from boxlamp.imagine import imagine
from boxlamp.model.levels import Level
from boxlamp.model.story import Story
from boxlamp.rules.registry import BY_ID, RULES

NIGHTS, RUNS = 12, 3
NEVER_RELAXED = frozenset(rule.id for rule in RULES if rule.never_relaxed)
BY_FORMULA = tuple(rule for rule in RULES if rule.id in JUDGED)
BY_CLIPS = tuple(BY_ID[rule] for rule in CLIPS_RULES)


def measure(nights: int = NIGHTS) -> dict[str, float]:
    """Milliseconds of a night for each, and how many times the engine's own a judge takes."""
    stories = [Story(imagine(seed).entries) for seed in range(nights)]
    for story in stories:
        _agree(story)
    # A story keeps what was found in it once: every run begins with a new one.
    told = [story.entries for story in stories]
    formulas = _spent(lambda: [judge(Story(one), DEFAULT, NEVER_RELAXED) for one in told])
    engine = _spent(lambda: [engine_says(assess(Story(one), DEFAULT, BY_FORMULA)) for one in told])
    clips = _spent(lambda: [verdicts(Story(one)) for one in told])
    counts = _spent(lambda: [assess(Story(one), DEFAULT, BY_CLIPS).lives for one in told])
    return {
        "nights": nights,
        "entries of a night, mean": statistics.fmean(map(len, told)),
        "rtamt, ms": 1000 * formulas / nights,
        "engine, the rules told in formulas, ms": 1000 * engine / nights,
        "rtamt / engine": formulas / engine,
        "CLIPS, ms": 1000 * clips / nights,
        "engine, the rules told to CLIPS, ms": 1000 * counts / nights,
        "CLIPS / engine": clips / counts,
    }


def _agree(story: Story) -> None:
    """Look up that engine and judges say the same of a night. Raises ValueError."""
    if judge(story, DEFAULT, NEVER_RELAXED) != engine_says(assess(story, DEFAULT, BY_FORMULA)):
        raise ValueError("rtamt and the engine disagree; see tests/judge")
    assessment = assess(story, DEFAULT, BY_CLIPS)
    for at, said in verdicts(story):
        alerts = assessment.verdict(at).alerts
        engine: dict[tuple[str, str], Level] = {
            (one.rule.id, one.subject): one.level for one in alerts
        }
        if engine != said:
            raise ValueError(f"CLIPS and the engine disagree at {at}; see tests/judge/counts")


def _spent(work: Callable[[], object]) -> float:
    seen = []
    for _ in range(RUNS):
        begun = time.process_time()
        work()
        seen.append(time.process_time() - begun)
    return statistics.median(seen)


if __name__ == "__main__":
    for name, figure in measure(int(sys.argv[1]) if len(sys.argv) > 1 else NIGHTS).items():
        sys.stdout.write(f"{name:<44}{figure:>10.2f}\n")

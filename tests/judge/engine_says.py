"""What the engine says of a story, in the judge's form."""

from datetime import UTC, datetime

from boxlamp.engine import Assessment
from boxlamp.model.levels import Level
from judge.verdicts import Change, Subject

FOREVER = datetime.max.replace(tzinfo=UTC)


def engine_says(assessment: Assessment) -> dict[Subject, tuple[Change, ...]]:
    """The level that stands, from second to second where it changes, by rule and subject."""
    found: dict[Subject, list[Change]] = {}
    for step in assessment.history(FOREVER):
        if step.change == "acknowledged":
            continue
        mine = found.setdefault((step.rule.id, step.subject), [])
        if mine and mine[-1][0] == step.at:
            mine.pop()
        mine.append((step.at, "-" if step.change == "cleared" else step.level.word))
    return {key: tuple(mine) for key, mine in (found | _prompts(assessment)).items() if mine}


def _prompts(assessment: Assessment) -> dict[Subject, list[Change]]:
    """When a reminder of a rule about a subject begins and ends to be shown."""
    turns: dict[Subject, dict[datetime, int]] = {}
    for own in assessment.standings:
        if own.level is Level.PROMPT:
            mine = turns.setdefault((f"{own.spell.rule} (prompt)", own.spell.subject), {})
            mine[own.start] = mine.get(own.start, 0) + 1
            if own.end is not None:
                mine[own.end] = mine.get(own.end, 0) - 1
    found: dict[Subject, list[Change]] = {}
    for key, mine in turns.items():
        many, shown = 0, "-"
        for moment in sorted(mine):
            many += mine[moment]
            now = "prompt" if many else "-"
            if now != shown:
                found.setdefault(key, []).append((moment, now))
            shown = now
    return found

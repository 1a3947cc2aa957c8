"""Night logs that are their own tests: read them, run the engine, compare what they expect."""

from dataclasses import dataclass
from datetime import datetime, timedelta
from importlib.resources import files
from pathlib import Path

from boxlamp.engine import Assessment, assess
from boxlamp.language import Expected, Night, read_night
from boxlamp.model.entry import Entry
from boxlamp.model.levels import Level
from boxlamp.model.story import Story
from boxlamp.protocol.records import Protocol, read_protocol

CASES = Path(__file__).parents[1] / "cases"
DEMO = Path(__file__).parents[2] / "demo"
SECOND = timedelta(seconds=1)
WORDS = {"prompt": Level.PROMPT, "watch": Level.WATCH, "call": Level.CALL, "go": Level.GO}

DEFAULT: Protocol = read_protocol(
    files("boxlamp.protocol").joinpath("default.toml").read_text(encoding="utf-8")
)


@dataclass(frozen=True)
class Case:
    """One night of a case file: its name, its text, and the rule it is about, if only one."""

    name: str
    text: str
    rule: str | None = None

    @property
    def night(self) -> Night:
        """The night read from the text."""
        return read_night(self.text, source=self.name)


def chapters(path: Path, rule: str | None = None) -> list[Case]:
    """The nights of a file. A line ``#--- title`` begins another one."""
    found: list[Case] = []
    title, lines = path.stem, list[str]()
    for line in [*path.read_text(encoding="utf-8").splitlines(), "#---"]:
        if line.startswith("#---"):
            if any(kept and not kept.startswith("#") for kept in lines):
                found.append(Case(f"{path.stem}: {title}", "\n".join(lines) + "\n", rule))
            title, lines = line[4:].strip(), []
        else:
            lines.append(line)
    return found


def assessed(entries: tuple[Entry, ...]) -> Assessment:
    """What the default protocol makes of these entries."""
    return assess(Story(entries), DEFAULT)


def steps_of(night: Night, rule: str | None, least: Level) -> set[tuple[str, str, str, str]]:
    """Raisings and escalations of a night as (time, level, rule, subject)."""
    history = assessed(night.entries).history(_end(night))
    return {
        (step.at.isoformat(), step.level.word, step.rule.id, step.subject)
        for step in history
        if step.change in {"raised", "escalated"}
        and step.level >= least
        and rule in {None, step.rule.id}
    }


def check(case: Case, least: Level = Level.WATCH) -> None:
    """A night raises exactly what it says, to the second, and clears what it says is cleared.

    Everything raised at ``least`` or above must be written down in the file; a lower level only
    has to be there when the file says so.
    """
    night = case.night
    raised = steps_of(night, case.rule, Level.WATCH)
    expected = [line for line in night.expected if line.change == "raised" and line.at is not None]
    wanted = [line for line in expected if line.level != "prompt"]
    for line in wanted:
        assert any(_matches(line, step) for step in raised), (
            f"{case.name}: expected {line}, got\n" + _listing(raised)
        )
    for step in raised:
        if WORDS[step[1]] >= least:
            assert any(_matches(line, step) for line in wanted), (
                f"{case.name}: not expected: {step}; all:\n" + _listing(raised)
            )
    _check_cleared(case, night)
    _check_none(case, night)
    _check_seconds(case, night, wanted)
    for line in expected:
        if line.level == "prompt":
            _check_prompt(case, night, line)


def _check_prompt(case: Case, night: Night, line: Expected) -> None:
    """A reminder begins to be shown at its second."""
    assert line.at is not None
    before, at = (_prompts(night, line, line.at - gap) for gap in (SECOND, timedelta(0)))
    assert at > before, f"{case.name}: expected {line}"


def _prompts(night: Night, line: Expected, moment: datetime) -> int:
    """How many reminders of this rule, and of this subject if one is named, stand at a moment."""
    verdict = assess(Story(night.entries).until(moment), DEFAULT).verdict(moment)
    return sum(
        prompt.rule.id == line.rule and line.subject in {None, prompt.subject}
        for prompt in verdict.prompts
    )


def _check_cleared(case: Case, night: Night) -> None:
    history = assessed(night.entries).history(_end(night))
    for line in night.expected:
        if line.change == "cleared":
            assert any(
                step.change == "cleared"
                and step.at == line.at
                and step.rule.id == line.rule
                and line.subject in {None, step.subject}
                for step in history
            ), f"{case.name}: expected {line}"


def _check_none(case: Case, night: Night) -> None:
    for line in night.expected:
        if line.at is None:
            least = WORDS[line.level or "watch"]
            found = steps_of(night, line.rule or case.rule, max(least, Level.WATCH))
            if least is Level.PROMPT:
                moments = {entry.at for entry in night.entries} | {_end(night)}
                assert not any(_prompts(night, line, moment) for moment in moments), case.name
            assert not found, f"{case.name}: nothing of {line.level} expected, got\n" + _listing(
                found
            )


def _check_seconds(case: Case, night: Night, wanted: list[Expected]) -> None:
    """One second before, the level does not stand yet; at the second and one after, it does."""
    story = Story(night.entries)
    for line in wanted:
        if line.at is None or line.rule is None:
            continue
        level = WORDS[line.level or "watch"]
        for offset, stands in ((-SECOND, False), (timedelta(0), True)):
            moment = line.at + offset
            verdict = assess(story.until(moment), DEFAULT).verdict(moment)
            found = any(
                alert.rule.id == line.rule
                and alert.level >= level
                and line.subject in {None, alert.subject}
                for alert in verdict.alerts
            )
            alone = line.subject is not None or not _others(night, line)
            if stands or alone:
                assert found == stands, f"{case.name}: {line} one second off at {offset}"


def _others(night: Night, line: Expected) -> bool:
    """Whether the same rule is also expected of another subject, so that 'any' is ambiguous."""
    return sum(other.rule == line.rule for other in night.expected) > 1


def _matches(line: Expected, step: tuple[str, str, str, str]) -> bool:
    at, level, rule, subject = step
    return (
        line.at is not None
        and line.at.isoformat() == at
        and line.level == level
        and line.rule == rule
        and line.subject in {None, subject}
    )


def _end(night: Night) -> datetime:
    """How far a night is looked at: to its last entry or expectation, whichever is later."""
    moments = [entry.at for entry in night.entries]
    return max(moments + [line.at for line in night.expected if line.at is not None])


def _listing(steps: set[tuple[str, str, str, str]]) -> str:
    return "\n".join("  " + " ".join(step) for step in sorted(steps))

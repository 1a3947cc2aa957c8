"""One drill as it goes: the stops ahead, the answers given, what is said after each."""

from collections.abc import Iterable
from dataclasses import dataclass, field
from datetime import datetime
from typing import NamedTuple

from boxlamp.training.drill.asking import act_of, entry_of, level_said, step_said
from boxlamp.training.drill.feedback import act_lines, level_lines
from boxlamp.training.drill.lines import LineMark, hint_lines, line_lines, mark_line
from boxlamp.training.drill.marking import LevelMark, mark_level
from boxlamp.training.drill.night import Choice, PastNight
from boxlamp.training.drill.points import Stop


class ActMark(NamedTuple):
    """Whether the right step was chosen first."""

    at: datetime
    right: bool
    rule: str | None
    level: str = ""
    """The level that had been reached."""


@dataclass
class Sitting:
    """The answers to the stops of one night. Nothing here reads a clock or a keyboard."""

    night: PastNight
    stops: tuple[Stop, ...]
    levels: dict[datetime, LevelMark] = field(default_factory=dict)
    acts: list[ActMark] = field(default_factory=list)
    lines: list[LineMark] = field(default_factory=list)

    @property
    def answered(self) -> int:
        """How many stops have been answered."""
        return len(self.levels) + len(self.acts) + len(self.lines)

    @property
    def finished(self) -> bool:
        """Whether every stop has been answered."""
        return self.answered == len(self.stops)

    def hint(self, stop: Stop, answer: str) -> Iterable[str]:
        """What to say before one more try; nothing where the answer is to be taken as it is."""
        if stop.kind != "line":
            return ()
        mark = mark_line(self.night, entry_of(self.night, stop), answer)
        return () if mark.right or not mark.hint else tuple(hint_lines(mark))

    def take(self, stop: Stop, answer: str) -> Iterable[str]:
        """Mark an answer that fits the question, and say how it was."""
        if stop.kind == "level":
            chosen = level_said(answer)
            mark = mark_level(self.night, stop.at, chosen or Choice.CARRY_ON)
            self.levels[stop.at] = mark
            return level_lines(self.night, mark)
        if stop.kind == "act":
            return self._take_act(stop, answer)
        typed = mark_line(self.night, entry_of(self.night, stop), answer)
        self.lines.append(typed)
        return line_lines(typed)

    def _take_act(self, stop: Stop, answer: str) -> Iterable[str]:
        act, chosen = act_of(self.night, stop), step_said(answer)
        place = -1 if chosen is None else chosen
        level = "" if stop.rise is None else stop.rise.level.word
        self.acts.append(ActMark(stop.at, place == act.right, act.rule, level))
        return act_lines(act, place)


def right_answer(night: PastNight, stop: Stop) -> str:
    """What the engine, the rule or the night itself would answer; for tests and for teachers."""
    from boxlamp.language import say

    if stop.kind == "level":
        return night.right(stop.at).word
    if stop.kind == "act":
        return str(act_of(night, stop).right + 1)
    return say(entry_of(night, stop).what)

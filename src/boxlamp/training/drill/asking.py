"""The questions of a drill, and how answers to them are read."""

from collections.abc import Iterator

from boxlamp.model.entry import Entry
from boxlamp.model.happenings import Birth
from boxlamp.training.drill.acts import Act, act_of_alert, act_of_birth
from boxlamp.training.drill.night import Choice, PastNight
from boxlamp.training.drill.points import Stop
from boxlamp.training.drill.scenes import scene
from boxlamp.view.text import clean

EXPLAIN, PASS = "?", "-"
LEAVE = frozenset(("q", "quit", "exit"))
STORY = frozenset(("l", "log", "story"))
UNCHANGED = (
    "Your answers do not change the night. At each stop say what this very moment asks for, as "
    "if you had not rung yet."
)
_WORDS = {
    **{str(choice + 1): choice for choice in Choice},
    **{choice.word: choice for choice in Choice},
    "carry": Choice.CARRY_ON,
    "carry-on": Choice.CARRY_ON,
    "go on": Choice.CARRY_ON,
    "wait": Choice.CARRY_ON,
    "ring": Choice.CALL,
    "phone": Choice.CALL,
    "ring the vet": Choice.CALL,
    "call vet": Choice.CALL,
    "call the vet": Choice.CALL,
}
_FITS = {
    "level": "carry on, watch, call or go; or 1, 2, 3, 4",
    "act": "a number from 1 to 4, or - when you do not know",
    "line": "the line you would type, or - when you do not know",
}


def question_lines(night: PastNight, stop: Stop) -> Iterator[str]:
    """What is asked at a stop."""
    if stop.kind == "level":
        yield "What now?   1 carry on   2 watch   3 call   4 go"
        return
    if stop.kind == "act":
        if stop.rise is None:
            yield f"Now: {_at_first_sight(entry_of(night, stop))}"
        yield "What do you do first?"
        options = enumerate(act_of(night, stop).options, start=1)
        yield from (f"  {number}  {clean(option)}" for number, option in options)
        return
    yield _now(entry_of(night, stop))
    yield "What do you type into the log?"


def _at_first_sight(entry: Entry) -> str:
    """The scene before anybody has weighed or marked anything."""
    bare = entry.what.model_copy(update={"weight": None, "mark": None})
    return scene(entry.model_copy(update={"what": bare})) or ""


def _now(entry: Entry) -> str:
    """The scene to be typed. With a newborn pup hands come before the pen."""
    told, what = scene(entry) or "", entry.what
    if isinstance(what, Birth) and what.state == "limp":
        return f"As soon as a hand is free, you write it down: {told}"
    if isinstance(what, Birth) and what.in_sac and what.state != "dead":
        return f"Once it breathes and is dry, you write it down: {told}"
    return f"Now: {told}"


def entry_of(night: PastNight, stop: Stop) -> Entry:
    """The line of the night a question is made of."""
    return next(entry for entry in night.entries if entry.id == stop.entry)


def act_of(night: PastNight, stop: Stop) -> Act:
    """The four steps of a stop that asks for the first thing to do."""
    made = (
        act_of_alert(night, stop.rise, night.verdict(stop.at))
        if stop.rise is not None
        else act_of_birth(night, entry_of(night, stop))
    )
    if made is None:
        raise LookupError(f"nothing to do is asked at {stop.at}")
    return made


def level_said(answer: str) -> Choice | None:
    """The level an answer names, by its word, the beginning of it, or its number."""
    said = " ".join(answer.casefold().split())
    return _WORDS.get(said)


def step_said(answer: str) -> int | None:
    """The place of the step an answer names, from 0; -1 for not knowing."""
    said = answer.strip()
    if said == PASS:
        return -1
    return int(said) - 1 if said in {"1", "2", "3", "4"} else None


def fits(stop: Stop, answer: str) -> bool:
    """Whether an answer is one that this question can have."""
    if stop.kind == "level":
        return level_said(answer) is not None
    return bool(answer.strip()) if stop.kind == "line" else step_said(answer) is not None


def what_fits(stop: Stop) -> str:
    """What can be answered to this question."""
    return _FITS[stop.kind]


def help_lines(stop: Stop) -> Iterator[str]:
    """What ``?`` explains at a stop."""
    if stop.kind == "level":
        yield "1 carry on  Nothing is wrong. Stay with her, go on writing down what you see."
        yield "2 watch     Not as it should be: look closely, get ready to travel."
        yield "3 call      Telephone the vet now, describe, do as told."
        yield "4 go        Leave for the vet now and telephone on the way."
        yield UNCHANGED
    elif stop.kind == "act":
        yield "Type the number of the one step that comes before the others; - if you do not know."
    else:
        yield from _line_help()
    yield "l shows everything written down so far; q leaves."


def _line_help() -> Iterator[str]:
    yield (
        "Type it as you would at the box, in a few plain words. The time is now, so none is "
        "needed. For example: push, rest, pup dog 312g head first, afterbirth, temp 37.1, "
        "milk 1. `boxlamp words` lists them all. Type - when you do not know."
    )

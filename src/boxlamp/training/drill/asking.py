"""The questions of a drill, and how answers to them are read."""

from collections.abc import Iterator

from boxlamp.model.entry import Entry
from boxlamp.training.drill.acts import Act, act_of_alert, act_of_birth
from boxlamp.training.drill.night import Choice, PastNight
from boxlamp.training.drill.points import Stop
from boxlamp.training.drill.scenes import scene
from boxlamp.view.text import clean, wrap

LEAVE, EXPLAIN, PASS = "q", "?", "-"
_WIDTH = 78
_WORDS = {
    **{str(choice + 1): choice for choice in Choice},
    **{choice.word: choice for choice in Choice},
    "carry": Choice.CARRY_ON,
    "carry-on": Choice.CARRY_ON,
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
        yield "What do you do first?"
        for number, option in enumerate(act_of(night, stop).options, start=1):
            first, *rest = wrap(clean(option), _WIDTH - 5)
            yield f"  {number}  {first}"
            yield from (f"     {line}" for line in rest)
        return
    yield from wrap(f"Now: {scene(entry_of(night, stop)) or ''}", _WIDTH)
    yield "What do you type into the log?"


def entry_of(night: PastNight, stop: Stop) -> Entry:
    """The line of the night a question is made of."""
    return next(entry for entry in night.entries if entry.id == stop.entry)


def act_of(night: PastNight, stop: Stop) -> Act:
    """The four steps of a stop that asks for the first thing to do."""
    made = (
        act_of_alert(night, stop.rise)
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
    elif stop.kind == "act":
        yield "Type the number of the one step that comes before the others; - if you do not know."
    else:
        yield from _line_help()
    yield "q leaves; what you have answered is kept."


def _line_help() -> Iterator[str]:
    yield "Type it as you would at the box, in a few plain words. The time is now, so none is"
    yield "needed. For example: push, rest, pup dog 312g head first, afterbirth, temp 37.1,"
    yield "milk 1. `boxlamp words` lists them all. Type - when you do not know."

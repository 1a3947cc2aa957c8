"""``boxlamp new``: open a litter record. Only the dam's name is required."""

import json
import sys
from collections.abc import Iterator
from datetime import datetime
from typing import Annotated, Any, NamedTuple, cast

import typer

from boxlamp import outside
from boxlamp.cli import options
from boxlamp.cli.output import Output
from boxlamp.desk.session import UsageError, opened
from boxlamp.language import Context, NotUnderstood, read_line, say, sentences
from boxlamp.model.entry import Draft
from boxlamp.model.happenings import Details, Expect
from boxlamp.model.litter import merged
from boxlamp.model.zones import zone_named
from boxlamp.view.text import clean, date_text


class Question(NamedTuple):
    """One thing to know before the night: its option, how it is asked, the line it becomes."""

    option: str
    asked: str
    line: str


# The order is the order of asking. Every answer becomes a line of the entry language, so that
# it is read, checked and kept exactly as if it had been typed at the box.
QUESTIONS: tuple[Question, ...] = (
    Question("breed", "Her breed (or cross)", "set breed {}"),
    Question("weight", "Her weight, e.g. 12.4kg or 27lb", "set weight {}"),
    Question("breed_birth_weight", "", "set breed-birth-weight {}"),
    Question("age", "Her age in years", "set age {}"),
    Question("first_litter", "Is it her first litter? yes/no", "set first-litter {}"),
    Question("earlier_dystocia", "A difficult whelping before? yes/no", "set earlier-dystocia {}"),
    Question("earlier_caesarean", "A caesarean before? yes/no", "set earlier-caesarean {}"),
    Question("flat_faced", "", "set flat-faced {}"),
    Question("toy", "", "set toy {}"),
    Question("mated", "First mating, e.g. 2026-01-02", "mated {}"),
    Question("ovulation", "Ovulation day, if the vet found it", "ovulation {}"),
    Question("lh", "", "lh {}"),
    Question("progesterone", "", "progesterone {}"),
    Question("dioestrus", "", "dioestrus {}"),
    Question("expect", "Pups expected and how known, e.g. 6 xray", "expect {}"),
    Question("vet", "Your vet's name", "set vet {}"),
    Question("vet_phone", "The vet's number", "set vet-phone {}"),
    Question("night_phone", "The number at night", "set night-phone {}"),
    Question("travel", "Minutes to the vet by car", "set travel-minutes {}"),
)


def _text(name: str, help_text: str) -> typer.models.OptionInfo:
    return cast("typer.models.OptionInfo", typer.Option(name, help=help_text, show_default=False))


Answer = str | None
# Words that leave a question open, as Enter does.
_UNKNOWN = frozenset(
    ("dont know", "do not know", "i dont know", "not known", "unknown", "no idea", "not sure",
     "unsure", "-", "na", "n/a", "")
)  # fmt: skip
# What is said of a line of the log, and would only puzzle whoever answers a question.
_OF_A_LINE = (sentences.LEFT_OVER.rpartition("{}")[2], sentences.TIME_FIRST)
_NOT_READ = "that could not be read as an answer."
_LEFT_OPEN = ("...", "HH:MM", "YYYY-MM-DD")
# Our choice: no dam is older, and a year of birth is no age.
_OLDEST = 25


def new(
    dam: Annotated[Answer, _text("--dam", "Her name. The only thing that must be given.")] = None,
    breed: Annotated[Answer, _text("--breed", "Breed or cross.")] = None,
    weight: Annotated[Answer, _text("--weight", "Her weight: 12.4kg, 27lb.")] = None,
    breed_birth_weight: Annotated[
        Answer, _text("--breed-birth-weight", "What a newborn of her breed weighs: 320g.")
    ] = None,
    age: Annotated[Answer, _text("--age", "Her age in years.")] = None,
    first_litter: Annotated[Answer, _text("--first-litter", "yes or no.")] = None,
    earlier_dystocia: Annotated[
        Answer, _text("--earlier-dystocia", "yes or no: a difficult whelping before.")
    ] = None,
    earlier_caesarean: Annotated[Answer, _text("--earlier-caesarean", "yes or no.")] = None,
    flat_faced: Annotated[Answer, _text("--flat-faced", "yes or no; else by breed.")] = None,
    toy: Annotated[Answer, _text("--toy", "yes or no: toy breed; else by breed.")] = None,
    mated: Annotated[Answer, _text("--mated", "First mating: 2026-01-02.")] = None,
    ovulation: Annotated[Answer, _text("--ovulation", "Ovulation day.")] = None,
    lh: Annotated[Answer, _text("--lh", "Day of the LH peak.")] = None,
    progesterone: Annotated[
        Answer, _text("--progesterone", "One value and its day: '6.2ng 2026-01-03'.")
    ] = None,
    dioestrus: Annotated[Answer, _text("--dioestrus", "First day of dioestrus.")] = None,
    expect: Annotated[Answer, _text("--expect", "Pups expected: '6 xray'.")] = None,
    vet: Annotated[Answer, _text("--vet", "The vet's name.")] = None,
    vet_phone: Annotated[Answer, _text("--vet-phone", "The vet's number.")] = None,
    night_phone: Annotated[Answer, _text("--night-phone", "The number at night.")] = None,
    travel: Annotated[Answer, _text("--travel", "Minutes to the vet by car.")] = None,
    zone: Annotated[Answer, _text("--zone", "Time zone, e.g. Europe/Prague; else yours.")] = None,
    journal: options.Journal = None,
    by: options.By = "",
    no_input: options.NoInput = False,
) -> None:
    """Open a litter record.

    For example: boxlamp new --dam Bramble --expect '6 xray'

    At a terminal it asks for what is missing; press Enter to leave a question open.
    Everything can be added later with `boxlamp log set KEY VALUE`.
    """
    given = locals()
    ask = not no_input and sys.stdin.isatty()
    now, zone_name = outside.now(), zone or outside.local_zone()
    if dam is None and not ask:
        raise UsageError("The dam's name is needed: boxlamp new --dam NAME")
    name = dam if dam is not None else typer.prompt("The dam's name", err=True)
    lines = [f"set dam {_whole(name)}", f"set zone {zone_name}"]
    drafts = [_read(line, line.split()[1], now, zone_name) for line in lines]
    drafts += _answers(given, now, zone_name, ask=ask)
    output = Output()
    # The day in the litter's name is the day on the wall, not in UTC.
    here = now.astimezone(zone_named(zone_name))
    with opened(journal) as book:
        slug = book.open_litter(clean(name), opened=here, drafts=_together(drafts), by=by)
        output.result(f"Litter {slug} is open and in use.")
        output.results(f"Note: {notice.sentence}" for notice in book.take_notices())
    output.result(f"Understood: {', '.join(_understood(drafts))}.")
    output.results(_what_next(_details(drafts)))


def _understood(drafts: list[Draft]) -> Iterator[str]:
    """Every answer as it was taken, with its unit: a weight of 29 may have been meant in pounds."""
    details = _details(drafts)
    yield from say(details).removeprefix("set ").split(" / ")
    for draft in drafts:
        if isinstance(draft.what, Expect):
            yield say(draft.what)
        elif not isinstance(draft.what, Details):
            day = draft.at.astimezone(zone_named(draft.zone)).date()
            yield f"{say(draft.what)} {date_text(day, year=True)}"


def _what_next(details: Details) -> Iterator[str]:
    """What is still missing for an alert to help, and what to do with the litter."""
    if not (details.vet_phone or details.night_phone):
        yield "No vet's number yet. Alerts will say to ring: boxlamp log set vet-phone 01234 567890"
    yield "To get ready: `boxlamp due` for the dates, `boxlamp kit` for what to have."
    yield "Next: `boxlamp attend` at the box, or `boxlamp log LINE` for one line."


def _answers(given: dict[str, Any], now: datetime, zone: str, *, ask: bool) -> Iterator[Draft]:
    """What the options say, and what the person answers to the questions left open."""
    open_ = [each for each in QUESTIONS if each.asked and given[each.option] is None]
    if ask and open_:
        Output().say(f"{len(open_)} questions. Enter leaves one open; all can be answered later.")
    for question in QUESTIONS:
        answer = given[question.option]
        if answer is not None:
            option = f"--{question.option.replace('_', '-')}"
            yield _read(question.line.format(_told(answer, question)), option, now, zone)
        elif ask and question in open_:
            yield from _asked(question, f"{open_.index(question) + 1}/{len(open_)}", now, zone)


def _asked(question: Question, number: str, now: datetime, zone: str) -> list[Draft]:
    """Ask until the answer can be read; nothing when it stays open."""
    while True:
        words = f"{number} {question.asked}"
        said = typer.prompt(words, default="", show_default=False, err=True).strip()
        if not said or said.casefold().replace("'", "").strip(" .?") in _UNKNOWN:
            return []
        try:
            return [_read(question.line.format(_told(said, question)), said, now, zone)]
        except UsageError as error:
            Output().say(str(error))


def _details(drafts: list[Draft]) -> Details:
    """Everything the drafts say of the dam and the people around her."""
    details = Details()
    for draft in drafts:
        if isinstance(draft.what, Details):
            details = merged(details, draft.what)
    return details


def _told(answer: str, question: Question) -> str:
    """An answer as it stands in its line: a value of the dam is taken whole, a date is read."""
    return _whole(answer) if question.line.startswith("set ") else answer


def _whole(answer: str) -> str:
    """An answer as one value of a line, whatever is in it."""
    return json.dumps(answer, ensure_ascii=False) if {"/", ";", '"'} & set(answer) else answer


def _read(line: str, named: str, now: datetime, zone: str) -> Draft:
    try:
        heard = read_line(line, Context(now=now, zone=zone))
    except NotUnderstood as error:
        # What was asked for is an answer and no line of the log: show the example without the
        # words that would stand before it there.
        said = " ".join(line.split()[: 2 if line.startswith("set ") else 1])
        example = error.nearest.removeprefix(f"{said} ")
        telling = example != error.nearest and not any(one in example for one in _LEFT_OPEN)
        hint = f" For example: {example}" if telling else ""
        why = _NOT_READ if error.why.endswith(_OF_A_LINE) else error.why
        raise UsageError(f"{clean(named)}: {why}{hint}") from error
    years = heard.draft.what.age_years if isinstance(heard.draft.what, Details) else None
    if years is not None and years > _OLDEST:
        raise UsageError(f"{clean(named)}: that is no age in years. For example: 5y")
    if heard.doubts:
        raise UsageError(f"{named}: {heard.doubts[0].sentence} {heard.doubts[0].fix}")
    return heard.draft


def _together(drafts: list[Draft]) -> list[Draft]:
    """All details in one entry, first; then the dated facts, each its own entry."""
    what = _details(drafts)
    opening = drafts[0].model_copy(update={"what": what, "text": "litter opened"})
    return [opening, *(draft for draft in drafts if not isinstance(draft.what, Details))]

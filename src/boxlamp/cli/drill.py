"""``boxlamp drill``: be led through a night that is over, decide, and be marked."""

import gc
import os
import shlex
import signal
from collections.abc import Iterable, Iterator
from pathlib import Path
from typing import Annotated, NamedTuple

import typer

from boxlamp import outside
from boxlamp.cli import options
from boxlamp.cli.drill_shelf import show_nights, show_progress
from boxlamp.cli.drilling import Answers, Left, Scripted, Tell, answers_from
from boxlamp.cli.output import Output
from boxlamp.desk import drills
from boxlamp.desk.files import read_record
from boxlamp.desk.session import UsageError
from boxlamp.model.levels import Level
from boxlamp.training.drill.night import PastNight
from boxlamp.training.drill.order import next_night
from boxlamp.training.drill.points import stops_of
from boxlamp.training.drill.record import Result
from boxlamp.training.drill.report import Report, report_json, report_lines, report_of, result_of
from boxlamp.training.drill.sitting import Sitting
from boxlamp.training.drill.telling import heading_lines, stop_lines
from boxlamp.view.text import clean

_NAME, _DIGITS = 200, 18


class Chosen(NamedTuple):
    """The night to be drilled: what it is known by, where it can be replayed, what it teaches."""

    key: str
    night: PastNight
    replay: str
    lesson: str


def drill(
    night: Annotated[
        str | None,
        typer.Argument(
            metavar="NIGHT",
            help="A number of --list, a dam's name, or a night log; with --imagine a seed.",
        ),
    ] = None,
    show_list: Annotated[bool, typer.Option("--list", help="List the nights to drill.")] = False,
    imagine: Annotated[
        bool, typer.Option("--imagine", help="Drill a night that nobody had, drawn by a seed.")
    ] = False,
    progress: Annotated[bool, typer.Option("--progress", help="How you have come along.")] = False,
    trainee: Annotated[
        str,
        typer.Option(
            "--trainee",
            envvar="BOXLAMP_TRAINEE",
            metavar="NAME",
            help="Whose results these are, where several people practise.",
            show_default=False,
        ),
    ] = "",
    answers: Annotated[
        str | None,
        typer.Option(
            "--answers", metavar="FILE", help="Take the answers from a file, one a line; `-`: pipe."
        ),
    ] = None,
    journal: options.Journal = None,
    as_json: options.AsJson = False,
) -> None:
    """Practise on a night that is over: decide at each stop, and see how it was.

    For example: boxlamp drill, boxlamp drill 3, boxlamp drill --imagine 42

    Without a night it takes the one that helps you most. Results are kept beside the journal, or
    in the file that BOXLAMP_TRAINING names.
    """
    gc.enable()
    output, place = Output(), drills.results_path(journal)
    trainee = clean(trainee).strip()[:_NAME]
    past = drills.read_results(place, trainee)
    if past.trouble:
        output.say(past.trouble)
    if show_list:
        show_nights(past.results, output, as_json=as_json)
    elif progress:
        show_progress(past.results, trainee, output, as_json=as_json)
    else:
        # In JSON only the report is the answer; what is told and asked stands beside it.
        tell: Tell = _beside(output) if as_json else output.results
        if night == answers == "-":
            raise UsageError("The night and the answers cannot both come through the pipe.")
        who = answers_from(answers, tell)
        chosen = _imagined(night) if imagine else _chosen(night, past.results)
        _drill(chosen, who, tell, (trainee, place, as_json))


def _beside(output: Output) -> Tell:
    def tell(lines: Iterable[str]) -> None:
        for line in lines:
            output.say(line or " ")

    return tell


def _chosen(name: str | None, past: tuple[Result, ...]) -> Chosen:
    """The night that is meant, or the one that helps most."""
    nights = drills.library()
    if name is None:
        if not nights:
            raise UsageError("No night came with the program. Name one: boxlamp drill FILE")
        best = next_night([one.shelf for one in nights], past)
        return _shelved(next(one for one in nights if one.shelf == best))
    found = list(drills.found_in(nights, name))
    if len(found) == 1:
        return _shelved(found[0])
    if found:
        numbers = ", ".join(str(one.number) for one in found)
        raise UsageError(f"Several nights are called {clean(name)}: take a number, {numbers}.")
    if name.isdecimal() and not drills.is_there(name):
        raise UsageError(f"There is no night {name}: they run from 1 to {len(nights)}; see --list.")
    if not drills.is_there(name) and name != "-":
        raise UsageError(
            f"There is no file and no night called {clean(name)}. `boxlamp drill --list` shows "
            "the nights that come with the program."
        )
    record = read_record(name)
    return Chosen(f"file {record.slug}", drills.past_night(record), name, record.lesson)


def _shelved(one: drills.Shelved) -> Chosen:
    return Chosen(one.shelf.key, drills.past_night(one.record), str(one.path), one.record.lesson)


def _imagined(seed: str | None) -> Chosen:
    """A night drawn from published figures; without a seed another one each time."""
    from secrets import randbelow

    from boxlamp.imagine import imagine
    from boxlamp.language import read_night

    if seed is not None and not (seed.isdecimal() and len(seed) <= _DIGITS):
        raise UsageError(f"--imagine {clean(seed)}: a seed is a whole number, such as 42.")
    number = int(seed) if seed is not None else randbelow(100_000)
    made = imagine(number)
    night = PastNight(made.entries, outside.default_protocol(), made.ended)
    return Chosen(f"imagined {number}", night, "", read_night(made.text).lesson)


def _drill(chosen: Chosen, who: Answers, tell: Tell, keep: tuple[str, Path, bool]) -> None:
    """Lead through the night, then report and keep the result; leaves by an exit code."""
    sitting = Sitting(chosen.night, stops_of(chosen.night))
    if not sitting.stops:
        raise UsageError("Nothing happens in this night that could be asked about. Try another.")
    tell(_opening(sitting))
    interrupted = False
    try:
        _led(sitting, who, tell)
    except Left as left:
        interrupted = left.interrupted
    except KeyboardInterrupt:  # while the next stop was being worked out
        interrupted = True
    report = report_of(sitting, chosen.lesson)
    _close(report, chosen, tell, keep)
    if isinstance(who, Scripted) and who.unused:
        Output().say(f"Answers left over in {who.name}: {who.unused}.")
    raise typer.Exit(128 + signal.SIGINT if interrupted else 0)


def _led(sitting: Sitting, who: Answers, tell: Tell) -> None:
    for place, stop in enumerate(sitting.stops):
        tell(stop_lines(sitting.night, sitting.stops, place))
        told = stop.at.astimezone(sitting.night.zone).strftime("%H:%M")
        answer = who.answer(stop, told)
        tell(["", *sitting.take(stop, answer)])
        if place + 1 < len(sitting.stops):
            who.go_on()


def _close(report: Report, chosen: Chosen, tell: Tell, keep: tuple[str, Path, bool]) -> None:
    """The report, whatever becomes of the result; then what to do next."""
    trainee, place, as_json = keep
    troubled = any(rise.level >= Level.CALL for rise in chosen.night.rises)
    result = result_of(
        report, trainee=trainee, at=outside.now(), night=chosen.key, troubled=troubled
    )
    failure = ""
    if report.sitting.answered:
        try:
            drills.keep_result(place, result)
        except drills.NotKeptError as error:
            failure = str(error)
    tell(report_lines(report))
    tell(_next(chosen, finished=report.sitting.finished))
    if as_json:
        Output().data(report_json(report, result, kept=not failure and bool(result.stops)))
    if failure:
        Output().say(f"{failure} The report above is all there is of it.")


def _opening(sitting: Sitting) -> Iterator[str]:
    yield "You sit at the box. The night is told up to a moment; you say what you would do."
    yield "1 carry on, 2 watch closely, 3 call the vet, 4 go to the vet. ? explains."
    yield ""
    yield from heading_lines(sitting.night)


def _next(chosen: Chosen, *, finished: bool) -> Iterator[str]:
    """What to do now. A file's name would give away a night that was left early."""
    yield "Next: boxlamp drill"
    if not finished:
        return
    if chosen.replay and chosen.replay != "-":
        path = os.path.relpath(chosen.replay)
        shorter = path if len(path) < len(chosen.replay) else chosen.replay
        yield f"This night as it was: boxlamp replay {shlex.quote(shorter)}"
    elif chosen.key.startswith("imagined"):
        seed = chosen.key.split()[-1]
        yield f"This night as it was: boxlamp imagine --seed {seed} | boxlamp replay -"

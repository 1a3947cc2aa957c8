"""``boxlamp drill``: be led through a night that is over, decide, and be marked."""

import gc
import os
import shlex
import signal
from collections.abc import Iterable, Iterator
from contextlib import contextmanager
from pathlib import Path
from types import FrameType
from typing import Annotated, NamedTuple

import typer

from boxlamp import outside
from boxlamp.cli import options
from boxlamp.cli.drill_night import Chosen, chosen, imagined, own
from boxlamp.cli.drill_shelf import show_nights, show_progress
from boxlamp.cli.drilling import (
    AS_IT_WAS,
    Answers,
    Asking,
    Ended,
    Left,
    Scripted,
    Tell,
    answers_from,
    folded,
    signal_of,
)
from boxlamp.cli.output import Output
from boxlamp.desk import drills
from boxlamp.desk.session import UsageError
from boxlamp.model.levels import Level
from boxlamp.training.drill.asking import UNCHANGED, question_lines
from boxlamp.training.drill.order import next_night, why_next
from boxlamp.training.drill.points import Stop, stops_of
from boxlamp.training.drill.record import Result
from boxlamp.training.drill.report import Report, report_json, report_lines, report_of, result_of
from boxlamp.training.drill.sitting import Sitting
from boxlamp.training.drill.telling import heading_lines, stop_lines, story_lines
from boxlamp.view.text import clean

_NAME = 200
_FAILED = 1


Trainee = Annotated[
    str,
    typer.Option(
        "--trainee",
        envvar="BOXLAMP_TRAINEE",
        metavar="NAME",
        help="Whose results these are, where several people practise.",
        show_default=False,
    ),
]


class Keeping(NamedTuple):
    """Whose result it will be, where it is kept, and how the report is told."""

    trainee: str
    place: Path
    past: tuple[Result, ...]
    as_json: bool


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
    litter: Annotated[
        str | None,
        typer.Option("--litter", metavar="NAME", help="Drill a litter of your own journal."),
    ] = None,
    progress: Annotated[bool, typer.Option("--progress", help="How you have come along.")] = False,
    trainee: Trainee = "",
    answers: Annotated[
        str | None,
        typer.Option(
            "--answers", metavar="FILE", help="Take the answers from a file, one a line; `-`: pipe."
        ),
    ] = None,
    journal: options.Journal = None,
    as_json: options.AsJson = False,
    plain: options.AsPlain = False,
) -> None:
    """Practise on a night that is over: decide at each stop, and see how it was.

    For example: boxlamp drill, boxlamp drill 3, boxlamp drill --imagine 42

    Without a night it takes the one that helps you most. Results are kept beside the journal, or
    in the file that BOXLAMP_TRAINING names.
    """
    gc.enable()
    _refuse_pairs(
        {"--list": show_list, "--progress": progress},
        {"--litter": litter is not None},
        {"NIGHT": night is not None, "--imagine": imagine},
        {"--answers": answers is not None},
    )
    if plain and not (show_list or progress):
        raise UsageError("--plain is for --list and --progress; a drill has --json.")
    output, place = Output(), drills.results_path(journal)
    trainee = clean(trainee).strip()[:_NAME]
    past = drills.read_results(place, trainee)
    if past.trouble:
        output.say(past.trouble)
    if show_list:
        show_nights(past.results, output, as_json=as_json, plain=plain)
    elif progress:
        show_progress(past.results, trainee, output, as_json=as_json, plain=plain)
    else:
        taken = _taken(night, litter, journal, past.results, seeded=imagine)
        _begin(taken, answers, Keeping(trainee, place, past.results, as_json))


def _taken(
    night: str | None,
    litter: str | None,
    journal: Path | None,
    past: tuple[Result, ...],
    *,
    seeded: bool,
) -> Chosen:
    """The night that is meant; whether there is one is said before a terminal is asked for."""
    if litter is not None:
        return own(journal, litter)
    return imagined(night) if seeded else chosen(night, past)


def _begin(taken: Chosen, answers: str | None, keep: Keeping) -> None:
    # In JSON only the report is the answer; what is told and asked stands beside it.
    tell = _telling(Output(), beside=keep.as_json)
    if taken.replay == answers == "-":
        raise UsageError("The night and the answers cannot both come through the pipe.")
    _drill(taken, answers_from(answers, tell), tell, keep)


def _refuse_pairs(*kinds: dict[str, bool]) -> None:
    """Refuse what can have no meaning: to show a list and drill a night, or two nights, at once."""
    shows, own_night, nights, how = ([name for name in kind if kind[name]] for kind in kinds)
    asked = [*shows, *own_night, *nights, *how]
    if shows and len(asked) > 1:
        raise UsageError(f"{asked[0]} stands alone: leave out {', '.join(asked[1:])}.")
    if own_night and nights:
        raise UsageError(f"--litter names the night already: leave out {', '.join(nights)}.")


def _telling(output: Output, *, beside: bool) -> Tell:
    def tell(lines: Iterable[str]) -> None:
        for line in folded(lines, output.err if beside else output.out):
            if beside:
                output.say(line or " ")
            else:
                output.result(line)

    return tell


def _drill(taken: Chosen, who: Answers, tell: Tell, keep: Keeping) -> None:
    """Lead through the night, then report and keep the result; leaves by an exit code."""
    sitting = Sitting(taken.night, stops_of(taken.night))
    if not sitting.stops:
        raise UsageError("Nothing happens in this night that could be asked about. Try another.")
    by = 0
    with _signals_heard():
        try:
            tell(_opening(sitting))
            _led(sitting, who, tell)
        except Left as left:
            by = left.by
        except KeyboardInterrupt as ended:  # while the next stop was being worked out
            by = signal_of(ended)
        except OSError:  # the window is gone: what was answered is kept all the same
            by = signal.SIGHUP
    try:
        good = _close(report_of(sitting, taken.lesson), taken, tell, keep)
        if isinstance(who, Scripted) and who.unused:
            Output().say(f"Answers left over in {who.name}: {who.unused}.")
    except OSError:
        if by != signal.SIGHUP:
            raise
        os._exit(128 + by)  # nobody is there to read; closing the streams would fail once more
    raise typer.Exit(128 + by if by else 0 if good else _FAILED)


@contextmanager
def _signals_heard() -> Iterator[None]:
    """Being asked to end, or losing the window, leaves the drill as Ctrl-C does."""

    def end(number: int, _frame: FrameType | None) -> None:
        raise Ended(number)

    before = {number: signal.signal(number, end) for number in (signal.SIGHUP, signal.SIGTERM)}
    try:
        yield
    finally:
        for number, handler in before.items():
            # A window that is gone tells so more than once, and the result is still to be kept.
            signal.signal(number, signal.SIG_IGN if number == signal.SIGHUP else handler)


def _led(sitting: Sitting, who: Answers, tell: Tell) -> None:
    night = sitting.night
    for place, stop in enumerate(sitting.stops):
        tell(stop_lines(night, sitting.stops, place))
        asking = _asking(sitting, stop)
        answer = who.answer(asking)
        hint = sitting.hint(stop, answer) if who.tries_again else ()
        if hint:
            tell(["", *hint])
            answer = who.answer(asking)
        tell(["", *sitting.take(stop, answer)])
        if place + 1 < len(sitting.stops):
            who.go_on()


def _asking(sitting: Sitting, stop: Stop) -> Asking:
    night = sitting.night
    return Asking(
        stop,
        stop.at.astimezone(night.zone).strftime("%H:%M"),
        tuple(question_lines(night, stop)),
        lambda: story_lines(night, stop.known),
    )


def _close(report: Report, taken: Chosen, tell: Tell, keep: Keeping) -> bool:
    """Keep the result, then report, whatever became of it; true when all is whole and kept."""
    troubled = any(rise.level >= Level.CALL for rise in taken.night.rises)
    result = result_of(
        report, trainee=keep.trainee, at=outside.now(), night=taken.key, troubled=troubled
    )
    answered, failure = bool(report.sitting.answered), ""
    if answered:
        try:
            drills.keep_result(keep.place, result)
        except drills.NotKeptError as error:
            failure = str(error)
    kept = answered and not failure
    tell(report_lines(report))
    if kept:
        tell(["The result is kept. All of yours: boxlamp drill --progress"])
    tell(_next(taken, (*keep.past, result) if answered else keep.past, report))
    if keep.as_json:
        Output().data(report_json(report, result, kept=kept))
    if failure:
        Output().say(f"{failure} The report above is all there is of it.")
    return kept and report.sitting.finished


def _opening(sitting: Sitting) -> Iterator[str]:
    yield "You sit at the box. The night is told up to a moment; say what you would do."
    yield "1 carry on, 2 watch, 3 call the vet, 4 go to the vet. ? explains, q leaves."
    yield UNCHANGED
    yield ""
    yield from heading_lines(sitting.night)


def _next(taken: Chosen, past: tuple[Result, ...], report: Report) -> Iterator[str]:
    """What to do now. A file's name would give away a night that was left early."""
    shelves = [one.shelf for one in drills.library()]
    why = f" ({why_next(next_night(shelves, past), past)})" if shelves else ""
    yield f"Next: boxlamp drill{why}"
    if not report.sitting.finished:
        return
    if taken.replay and taken.replay != "-":
        path = os.path.relpath(taken.replay) if drills.is_there(taken.replay) else taken.replay
        shorter = path if len(path) < len(taken.replay) else taken.replay
        yield f"{AS_IT_WAS} boxlamp replay {shlex.quote(shorter)}"
    elif taken.key.startswith("imagined"):
        seed = taken.key.split()[-1]
        yield f"{AS_IT_WAS} boxlamp imagine --seed {seed} | boxlamp replay -"

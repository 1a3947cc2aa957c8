"""``boxlamp replay``: a past night told again or watched again, with its alerts at their second."""

import gc
import math
import shlex
import sys
import threading
import time
from collections.abc import Iterator
from contextlib import contextmanager
from datetime import datetime, timedelta
from pathlib import Path
from typing import Annotated, NamedTuple

import typer

from boxlamp import outside
from boxlamp.cli import options
from boxlamp.cli.catalogue import BY_NAME
from boxlamp.cli.output import Output, as_typed
from boxlamp.cli.screen import width
from boxlamp.desk.files import read_record
from boxlamp.desk.session import UsageError, session
from boxlamp.language import Expected
from boxlamp.model.entry import Entry
from boxlamp.model.zones import zone_named
from boxlamp.training.retelling import unmet
from boxlamp.training.screening import AFTERGLOW, Screening, hindsight, screen, zone_name_of
from boxlamp.training.telling import hanging, lines, opening, result
from boxlamp.view.layout import FINE, PLAIN
from boxlamp.view.machine import transition_json
from boxlamp.view.words import CAUTION

_WHY_LINES = (
    "There is no terminal here to watch it on, so it is told line by line; --plain does that too."
)
_LONGEST_WAIT = 3.0
_PATIENCE = 1.0


class Night(NamedTuple):
    """What is to be replayed, wherever it comes from."""

    entries: tuple[Entry, ...]
    expected: tuple[Expected, ...] = ()
    lesson: str = ""
    named: str = ""
    """The words that name it again on the command line, after the command."""
    file: bool = True


_File = Annotated[
    str | None,
    typer.Argument(
        help="A night log or an exported record instead of a litter in the journal; `-` for a "
        "pipe.",
        show_default=False,
    ),
]
_Speed = Annotated[
    float | None,
    typer.Option(
        "--speed", min=1, max=100_000, help="Watch it N times as fast as it was.", metavar="N"
    ),
]
_AsCorrected = Annotated[
    bool,
    typer.Option(
        "--as-corrected",
        help="As if every line had been right and in time. Usual: as it was known then.",
    ),
]


def replay(
    file: _File = None,
    speed: _Speed = None,
    step: Annotated[
        bool, typer.Option("--step", help="Watch it step by step: one key, one moment.")
    ] = False,
    as_corrected: _AsCorrected = False,
    until: Annotated[
        str | None, typer.Option("--until", help="Stop at this time of the night, e.g. 02:30.")
    ] = None,
    journal: options.Journal = None,
    litter: options.Litter = None,
    as_json: options.AsJson = False,
    plain: Annotated[
        bool, typer.Option("--plain", help="One line per event, also at a terminal.")
    ] = False,
    no_color: Annotated[bool, typer.Option("--no-color", help="No colour.")] = False,
) -> None:
    """Tell or watch a past night again, with its alerts.

    For example: boxlamp replay demo/stalled-labour.night --speed 60

    By itself it prints one line per event. With --speed or --step a terminal shows the board of
    every moment, with keys to stop and to seek; a pipe still gets the lines, paced by --speed.
    Quiet stretches are cut short. --json prints the changes of the alerts, one object a line.
    """
    output = Output()
    if speed is not None and math.isnan(speed):
        raise UsageError("--speed nan: write how many times as fast, such as 60.")
    night = _night(file, journal, litter)
    screening = _screened(night, until, output, as_corrected=as_corrected)
    if as_json:
        for change in screening.steps:
            output.data(transition_json(change, screening.zone))
        return
    watching = speed is not None or step
    if watching and not plain and file != "-" and output.live and sys.stdin.isatty():
        colour = output.colour and not no_color
        raise typer.Exit(_watched(night, screening, output, speed, step=step, colour=colour))
    if watching and not plain:
        output.say(_WHY_LINES)
    broken = _told(night, screening, output, speed)
    if output.live and file != "-":
        _say_further(night, output, watched=watching)
    raise typer.Exit(1 if broken else 0)


def _night(file: str | None, journal: Path | None, litter: str | None) -> Night:
    """The night that is meant: in a file or in the journal."""
    if file is None:
        with session(journal, litter) as here:
            named = f" --litter {shlex.quote(here.litter)}" if litter is not None else ""
            return Night(here.entries, named=named, file=False)
    if litter is not None:
        raise UsageError("A file holds one litter; leave out --litter, or the file.")
    record = read_record(file)
    if not record.entries:
        raise UsageError(f"{file}: there is nothing in it to replay.")
    return Night(record.entries, record.expected, record.lesson, f" {as_typed(file)}")


def _screened(night: Night, until: str | None, output: Output, *, as_corrected: bool) -> Screening:
    entries = hindsight(night.entries) if as_corrected else night.entries
    if not entries:
        raise UsageError("Every line of it was struck: as corrected there is nothing to replay.")
    end = _end(night, entries, until)
    with _said_when_slow(output, "Making the night ready ..."):
        return screen(
            night.entries, outside.default_protocol(), as_corrected=as_corrected, until=end
        )


@contextmanager
def _said_when_slow(output: Output, words: str) -> Iterator[None]:
    """Say what is being waited for, once the waiting is noticed."""
    timer = threading.Timer(_PATIENCE, output.say, (words,))
    timer.daemon = True
    timer.start()
    try:
        yield
    finally:
        timer.cancel()


def _watched(
    night: Night, screening: Screening, output: Output, speed: float | None, *,
    step: bool, colour: bool,
) -> int:  # fmt: skip
    """Show it on the whole screen until the person leaves; then say what it came to."""
    from boxlamp.training.player import USUAL_SPEED, player_of
    from boxlamp.training.scene import show_of
    from boxlamp.training.stage import Stage

    gc.enable()
    show = show_of(
        screening,
        lesson=night.lesson,
        further=_further(night),
        glyphs=FINE if output.fine else PLAIN,
    )
    player = player_of(screening, speed or USUAL_SPEED, step=step)
    stage = Stage(show, player, stepping=step, colour=colour)
    code = stage.run()
    if not code:
        if stage.player.ended:
            output.results(_came_to(night, screening))
        _say_further(night, output, watched=True)
    return code


def _told(night: Night, screening: Screening, output: Output, speed: float | None) -> list[str]:
    """Tell it line by line; what the file states and was not kept to is given back."""
    output.results(opening(screening))
    before: datetime | None = None
    for at, told in lines(screening):
        if speed is not None and before is not None:
            output.out.flush()
            time.sleep(min(_LONGEST_WAIT, (at - before).total_seconds() / speed))
        for line in told:
            output.results(hanging(line, width()) if output.out.isatty() else [line])
        before = at
    output.result()
    output.results(_came_to(night, screening))
    broken = _checked(night, screening, output)
    output.results(broken)
    output.result(CAUTION)
    return broken


def _checked(night: Night, screening: Screening, output: Output) -> list[str]:
    """Say how many of the alerts came that the file states; give back what was broken."""
    # What a file states is of the night as it was typed.
    stated = () if screening.as_corrected else night.expected
    calm = list(unmet([line for line in stated if line.at is None], screening.steps))
    wanted = [
        line
        for line in stated
        if line.at is not None and line.at <= screening.ended and line.level != "prompt"
    ]
    missed = list(unmet(wanted, screening.steps))
    if wanted:
        output.result(
            f"Checked: the file states {len(wanted)} comings and endings of alerts; "
            f"{len(wanted) - len(missed)} came at their second."
        )
    return missed + calm


def _came_to(night: Night, screening: Screening) -> Iterator[str]:
    yield result(screening)
    if night.lesson:
        yield f"What it teaches: {night.lesson}"


def _further(night: Night) -> list[str]:
    """The commands that go on from here, those there are."""
    practise = [f"boxlamp drill{night.named}"] if night.file and "drill" in BY_NAME else []
    return [*practise, f"boxlamp summary{night.named} -o night.pdf"]


def _say_further(night: Night, output: Output, *, watched: bool) -> None:
    if not watched:
        output.offer("To watch it (or with --step)", f"boxlamp replay{night.named} --speed 60")
    *practise, paper = _further(night)
    for command in practise:
        output.offer("To practise on it", command)
    output.offer("Its sheet for the vet", paper)


def _end(night: Night, entries: tuple[Entry, ...], until: str | None) -> datetime:
    """Where it stops: as asked for, else an hour after the last line, and never in the future."""
    if until is None:
        last = max(entry.recorded for entry in entries)
        stated = [line.at for line in night.expected if line.at is not None]
        if stated:
            return max([last, *stated])
        end = last + AFTERGLOW
        return end if night.file else max(last, min(end, outside.now()))
    zone = zone_named(zone_name_of(entries))
    first = min(
        [entry.recorded for entry in entries if entry.certainty != "day"] or [entries[0].recorded]
    )
    parts = until.split(":")
    try:
        hour, minute, second = (int(part) for part in (*parts, "0", "0")[:3])
        local = first.astimezone(zone).replace(hour=hour, minute=minute, second=second)
    except ValueError as error:
        raise UsageError(f"--until {until}: write a time of the night such as 02:30.") from error
    return local if local >= first else local + timedelta(days=1)

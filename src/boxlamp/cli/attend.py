"""``boxlamp attend``: the box-side console."""

import gc
import os
import shlex
import subprocess
import sys
from collections.abc import Callable
from typing import Annotated

import typer

from boxlamp import outside
from boxlamp.cli import options
from boxlamp.cli.output import Output
from boxlamp.desk.session import UsageError, session
from boxlamp.model.levels import Level


def attend(
    journal: options.Journal = None,
    litter: options.Litter = None,
    by: options.By = "",
    sound: Annotated[
        str | None,
        typer.Option(
            "--sound",
            envvar="BOXLAMP_SOUND",
            show_default=False,
            help="A command to run when an alert sounds, beside the bell; it finds the level in "
            "BOXLAMP_LEVEL.",
        ),
    ] = None,
    clock: options.Clock = "24h",
    weight_unit: options.WeightUnit = "g",
    temperature_unit: options.TemperatureUnit = "C",
    no_color: Annotated[bool, typer.Option("--no-color", help="No colour.")] = False,
) -> None:
    """Sit at the box with the console.

    For example: boxlamp attend, or boxlamp attend --by Jana

    The board stays in view and ticks; there is one line to type in, and one-key entries.
    F12 shows what to say to the vet on the telephone; the clock and units chosen are for that.
    """
    output = Output()
    gc.enable()
    if not (sys.stdin.isatty() and sys.stdout.isatty()):
        raise UsageError("attend needs a terminal. From a script use `boxlamp log LINE`.")
    from boxlamp.attend.console import Console
    from boxlamp.attend.sitting import Sitting
    from boxlamp.paper.reader import Reader

    with session(journal, litter) as here:
        console = Console(
            Sitting(
                here,
                clock=outside.now,
                by=by,
                reader=Reader(here.zone, clock, weight_unit, temperature_unit),
            ),
            sounded=_runner(sound, output),
            colour=output.colour and not no_color,
            fine=output.fine,
        )
        # What is here stays here: looking through it again and again would delay a key.
        gc.freeze()
        code = console.run()
        for line in console.sitting.waiting:
            output.say(f"NOT STORED: {line}")
        output.say(f"Left {here.litter}. {len(here.entries)} entries are kept.")
    raise typer.Exit(code)


def _runner(command: str | None, output: Output) -> Callable[[Level], None]:
    """What to do besides the bell. A command that cannot be run never disturbs the console."""
    if not command:
        return lambda _level: None
    try:
        words = shlex.split(command)
    except ValueError as error:
        raise UsageError(f"--sound {command}: {error}.") from error

    def run(level: Level) -> None:
        try:
            subprocess.Popen(  # noqa: S603 - the person's own command, given for this
                words,
                env={**os.environ, "BOXLAMP_LEVEL": level.word},
                stdin=subprocess.DEVNULL,
                stdout=subprocess.DEVNULL,
                stderr=subprocess.DEVNULL,
                start_new_session=True,
            )
        except OSError:
            output.err.write("\a")

    return run

"""``boxlamp protocol trial [FILE]``: what limits cost and catch, over many imagined nights."""

import gc
import os
from collections.abc import Callable, Iterator
from contextlib import ExitStack, contextmanager
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from boxlamp import outside
from boxlamp.cli import options
from boxlamp.cli.output import Output
from boxlamp.cli.own_limits import own_limits
from boxlamp.desk.session import UsageError

if TYPE_CHECKING:
    from boxlamp.trial.one import Side
    from boxlamp.trial.pool import Counted

_INTERRUPTED = 130
_MOST_NIGHTS = 1_000_000
_MOST_WORKERS = 256


File = Annotated[
    Path | None,
    typer.Argument(metavar="FILE", help="A vet's own limits, to set beside the default."),
]
Nights = Annotated[
    int, typer.Option("--nights", min=1, max=_MOST_NIGHTS, metavar="N", help="How many nights.")
]
Seed = Annotated[
    int, typer.Option("--seed", min=0, max=_MOST_NIGHTS, metavar="S", help="Which nights.")
]
Workers = Annotated[
    int | None,
    typer.Option(
        "--workers",
        min=1,
        max=_MOST_WORKERS,
        metavar="W",
        show_default=False,
        help="Processes at once. Usual: one for each processor.",
    ),
]
Cluster = Annotated[
    str | None,
    typer.Option(
        "--cluster",
        metavar="ADDRESS",
        show_default=False,
        help="A running Dask cluster to do it instead, by its scheduler's address.",
    ),
]


def trial(
    file: File = None,
    nights: Nights = 1000,
    seed: Seed = 1,
    workers: Workers = None,
    cluster: Cluster = None,
    as_json: options.AsJson = False,
    plain: options.AsPlain = False,
) -> None:
    """Run many imagined nights under the limits, and show what they cost and what they catch.

    For example: boxlamp protocol trial --nights 2000, or with a vet's own limits beside the
    default over the same nights: boxlamp protocol trial own.toml

    Half of the nights are normal: there every alert is a cost. In the other half something goes
    wrong: there a call or go should come. The same seed gives the same figures on any computer.
    """
    if cluster is not None and workers is not None:
        raise UsageError("Give either --workers or --cluster, not both.")
    sides = _sides(file)
    output = Output()
    gc.enable()
    counted = _counted(sides, nights, seed, workers, cluster, output)
    if not counted.nights:
        output.say("boxlamp: stopped before the first nights were done; there are no figures.")
        raise typer.Exit(_INTERRUPTED)
    from boxlamp.trial.lines import trial_lines
    from boxlamp.trial.machine import plain_trial, trial_json
    from boxlamp.trial.report import report

    found = report(counted, sides, seed)
    if as_json:
        output.data(trial_json(found))
    else:
        output.results(plain_trial(found) if plain else trial_lines(found))
    if found.partial:
        output.say(f"boxlamp: stopped; these are the first {found.nights} nights only.")
        raise typer.Exit(_INTERRUPTED)


def _sides(file: Path | None) -> "tuple[Side, ...]":
    from boxlamp.trial.one import Side

    protocol = outside.default_protocol()
    if file is None:
        return (Side("default", protocol),)
    return Side("default", protocol), Side("own", protocol, own_limits(file).as_entries())


def _counted(
    sides: "tuple[Side, ...]",
    nights: int,
    seed: int,
    workers: int | None,
    address: str | None,
    output: Output,
) -> "Counted":
    """Run the nights on this machine or on a cluster, with a bar where somebody watches."""
    from boxlamp.trial import workers as at_work
    from boxlamp.trial.plan import Nights
    from boxlamp.trial.pool import CHUNK, Crew, run

    with ExitStack() as kept:
        if address is not None:
            executor, many = kept.enter_context(at_work.cluster(address))
        else:
            # More processes than pieces of work would only be started and ended again.
            many = min(workers or at_work.cores(), -(-nights // CHUNK))
            executor = kept.enter_context(at_work.local(many))
        progress = kept.enter_context(_bar(nights, output))
        return run(Nights(seed), sides, nights, Crew(executor, ahead=4 * many), progress)


@contextmanager
def _bar(nights: int, output: Output) -> Iterator[Callable[[int], None]]:
    """A progress bar on standard error at a terminal; nothing anywhere else."""
    if not output.err.isatty() or os.environ.get("TERM") == "dumb":
        yield lambda _done: None
        return
    from rich.console import Console
    from rich.progress import BarColumn, MofNCompleteColumn, Progress, TimeRemainingColumn

    columns = ("Imagined nights", BarColumn(), MofNCompleteColumn(), TimeRemainingColumn())
    with Progress(*columns, console=Console(file=output.err), transient=True) as bar:
        task = bar.add_task("", total=nights)
        yield lambda done: bar.advance(task, done)

"""Options that mean the same thing on every command."""

from pathlib import Path
from typing import Annotated, Literal

import typer

from boxlamp.cli import settings

Journal = Annotated[
    Path | None,
    typer.Option(
        "--journal",
        envvar="BOXLAMP_JOURNAL",
        help="The journal file to use instead of your own.",
        show_default=False,
    ),
]
Litter = Annotated[
    str | None,
    typer.Option(
        "--litter",
        help="Which litter; see `boxlamp litters`. Usual: the one in use.",
        show_default=False,
    ),
]
By = Annotated[
    str,
    typer.Option("--by", envvar="BOXLAMP_BY", help="Who is typing.", show_default=False),
]
AsJson = Annotated[bool, typer.Option("--json", help="Print JSON for other programs.")]
AsPlain = Annotated[
    bool, typer.Option("--plain", help="One fact per line, nothing drawn: for grep and readers.")
]
At = Annotated[
    str | None,
    typer.Option(
        "--at",
        help="Another moment: 02:14, -1h, 2026-03-02 02:14 ...",
        show_default=False,
    ),
]
AsKnown = Annotated[
    bool, typer.Option("--as-known", help="Only what had been typed by then, mistakes and all.")
]
Clock = Annotated[
    Literal["24h", "12h"],
    typer.Option(
        "--clock", envvar=settings.CLOCK, case_sensitive=False, help="How times of day are told."
    ),
]
WeightUnit = Annotated[
    Literal["g", "oz"],
    typer.Option(
        "--weight-unit",
        envvar=settings.WEIGHT_UNIT,
        case_sensitive=False,
        help="How weights are told; with oz the dam's in lb.",
    ),
]
TemperatureUnit = Annotated[
    Literal["C", "F"],
    typer.Option(
        "--temperature-unit",
        envvar=settings.TEMPERATURE_UNIT,
        case_sensitive=False,
        help="How temperatures are told.",
    ),
]
PageSize = Literal["a4", "letter"]
Page = Annotated[
    PageSize,
    typer.Option(
        "--page", envvar=settings.PAGE, case_sensitive=False, help="The size of the paper."
    ),
]
NoInput = Annotated[bool, typer.Option("--no-input", help="Never ask; fail instead.")]

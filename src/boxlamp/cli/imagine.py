"""``boxlamp imagine``: a night that nobody had, drawn from published figures by a seed."""

import secrets
from difflib import get_close_matches
from typing import Annotated, Literal

import typer

from boxlamp.cli.output import Output, as_typed
from boxlamp.desk.handing_out import hand_out
from boxlamp.desk.session import UsageError

_SEEDS = 1_000_000


Seed = Annotated[
    int | None,
    typer.Option(
        "--seed",
        metavar="N",
        help="A whole number: the same number, the same night. Usual: a new one.",
        show_default=False,
    ),
]
Size = Annotated[
    Literal["small", "medium", "large", "giant"] | None,
    typer.Option("--size", help="The size of the dam. Usual: by chance.", show_default=False),
]
TroubleName = Annotated[
    str | None,
    typer.Option(
        "--trouble",
        metavar="NAME",
        help="What goes wrong, or none; see --list. Usual: by chance, 16 nights in 100.",
        show_default=False,
    ),
]
Out = Annotated[
    str,
    typer.Option(
        "--output",
        "-o",
        metavar="FILE",
        help="The file to write; `-` for standard output. A night that was written there by "
        "this command and not changed since is replaced, any other file is not.",
    ),
]


def imagine(
    seed: Seed = None,
    size: Size = None,
    trouble: TroubleName = None,
    out: Out = "-",
    listed: Annotated[bool, typer.Option("--list", help="Name the troubles.")] = False,
    figures: Annotated[
        bool, typer.Option("--figures", help="Every figure a night is drawn from, and its source.")
    ] = False,
) -> None:
    """Print an invented night, as a log to replay or drill.

    For example: boxlamp imagine --seed 7 --trouble long-gap -o practice.night

    Normal or troubled, it is drawn from published figures; where none was found, from our choice.
    """
    if listed and figures:
        raise UsageError("--list and --figures are two answers; leave one out.")
    if seed is not None and seed < 0:
        raise UsageError("A seed is 0 or more: boxlamp imagine --seed 7")
    if listed or figures:
        _tell(listed=listed)
        return
    # Loaded here: what draws a night is not needed to refuse a mistyped option.
    from boxlamp.imagine import imagine as draw
    from boxlamp.imagine.untouched import is_untouched

    if trouble is not None:
        _known(trouble)
    chosen = secrets.randbelow(_SEEDS) if seed is None else seed
    night, output = draw(chosen, size=size, trouble=trouble), Output()
    if out == "-":
        output.copy(night.text)
    else:
        hand_out(out, night.text.encode(), may_replace=is_untouched)
        output.offer(f"Wrote {out}. Watch it", f"boxlamp replay {as_typed(out)}")


def _known(trouble: str) -> None:
    from boxlamp.imagine import TROUBLES
    from boxlamp.imagine.heading import NONE

    if trouble not in (NONE, *TROUBLES):
        near = get_close_matches(trouble, TROUBLES, n=1, cutoff=0.4)
        hint = f" Did you mean {near[0]}?" if near else ""
        raise UsageError(
            f"There is no trouble {trouble!r}.{hint} `boxlamp imagine --list` names them all."
        )


def _tell(*, listed: bool) -> None:
    """The troubles with a line each, or every figure with its source."""
    from boxlamp.imagine.sources import sources
    from boxlamp.imagine.troubles import ALL

    output = Output()
    if listed:
        widest = max(len(one.name) for one in ALL)
        output.result(f"{'none':<{widest}}  a whelping that goes as it should")
        output.results(f"{one.name:<{widest}}  {one.says}" for one in ALL)
        return
    for one in sources():
        output.result(f"{one.what}: {one.how}")
        output.result(f"    {one.cited.words}")

"""``boxlamp weights``: the litter on the scale, as a table and a chart."""

from collections.abc import Iterator
from datetime import tzinfo
from typing import Annotated

import typer

from boxlamp.cli import options
from boxlamp.cli.output import Output
from boxlamp.cli.screen import show, width
from boxlamp.desk.session import moment_of, session
from boxlamp.growth.feeding import Feeding, feeding_of
from boxlamp.growth.table import PupGrowth, WeightTable, weight_table
from boxlamp.language import pup_named
from boxlamp.view.feeding_lines import feeding_lines
from boxlamp.view.layout import FINE, PLAIN, Glyphs, Line
from boxlamp.view.text import wrap
from boxlamp.view.weights_chart import litter_chart, pup_chart
from boxlamp.view.weights_data import plain_feeding, plain_weights, weights_json
from boxlamp.view.weights_lines import litter_lines, pup_lines
from boxlamp.view.words import CAUTION


def weights(
    pup: Annotated[
        list[str] | None,
        typer.Argument(metavar="PUP", help="One pup, by number or mark.", show_default=False),
    ] = None,
    chart: Annotated[bool, typer.Option("--chart/--no-chart", help="The chart.")] = True,
    feeding: Annotated[
        bool, typer.Option("--feeding", help="Milk for pups fed by hand, food for the dam.")
    ] = False,
    at: options.At = None,
    as_known: options.AsKnown = False,
    journal: options.Journal = None,
    litter: options.Litter = None,
    as_json: options.AsJson = False,
    plain: options.AsPlain = False,
    no_color: Annotated[bool, typer.Option("--no-color", help="No colour.")] = False,
) -> None:
    """Show the weights of the litter, or of one pup.

    For example: boxlamp weights, or boxlamp weights red

    A round stands under its day of age: d3 is three full days after the first birth.
    """
    output = Output()
    with session(journal, litter) as here:
        moment = moment_of(at, here, output.say)
        verdict = here.assess_at(moment, known=as_known).verdict(moment)
        table = weight_table(verdict)
        one = _meant(pup, table)
        if one is not None and (as_json or plain):
            table = table._replace(pups=(one,))
        fed = _fed(feeding_of(verdict), one) if feeding else None
        if as_json:
            output.data(weights_json(table, here.litter, here.zone, fed))
        elif plain:
            output.results(plain_weights(table, here.zone))
            output.results(plain_feeding(fed) if fed is not None else ())
        else:
            glyphs = FINE if output.fine else PLAIN
            lines = list(_lines(table, one, here.zone, glyphs, chart=chart))
            if fed is not None:
                lines += [[], *feeding_lines(fed, width(), here.zone, glyphs)]
            lines += [[("dim", line)] for line in wrap(CAUTION, width())]
            show(lines, output, colour=output.colour and not no_color)


def _lines(
    table: WeightTable, one: PupGrowth | None, zone: tzinfo, glyphs: Glyphs, *, chart: bool
) -> Iterator[Line]:
    """The table with its chart, of the litter or of one pup."""
    across = width()
    if one is not None:
        yield from pup_lines(table, one, across, zone, glyphs)
        drawn = list(pup_chart(one, across, glyphs)) if chart else []
    else:
        yield from litter_lines(table, across, zone, glyphs)
        drawn = list(litter_chart(table, across, glyphs)) if chart else []
    if drawn:
        yield []
        yield from drawn


def _fed(feeding: Feeding, one: PupGrowth | None) -> Feeding:
    """The feeding tables, of milk only for the pup that was asked for."""
    if one is None:
        return feeding
    return feeding._replace(pups=tuple(each for each in feeding.pups if each.pup is one.pup))


def _meant(words: list[str] | None, table: WeightTable) -> PupGrowth | None:
    """The pup that is named, or None for the whole litter."""
    if not words:
        return None
    number = pup_named(" ".join(words), table.verdict.litter)
    return next(pup for pup in table.pups if pup.number == number)

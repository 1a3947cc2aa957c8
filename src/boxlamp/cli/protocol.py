"""``boxlamp protocol show|check|use|trial``: the limits in force, a vet's own, and their cost."""

from collections.abc import Iterator, Sequence
from pathlib import Path
from typing import Annotated

import typer

from boxlamp import outside
from boxlamp.cli import options
from boxlamp.cli.output import Output
from boxlamp.cli.own_limits import own_limits, refuse
from boxlamp.cli.trial import trial
from boxlamp.desk.session import Session, session
from boxlamp.journal import Make
from boxlamp.language import say
from boxlamp.model.entry import Draft
from boxlamp.model.happenings import Limit
from boxlamp.model.spans import in_words
from boxlamp.protocol.book import Book
from boxlamp.protocol.overrides import objections
from boxlamp.protocol.records import Protocol
from boxlamp.rules.registry import NEVER_RELAXED
from boxlamp.view.machine import SCHEMA, stamp
from boxlamp.view.rule_page import when_words
from boxlamp.view.text import clean, clock_text, counted

app = typer.Typer(
    rich_markup_mode=None,
    no_args_is_help=True,
    help="Show the limits in force, or check and use a vet's own limits.",
    context_settings={"help_option_names": ["-h", "--help"]},
)

OwnFile = Annotated[
    Path, typer.Argument(help="A TOML file with `by`, `why` and [[limit]]s; `-` for a pipe.")
]


@app.command("show")
def show(
    journal: options.Journal = None,
    litter: options.Litter = None,
    default: Annotated[
        bool, typer.Option("--default", help="The shipped protocol, of no litter.")
    ] = False,
    as_json: options.AsJson = False,
    plain: options.AsPlain = False,
) -> None:
    """Show every limit in force for the litter in use, and what changed it.

    For example: boxlamp protocol show, or boxlamp protocol show --default
    """
    output = Output()
    protocol = outside.default_protocol()
    if default:
        if as_json:
            output.data({"schema": SCHEMA, "limits": protocol.model_dump(mode="json")})
        else:
            head = () if plain else (f"Limits {protocol.version}",)
            output.results((*head, *_records(protocol)))
        return
    with session(journal, litter) as here:
        book = here.assess_at(outside.now()).book
        if as_json:
            output.data(_in_force_json(book, here))
        elif plain:
            output.results(_in_force_plain(book))
        else:
            output.results(_in_force(book, here))


def _in_force(book: Book, here: Session) -> Iterator[str]:
    yield f"Limits {book.protocol.version}, as they stand for {here.litter}"
    yield from (f"Tightened: {risk}" for risk in book.now.risks)
    for change in book.changes:
        verb = "Refused" if change.refused else "Changed"
        yield (
            f"{verb}: {change.limit.rule} {change.limit.level}, on the word of "
            f"{clean(change.limit.by)}, {clock_text(change.at, outside.now(), here.zone)}: "
            f"{clean(change.limit.why)}"
        )
    for (rule, clock), levels in book.now.spans.items():
        name = rule if clock == "main" else f"{rule} {clock}"
        told = ", ".join(
            f"{level.word} {in_words(span) if span else 'at once'}"
            for level, span in levels.items()
        )
        yield f"  {name:<34} {told}"


def _in_force_plain(book: Book) -> Iterator[str]:
    """Every limit as rule, clock, level and seconds; then what changed one of them."""
    for (rule, clock), levels in book.now.spans.items():
        for level, span in levels.items():
            yield f"limit\t{rule}\t{clock}\t{level.word}\t{int(span.total_seconds())}"
    yield from (f"tightened\t{clean(risk)}" for risk in book.now.risks)
    for change in book.changes:
        verb = "refused" if change.refused else "changed"
        words = (change.limit.rule, change.limit.level, clean(change.limit.by))
        yield "\t".join((verb, str(change.entry), *words, clean(change.limit.why)))


def _in_force_json(book: Book, here: Session) -> dict[str, object]:
    return {
        "schema": SCHEMA,
        "litter": here.litter,
        "version": book.protocol.version,
        "risks": list(book.now.risks),
        "limits_s": {
            f"{rule} {clock}": {
                level.word: int(span.total_seconds()) for level, span in levels.items()
            }
            for (rule, clock), levels in book.now.spans.items()
        },
        "changes": [
            {
                "entry": change.entry,
                "at": stamp(change.at, here.zone),
                "refused": change.refused,
                **change.limit.model_dump(mode="json"),
            }
            for change in book.changes
        ],
    }


@app.command("check", no_args_is_help=True)
def check(path: OwnFile) -> None:
    """Check a vet's own limits without using them.

    For example: boxlamp protocol check own.toml

    Exit code 0 when they may be used.
    """
    limits = own_limits(path)
    output = Output()
    output.result(f"{path}: {_limits(limits.limit)}, on the word of {clean(limits.by)}: good.")


@app.command("use", no_args_is_help=True)
def use(
    path: OwnFile,
    journal: options.Journal = None,
    litter: options.Litter = None,
    by: options.By = "",
) -> None:
    """Use a vet's own limits for the litter from now on.

    For example: boxlamp protocol use own.toml

    Who, why and when are recorded.
    """
    limits = own_limits(path).as_entries()
    output = Output()
    with session(journal, litter) as here:
        book = here.assess().book
        found = objections(limits, book.now.spans, NEVER_RELAXED, book.protocol.following)
        refuse(path, found)
        now = outside.now()
        makes = [_maker(limit, here.zone_name) for limit in limits]
        here.journal.record_many(here.litter, makes, recorded=now, by=by)
        output.result(f"{_limits(limits)} changed for {here.litter} from now on.")


def _limits(limits: Sequence[object]) -> str:
    return counted(len(limits), "limit", "limits")


def _maker(limit: Limit, zone: str) -> Make:
    draft = Draft(at=outside.now(), zone=zone, what=limit, text=say(limit))
    return lambda _entries: draft


def _records(protocol: Protocol) -> list[str]:
    lines = []
    for record in protocol.records:
        source = protocol.sources[record.source].title if record.source else "no source"
        lines.append(f"{record.rule}\t{when_words(record)}\t[{record.seen}]\t{source}")
    return lines


app.command("trial")(trial)

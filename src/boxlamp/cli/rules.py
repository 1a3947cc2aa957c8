"""``boxlamp rules [ID]``: every rule, or one rule's page with its limits and their sources."""

from typing import Annotated

import typer

from boxlamp import outside
from boxlamp.cli import options
from boxlamp.cli.output import Output
from boxlamp.desk.session import UsageError
from boxlamp.rules.registry import BY_ID, RULES
from boxlamp.view.rule_page import rule_json, rule_lines


def rules(
    rule: Annotated[str | None, typer.Argument(metavar="[ID]", help="One rule.")] = None,
    as_json: options.AsJson = False,
    plain: options.AsPlain = False,
) -> None:
    """List every rule, or explain one.

    For example: boxlamp rules contraction-no-pup

    A rule's page says what it watches, when exactly it fires, and on whose evidence.
    """
    output = Output()
    protocol = outside.default_protocol()
    if rule is not None:
        if rule not in BY_ID:
            raise UsageError(_no_such(rule))
        if as_json:
            output.data(rule_json(BY_ID[rule], protocol))
        else:
            output.results(rule_lines(BY_ID[rule], protocol))
        return
    if as_json:
        output.data({"schema": 1, "rules": [rule_json(each, protocol) for each in RULES]})
        return
    group = ""
    for each in RULES:
        if plain:
            output.result(f"{each.id}\t{each.group}\t{each.title}")
            continue
        if each.group != group:
            group = each.group
            output.result(f"\n{group.capitalize()}")
        never = "  (never relaxed)" if each.never_relaxed else ""
        output.result(f"  {each.id:<28} {each.title}{never}")
    if not plain:
        output.result("\n`boxlamp rules ID` explains one of them.")


def _no_such(rule: str) -> str:
    from difflib import get_close_matches

    near = get_close_matches(rule, BY_ID, n=1, cutoff=0.6)
    hint = f" Did you mean {near[0]!r}?" if near else ""
    return f"There is no rule {rule!r}.{hint} `boxlamp rules` lists them all."

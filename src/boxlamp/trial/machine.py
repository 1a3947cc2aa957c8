"""A trial for other programs: one JSON object, or one fact a line.

The JSON object, ``schema`` 1. A *figure* is ``{"value", "low", "high"}`` with its 95 % interval,
the ends null where there is none; a *comparison* is ``{"sides": [figure, ...], "apart": figure or
null, "same": bool}``, ``apart`` being the second side less the first over the same nights; a
*quartiles* is ``{"low", "middle", "high"}`` or null.

- ``schema`` 1, ``seed``, ``planned``, ``nights``, ``partial``, ``normal``, ``troubled``: nights.
- ``sides``: ``[{"name", "version", "limits": [{"rule", "clock", "level", "seconds"}]}]``.
- ``levels``: ``[{"level", "per_night": comparison, "nights": comparison}]``, of normal nights:
  alerts per night, and the share of nights with one or more.
- ``rules``: ``[{"rule", "level", "per_night": comparison}]``, the most costly first.
- ``never``: the rules that no normal night raised.
- ``troubles``: ``[{"trouble", "nights", "flagged": comparison, "missed": comparison,
  "sooner_min": figure or null, "sides": [{"flagged", "already", "missed", "watched", "after_min":
  quartiles, "before_min": quartiles, "first": [{"rule", "nights"}]}]}]``; the first is ``all``.
  ``already``: only a call or go from before still stood; ``watched``: missed, but with a watch;
  ``sooner_min``: by how much the second side had a call or go standing sooner, where both had.
- ``missed``: ``[{"side", "trouble", "seed"}]``, every troubled night in which no call or go stood.
"""

from collections.abc import Iterator
from typing import Any

from boxlamp.trial.intervals import Figure
from boxlamp.trial.report import Caught, Compared, Report, TroubleRow

SCHEMA = 1


def trial_json(found: Report) -> dict[str, Any]:
    """The whole report as one JSON object."""
    return {
        "schema": SCHEMA,
        "seed": found.seed,
        "planned": found.planned,
        "nights": found.nights,
        "partial": found.partial,
        "normal": found.normal,
        "troubled": found.troubled,
        "sides": [
            {
                "name": side.name,
                "version": side.protocol.version,
                "limits": [
                    limit.model_dump(mode="json", include={"rule", "clock", "level", "seconds"})
                    for limit in side.limits
                ],
            }
            for side in found.sides
        ],
        "levels": [
            {
                "level": row.level.word,
                "per_night": _compared(row.alerts),
                "nights": _compared(row.nights),
            }
            for row in found.levels
        ],
        "rules": [
            {"rule": row.rule, "level": row.level.word, "per_night": _compared(row.alerts)}
            for row in found.rules
        ],
        "never": list(found.never),
        "troubles": [_trouble(row) for row in found.troubles],
        "missed": [one._asdict() for one in found.missed],
    }


def _figure(figure: Figure | None) -> dict[str, float | None] | None:
    return None if figure is None else figure._asdict()


def _compared(compared: Compared) -> dict[str, Any]:
    return {
        "sides": [_figure(side) for side in compared.sides],
        "apart": _figure(compared.apart),
        "same": compared.same,
    }


def _trouble(row: TroubleRow) -> dict[str, Any]:
    return {
        "trouble": row.trouble,
        "nights": row.nights,
        "flagged": _compared(row.flagged),
        "missed": _compared(row.missed),
        "sooner_min": _figure(row.sooner),
        "sides": [_caught(caught) for caught in row.caught],
    }


def _caught(caught: Caught) -> dict[str, Any]:
    return {
        "flagged": caught.flagged,
        "already": caught.already,
        "missed": caught.missed,
        "watched": caught.watched,
        "after_min": caught.after and caught.after._asdict(),
        "before_min": caught.before and caught.before._asdict(),
        "first": [{"rule": rule, "nights": nights} for rule, nights in caught.firsts],
    }


def plain_trial(found: Report) -> Iterator[str]:
    """One fact a line, its parts divided by tabs: what, of which, whose, the value, low, high."""
    yield f"nights\tall\t\t{found.nights}\t{found.planned}"
    yield f"nights\tnormal\t\t{found.normal}"
    yield f"nights\ttroubled\t\t{found.troubled}"
    for row in found.levels:
        yield from _facts("per-night", f"all {row.level.word}", row.alerts, found)
        yield from _facts("nights-with", row.level.word, row.nights, found)
    for rule in found.rules:
        yield from _facts("per-night", f"{rule.rule} {rule.level.word}", rule.alerts, found)
    yield from (f"never\t{rule}" for rule in found.never)
    for trouble in found.troubles:
        yield f"nights\t{trouble.trouble}\t\t{trouble.nights}"
        yield from _facts("flagged", trouble.trouble, trouble.flagged, found)
        yield from _facts("missed-share", trouble.trouble, trouble.missed, found)
        for side, caught in zip(found.sides, trouble.caught, strict=True):
            yield from _times(trouble.trouble, side.name, caught)
        if trouble.sooner is not None:
            yield _fact("sooner-min", trouble.trouble, "difference", trouble.sooner)
    for one in found.missed:
        yield f"missed\t{one.trouble}\t{found.sides[one.side].name}\t{one.seed}"


def _facts(what: str, which: str, compared: Compared, found: Report) -> Iterator[str]:
    for side, figure in zip(found.sides, compared.sides, strict=True):
        yield _fact(what, which, side.name, figure)
    if compared.apart is not None:
        yield _fact(what, which, "difference", compared.apart)


def _fact(what: str, which: str, whose: str, figure: Figure) -> str:
    ends = "\t".join("" if end is None else f"{end:.5f}" for end in (figure.low, figure.high))
    return f"{what}\t{which}\t{whose}\t{figure.value:.5f}\t{ends}"


def _times(trouble: str, whose: str, caught: Caught) -> Iterator[str]:
    for what, count in (("already", caught.already), ("watched", caught.watched)):
        if count:
            yield f"{what}\t{trouble}\t{whose}\t{count}"
    for what, times in (("after-min", caught.after), ("before-min", caught.before)):
        if times is not None:
            yield f"{what}\t{trouble}\t{whose}\t{times.middle}\t{times.low}\t{times.high}"
    for rule, nights in caught.firsts:
        yield f"first\t{trouble} {rule}\t{whose}\t{nights}"

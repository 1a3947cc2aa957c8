"""What the formulas of a rule look like, and how one story is held against them."""

import re
from collections.abc import Iterator, Mapping
from typing import NamedTuple

from boxlamp.protocol.records import Protocol
from judge.limits import Key
from judge.monitor import evaluated
from judge.signals import FALSE, TICK, TRUE, Signal, Span, held

_TERM = re.compile(r"([a-z_]+) := (.+?)(?= [a-z_]+ := |\s*$)")
LEVELS = ("prompt", "watch", "call", "go")


class Clock(NamedTuple):
    """One clock of a rule, by its name in the protocol.

    A level stands while ``runs`` has been true for as long as its limit, and ``shows`` is true
    now. ``shows`` is there for what the clock does not count: a level that is not spoken of while
    something else is so.

    A clock that is read once and whose level is then kept says in ``kept`` where the level
    stands. In it ``reached`` is true while ``runs`` has been true for as long as the limit.
    """

    rule: str
    clock: str
    runs: str
    shows: str = ""
    kept: str = ""


class Chapter(NamedTuple):
    """The rules of one group: numbers, formulas with a name, and the clocks made of them.

    ``numbers`` names settings of the protocol, so that ``{short_rest.early}`` in a formula is a
    bound in seconds. ``terms`` are lines ``name := formula``, evaluated in order: each may use
    those before it. A line further in goes on with the one above; ``#`` begins a remark.
    """

    numbers: Mapping[str, tuple[str, str]]
    terms: str
    clocks: tuple[Clock, ...]

    @property
    def named(self) -> tuple[tuple[str, str], ...]:
        """The formulas with a name, in order."""
        lines = (line.strip() for line in self.terms.splitlines())
        return tuple(_TERM.findall(" ".join(line for line in lines if not line.startswith("#"))))

    @property
    def rules(self) -> frozenset[str]:
        """The rules this chapter judges."""
        return frozenset(clock.rule for clock in self.clocks)


Pages = list[tuple[float, dict[Key, float]]]


def levels(
    chapter: Chapter, known: dict[str, Signal], pages: Pages, protocol: Protocol
) -> Iterator[tuple[str, str, Signal]]:
    """``(rule, level, where it stands)`` of every clock of a chapter that has such a level.

    ``known`` are the signals made of the entries; the terms of the chapter join them.
    """
    numbers = {
        name: Span(protocol.numbers[setting]) for name, setting in chapter.numbers.items()
    } | {"tick": Span(TICK)}
    for name, formula in chapter.named:
        known[name] = evaluated(formula.format(**numbers), known)
    for clock in chapter.clocks:
        known["runs"] = evaluated(clock.runs.format(**numbers), known)
        if len(known["runs"]) == 1 and known["runs"][0][1] == FALSE:
            continue
        for level in LEVELS:
            formula, in_force = _stands((clock.rule, clock.clock, level), pages)
            if formula:
                shown = f"({formula}) and ({clock.shows.format(**numbers)})"
                stands = evaluated(shown if clock.shows else formula, known | in_force)
                if clock.kept:
                    kept = clock.kept.format(**numbers)
                    stands = evaluated(kept, known | {"reached": stands})
                yield clock.rule, level, stands


def _stands(key: Key, pages: Pages) -> tuple[str, dict[str, Signal]]:
    """The formula of one level: under each limit that is ever in force, the clock has run so long.

    A limit that changes midway is a signal like any other: true while it is in force.
    """
    limits = list(dict.fromkeys(page[key] for _, page in pages if key in page))
    formulas, in_force = [], {}
    for number, limit in enumerate(limits):
        stands = f"historically[0:{Span(limit)}](runs)"
        if len(pages) > 1:
            name = f"limit{number}"
            in_force[name] = held(
                (place, TRUE if page.get(key) == limit else FALSE) for place, page in pages
            )
            stands = f"({name} and {stands})"
        formulas.append(stands)
    return " or ".join(formulas), in_force

"""The call sheet as lines of styled text: a column of labels, and beside it the answers.

On a screen of 80 by 24 all of it is seen at once, with a line left to type in. When there is
more to say than room, tellings are shortened in the order of ``GIVES_WAY``,
and what had to be left out is named. What stands at the top is never given up.
"""

from boxlamp.model.levels import Level
from boxlamp.paper.call_sheet.facts import TO_SEE, CallSheet, Fact
from boxlamp.paper.call_sheet.page import Page, in_order, named
from boxlamp.paper.call_sheet.words import capital, listed
from boxlamp.view.layout import Line
from boxlamp.view.text import wrap

ROOM = 22
"""Lines that fit a screen of 24 with a line to type in and one to spare."""
WIDE = 80
"""The least width for which a sheet is kept to its room; below it grows longer."""
_OWN = frozenset({"own words", "noted"})
_HEADS = frozenset({"situation", "background", "assessment", "request"})
# What needs no label of its own under the name of its part.
_SILENT = frozenset({"who", "the dam", "pups", "ask"})


def sheet_lines(sheet: CallSheet, width: int, room: int | None = ROOM) -> list[Line]:
    """The sheet in at most ``room`` lines, or, with None, however long it gets."""
    lines = all_lines(sheet, width, room)
    return lines if room is None else window(lines, width, room)


def all_lines(sheet: CallSheet, width: int, room: int | None) -> list[Line]:
    """The sheet made as short as ``room`` asks for; longer where that does not help."""
    page = Page(sheet.caution, width, room or 0)
    facts = _headed(in_order([*sheet.facts, *_unknown(sheet)]))
    return page.set(facts if room is None else page.fitted(facts, all_of_it=width < WIDE))


def _unknown(sheet: CallSheet) -> list[Fact]:
    """What nobody has written down: what can be seen now, and what is asked besides."""
    look = [words for words in sheet.unknown if words in TO_SEE]
    rest = [words for words in sheet.unknown if words not in TO_SEE]
    facts = list[Fact]()
    if look:
        # What stands in somebody's own words no program can take for an answer.
        known = any(fact.label in _OWN for fact in sheet.facts)
        unless = ", unless your own words above say it" if known else ""
        when = "Look now" if sheet.level is Level.GO else "Look before you ring"
        when = "Look when your hands are free" if sheet.hands_full else when
        facts.append(
            Fact("assessment", "not noted", f"{when}{unless}: {listed(look)}.", role="dim")
        )
    if rest:
        words = capital(f"{listed(rest)}.")
        facts.append(Fact("assessment", "not known", words, ("",), "not noted", "dim"))
    return facts


def _headed(facts: list[Fact]) -> list[Fact]:
    """The first fact of each part of SBAR stands under the part's name."""
    headed, part = list[Fact](), ""
    for fact in facts:
        first = fact.part in _HEADS and fact.part != part
        headed.append(_head(fact) if first else fact)
        part = fact.part
    return headed


def _head(fact: Fact) -> Fact:
    silent = fact.label in _SILENT
    words, *shorter = (
        words if silent or not words else named(fact._replace(words=words))
        for words in (fact.words, *fact.shorter)
    )
    return fact._replace(label=fact.part.upper(), words=words, shorter=tuple(shorter))


def furthest(count: int, room: int) -> int:
    """The place from which the last of so many lines are seen."""
    return max(0, count - room + 1) if count > room else 0


def window(lines: list[Line], width: int, room: int, first: int = 0) -> list[Line]:
    """The lines from ``first`` on, as many as there is room for.

    What is not seen is said in the last line, with the key that shows it.
    """
    if len(lines) <= room:
        return lines
    first = min(first, furthest(len(lines), room))
    shown = lines[first : first + max(0, room - 1)]
    below = len(lines) - first - len(shown)
    words = f"and {below} more lines: PgDn." if below else "That is the end."
    words += " PgUp: back." if first else ""
    return [*shown, [("owed", wrap(words, width)[0])]][:room]

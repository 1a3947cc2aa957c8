"""The call sheet as lines of styled text: a column of labels, and beside it the answers.

On a screen of 80 by 24 all of it is seen at once, with a line left to type in. When there is
more to say than room, tellings are shortened in an order that is written down with each fact,
and what had to be left out is named. What stands at the top is never given up.
"""

from functools import lru_cache
from typing import NamedTuple

from boxlamp.paper.call_sheet_facts import CallSheet, Fact, capital, listed
from boxlamp.view.layout import Line
from boxlamp.view.text import width_of, wrap

ROOM = 22
"""Lines that fit a screen of 24 with a line to type in and one to spare."""
WIDE = 80
"""The least width for which a sheet is kept to its room; below it grows longer."""
_LABEL = 13
_NARROW = 60
_UNKNOWN = (6, 2)
# A longer paragraph of several facts would hide each of them.
_PARAGRAPH = 2
_HEADS = frozenset({"situation", "background", "assessment", "request"})
# What needs no label of its own under the name of its part.
_SILENT = frozenset({"who", "the dam", "pups", "ask"})
_MAY_GO = frozenset({"background", "assessment"})
_STAYS = frozenset({"not noted", "left out"})
_LOUD = frozenset({"watch", "call", "go"})
_QUIET = frozenset({"text", "dim"})


def sheet_lines(sheet: CallSheet, width: int, room: int | None = ROOM) -> list[Line]:
    """The sheet in at most ``room`` lines, or, with None, however long it gets."""
    lines = all_lines(sheet, width, room)
    return lines if room is None else window(lines, width, room)


def all_lines(sheet: CallSheet, width: int, room: int | None) -> list[Line]:
    """The sheet made as short as ``room`` asks for; longer where that does not help."""
    page = Page(sheet.caution, width, room or 0)
    whole = facts = _headed(_in_order([*sheet.facts, *_unknown(sheet)]))
    if room is None:
        return page.set(facts)
    for way in (page.shortened, page.joined):
        facts = facts if page.holds(facts) else way(facts)
    if not page.holds(facts) and width >= WIDE and room >= ROOM:
        facts = page.without(whole)
    return page.set(facts)


def _unknown(sheet: CallSheet) -> list[Fact]:
    """What nobody has written down, in one telling at the end of the assessment."""
    if not sheet.unknown:
        return []
    shorter = [
        f"{', '.join(sheet.unknown[:some])} and {len(sheet.unknown) - some} more."
        for some in _UNKNOWN
        if len(sheet.unknown) > some + 1
    ]
    words = capital(f"{listed(sheet.unknown)}.")
    return [Fact("assessment", "not noted", words, tuple(map(capital, shorter)), 4, "dim")]


def _in_order(facts: list[Fact]) -> list[Fact]:
    order = ("dial", "situation", "background", "assessment", "request", "end")
    return sorted(facts, key=lambda fact: order.index(fact.part))


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
        words if silent or not words else _named(fact._replace(words=words))
        for words in (fact.words, *fact.shorter)
    )
    return fact._replace(label=fact.part.upper(), words=words, shorter=tuple(shorter))


class Page(NamedTuple):
    """So many columns and lines, and the words that stand at the end of every sheet."""

    caution: str
    width: int
    room: int

    def holds(self, facts: list[Fact]) -> bool:
        """Whether there is room for these facts."""
        last = len(self._end(facts))
        return sum(map(self.height, facts)) + last <= self.room

    def height(self, fact: Fact) -> int:
        """How many lines a fact takes; what stands at the end is counted together."""
        return len(told(fact, self.width)) if fact.part != "end" else 0

    def set(self, facts: list[Fact]) -> list[Line]:
        """The facts as lines."""
        lines = [line for fact in facts if fact.part != "end" for line in told(fact, self.width)]
        return [list(line) for line in lines] + [[("text", line)] for line in self._end(facts)]

    def _end(self, facts: list[Fact]) -> list[str]:
        """The last words, across the whole width and in one paragraph: every line is needed."""
        last = [fact.words for fact in facts if fact.part == "end"]
        return wrap(" ".join([*last, self.caution]), self.width)

    def shortened(self, facts: list[Fact]) -> list[Fact]:
        """The facts told more shortly, those of least worth first, as far as it is needed."""
        for place in _by_worth(facts):
            for words in filter(None, facts[place].shorter):
                if self.holds(facts):
                    return facts
                shorter = facts[place]._replace(words=words)
                if self.height(shorter) < self.height(facts[place]):
                    facts = [*facts[:place], shorter, *facts[place + 1 :]]
        return facts

    def joined(self, facts: list[Fact]) -> list[Fact]:
        """Neighbours told in one paragraph wherever that saves a line, as far as it is needed."""
        place = len(facts) - 2
        while place >= 0 and not self.holds(facts):
            for end in range(place + 2, len(facts) + 1):
                both = _paragraph(facts[place:end])
                if both is None:
                    break
                if self.height(both) > _PARAGRAPH:
                    break
                if self.height(both) < sum(map(self.height, facts[place:end])):
                    facts = [*facts[:place], both, *facts[end:]]
                    break
            place -= 1
        return facts

    def without(self, facts: list[Fact]) -> list[Fact]:
        """The facts at their shortest, without those that there is no room for: they are named."""
        order = sorted(filter(_may_go, facts), key=lambda one: ("" not in one.shorter, one.worth))
        left: list[str] = []
        joined = self.joined(list(map(self._shortest, facts)))
        for fact in order:
            if self.holds(joined):
                break
            left.append(fact.label)
            facts = [one for one in facts if one is not fact]
            joined = self.joined(_naming(list(map(self._shortest, facts)), left))
        return joined

    def _shortest(self, fact: Fact) -> Fact:
        """A fact in its shortest telling; an alert keeps its sentence if that costs no line."""
        tellings = [words for words in fact.shorter if words]
        if fact.role in _LOUD:
            told = [fact, *(fact._replace(words=words) for words in tellings)]
            return min(told, key=self.height)
        return fact._replace(words=tellings[-1]) if tellings else fact


@lru_cache(maxsize=1024)
def told(fact: Fact, width: int) -> list[Line]:
    """One fact: its label, then its words, wrapped under themselves."""
    if width < _NARROW:
        words = f"{fact.label}: {fact.words}" if fact.label else fact.words
        return [[(fact.role, line)] for line in wrap(words, width)]
    first, *rest = wrap(fact.words, width - _LABEL)
    label = fact.label + " " * (_LABEL - width_of(fact.label))
    heads = "name" if fact.label.isupper() else "dim"
    role = fact.role if fact.role in _LOUD else heads
    lines: list[Line] = [[(role, label), (fact.role, first)]]
    return lines + [[("text", " " * _LABEL), (fact.role, line)] for line in rest]


def _may_go(fact: Fact) -> bool:
    """Whether a fact may be left out at all: first what says so itself, at the worst nearly all."""
    return fact.part in _MAY_GO and fact.label not in _STAYS and not fact.label.isupper()


def _paragraph(facts: list[Fact]) -> Fact | None:
    """Several facts of one part as one, each after its label; None when one must stand alone."""
    first, *others = facts
    if any(one.part != first.part or one.role not in _QUIET for one in facts):
        return None
    words = [first.words, *map(_named, others)]
    return first._replace(words=" ".join(words), shorter=(), role="text")


def _named(fact: Fact) -> str:
    """A fact inside a paragraph, after its label; a question is answered by the words alone."""
    if fact.label.endswith("?"):
        answered = fact.words.startswith(capital(fact.label.rstrip("?")))
        return fact.words if answered else f"{capital(fact.label)} {fact.words}"
    if not fact.label:
        return fact.words
    return f"{capital(fact.label)}: {fact.words[:1].lower()}{fact.words[1:]}"


def _naming(facts: list[Fact], left: list[str]) -> list[Fact]:
    """The facts with a line on the ones that were left out."""
    words = f"No room for: {', '.join(dict.fromkeys(filter(None, left)))}."
    named = Fact("assessment", "left out", words, role="dim")
    return _in_order([*facts, named])


def _by_worth(facts: list[Fact]) -> list[int]:
    return sorted(
        (place for place, fact in enumerate(facts) if fact.shorter),
        key=lambda place: facts[place].worth,
    )


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

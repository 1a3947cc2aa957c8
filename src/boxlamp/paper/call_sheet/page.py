"""A page of so many columns and lines: facts set on it, shortened, joined, left out."""

import re
from functools import lru_cache
from typing import NamedTuple

from boxlamp.paper.call_sheet.facts import Fact
from boxlamp.paper.call_sheet.words import capital
from boxlamp.view.layout import Line
from boxlamp.view.telephones import telephones
from boxlamp.view.text import width_of, wrap

_LABEL = 13
_WHOLE = 22  # lines: with fewer the sheet is turned page by page, and nothing is left out
_NARROW = 60
# A longer paragraph of several facts would hide each of them.
_PARAGRAPH = 2
# It still hides them less than leaving them out.
_LONG_PARAGRAPH = 3
_MAY_GO = frozenset({"background", "assessment"})
_STAYS = frozenset({"not noted", "left out"})
_LOUD = frozenset({"watch", "call", "go"})
_QUIET = frozenset({"text", "dim"})
# What was known before tonight, and what must not be cut as long as any of that stands.
_EARLIER = frozenset({"past", "limits", "so far", "not noted", "her history", "term"})
_WHOLE_FIRST = frozenset({
    "gains", "third pup", "second pup", "pup notes", "given", "sickest pup", "own words",
})  # fmt: skip
# Stands for a space in a number while lines are broken; nobody can type it, it would be cleaned.
_HELD = "\ue000"


class Choice(NamedTuple):
    """Facts, which of them are left out, and how many lines a paragraph may have."""

    facts: list[Fact]
    left: tuple[Fact, ...]
    most: int

    @property
    def kept(self) -> list[Fact]:
        """The facts that are not left out."""
        return [fact for fact in self.facts if fact not in self.left]

    def at_least(self, fact: Fact) -> "Choice":
        """The same with what must still stand of a fact as its shortest telling."""
        short = fact._replace(shorter=(*filter(None, fact.shorter), fact.least))
        return self._replace(facts=[short if one == fact else one for one in self.facts])

    def without(self, fact: Fact) -> "Choice":
        """The same with a fact left out, whatever its shortest telling is by now."""
        gone = [one for one in self.facts if one._replace(shorter=fact.shorter) == fact]
        return self._replace(left=tuple(dict.fromkeys((*self.left, *gone))))


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

    def _end(self, facts: list[Fact]) -> tuple[str, ...]:
        """The last words, across the whole width and in one paragraph: every line is needed."""
        last = [fact.words for fact in facts if fact.part == "end"]
        return _last_words(" ".join([*last, self.caution]), self.width)

    def fitted(self, facts: list[Fact], *, all_of_it: bool = False) -> list[Fact]:
        """The facts as fully as there is room for them, or as shortly as they can be told.

        What the request says again goes at once. Then some are told more shortly, then several
        in one paragraph; what was known before tonight goes before anything is cut that was
        given or seen in a pup tonight; at last those that give way first are left out and
        named. Where ``all_of_it`` is asked for and does not fit, it is told whole: it is read
        page by page.
        """
        whole = facts
        if self.holds(facts):
            return facts
        facts = [fact for fact in facts if fact.topic != "said below"]
        shortened = self._shortened(facts)
        if self.holds(shortened) and not _cut(shortened, facts):
            return shortened
        for most in (_PARAGRAPH, _LONG_PARAGRAPH):
            if self._room_for(Choice(facts, (), most)):
                return self._told(self._best(Choice(facts, (), most)))
        if all_of_it or self.room < _WHOLE:
            return whole
        return self._without(facts)

    def _best(self, choice: "Choice") -> "Choice":
        """The room given away; first to what must not be cut, if it would be."""
        found = self._filled(choice)
        if not _cut(found.kept, choice.facts):
            return found
        earlier = tuple(fact for fact in choice.facts if _may_go(fact) and fact.topic in _EARLIER)
        fuller = self._filled(choice._replace(left=tuple({*choice.left, *earlier})))
        return fuller if _cut(fuller.kept, choice.facts) < _cut(found.kept, choice.facts) else found

    def _shortened(self, facts: list[Fact]) -> list[Fact]:
        """The facts told more shortly, in the order of giving way, as far as it is needed."""
        for place in _by_turn(facts):
            for words in filter(None, facts[place].shorter):
                if self.holds(facts):
                    return facts
                shorter = facts[place]._replace(words=words)
                if self.height(shorter) < self.height(facts[place]):
                    facts = [*facts[:place], shorter, *facts[place + 1 :]]
        return facts

    def joined(self, facts: list[Fact], most: int = _PARAGRAPH) -> list[Fact]:
        """Neighbours told in one paragraph of so many lines at most, as far as it is needed."""
        place = len(facts) - 2
        while place >= 0 and not self.holds(facts):
            for end in range(place + 2, len(facts) + 1):
                both = _paragraph(facts[place:end])
                if both is None:
                    break
                if self.height(both) > most:
                    break
                if self.height(both) < sum(map(self.height, facts[place:end])):
                    facts = [*facts[:place], both, *facts[end:]]
                    break
            place -= 1
        return facts

    def _without(self, facts: list[Fact]) -> list[Fact]:
        """The facts without those that there is no room for: they are named."""
        order = sorted(filter(_may_go, facts), key=lambda one: one.turn)
        choice = Choice(facts, (), _LONG_PARAGRAPH)
        for least in (True, False):
            for fact in order:
                if self._room_for(choice):
                    break
                choice = choice.at_least(fact) if fact.least and least else choice.without(fact)
        return self._told(self._best(choice))

    def _room_for(self, choice: "Choice") -> bool:
        """Whether the facts fit at their shortest without those that are left out."""
        kept = [self._shortest(fact) for fact in choice.kept]
        return self.holds(self._told(choice._replace(facts=kept)))

    def _told(self, choice: "Choice") -> list[Fact]:
        """The facts as close together as is needed, and the names of those that are left out."""
        return self.joined(_naming(choice.kept, choice.left), choice.most)

    def _filled(self, choice: "Choice") -> "Choice":
        """The room that is still there given away, to the last to give way first.

        A fact takes it to be told more fully, or to be told at all.
        """
        facts, left = choice.facts, choice.left
        shown = {place: self._shortest(one) for place, one in enumerate(facts) if one not in left}
        for place in reversed(_by_turn(facts)):
            fact = facts[place]
            fewer = tuple(one for one in left if one is not fact)
            for words in (fact.words, *filter(None, fact.shorter)):
                fuller = shown | {place: fact._replace(words=words)}
                told = [fuller[one] for one in sorted(fuller)]
                if self.holds(self._told(Choice(told, fewer, choice.most))):
                    shown, left = fuller, fewer
                    break
        return Choice([shown[place] for place in sorted(shown)], left, choice.most)

    def _shortest(self, fact: Fact) -> Fact:
        """A fact in its shortest telling; an alert keeps its sentence if that costs no line."""
        tellings = [words for words in fact.shorter if words]
        if fact.role in _LOUD or fact.part == "dial":
            told = [fact, *(fact._replace(words=words) for words in tellings)]
            return min(told, key=self.height)
        return fact._replace(words=tellings[-1]) if tellings else fact


@lru_cache(maxsize=1024)
def told(fact: Fact, width: int) -> list[Line]:
    """One fact: its label, then its words, wrapped under themselves."""
    if width < _NARROW:
        narrow = _set(fact, width, f"{fact.label}: " if fact.label else "")
        return [[(fact.role, line)] for line in narrow]
    first, *rest = _set(fact, width - _LABEL)
    label = fact.label + " " * (_LABEL - width_of(fact.label))
    heads = "name" if fact.label.isupper() else "dim"
    role = fact.role if fact.role in _LOUD else heads
    lines: list[Line] = [[(role, label), (fact.role, first)]]
    return lines + [[("text", " " * _LABEL), (fact.role, line)] for line in rest]


def _set(fact: Fact, cells: int, before: str = "") -> list[str]:
    """The words of a fact in lines of so many cells."""
    words = f"{before}{fact.words}"
    if fact.part != "dial":
        return wrap(words, cells)
    if fact.shorter and width_of(words) > cells:
        words = before + (fact.words if "\n" in fact.words else fact.shorter[0])
    return [line for one in words.split("\n") for line in _unbroken(one, cells)]


def _unbroken(words: str, cells: int) -> list[str]:
    """The words in lines, no telephone number over two of them unless it is wider than one."""
    for number in telephones(words):
        words = words.replace(number, _HELD.join(number.split()))
    return [line.replace(_HELD, " ") for line in wrap(words, cells)]


@lru_cache(maxsize=16)
def _last_words(words: str, width: int) -> tuple[str, ...]:
    """They are the same on every try, and there are many tries."""
    return tuple(wrap(words, width))


def _may_go(fact: Fact) -> bool:
    """Whether a fact may be left out at all: first what says so itself, at the worst nearly all."""
    may = fact.part in _MAY_GO or fact.topic == "watches"
    return may and fact.label not in _STAYS and not fact.label.isupper()


def _paragraph(facts: list[Fact]) -> Fact | None:
    """Several facts of one part as one, each after its label; None when one must stand alone."""
    first, *others = facts
    if any(one.part != first.part or one.role not in _QUIET for one in facts):
        return None
    if any(one.topic == "sickest pup" for one in others):
        return None  # the pups are a list, and it begins on a line of its own
    words = [first.words, *map(named, others)]
    return first._replace(words=" ".join(words), shorter=(), role="text")


def named(fact: Fact) -> str:
    """A fact inside a paragraph, after its label; a question is answered by the words alone."""
    if fact.label.endswith("?"):
        answered = fact.words.startswith(capital(fact.label.rstrip("?")))
        return fact.words if answered else f"{capital(fact.label)} {fact.words}"
    if not fact.label:
        return fact.words
    return f"{capital(fact.label)}: {fact.words[:1].lower()}{fact.words[1:]}"


def _naming(facts: list[Fact], left: tuple[Fact, ...]) -> list[Fact]:
    """The facts with a line on the ones that were left out and stand nowhere else."""
    if not left:
        return facts
    # What leans on the label above it is called by its first words: ``pup 5``.
    names = [fact.label or _first_words(fact) for fact in left]
    words = f"{capital(', '.join(dict.fromkeys(names)))} (no room)."
    return in_order([*facts, Fact("assessment", "left out", words, role="dim")])


def _first_words(fact: Fact) -> str:
    return re.split(r"[:(]", fact.words.lower())[0].strip()


def _cut(shown: list[Fact], facts: list[Fact]) -> int:
    """How many facts that must not be cut are not told in full."""
    words = {fact.words for fact in shown}
    return sum(fact.topic in _WHOLE_FIRST and fact.words not in words for fact in facts)


def _by_turn(facts: list[Fact]) -> list[int]:
    """The places of the facts that have shorter tellings, the first to give way first."""
    return sorted(
        (place for place, fact in enumerate(facts) if fact.shorter),
        key=lambda place: facts[place].turn,
    )


def in_order(facts: list[Fact]) -> list[Fact]:
    """The facts in the order of the telephone call."""
    order = ("dial", "situation", "background", "assessment", "request", "end")
    return sorted(facts, key=lambda fact: order.index(fact.part))

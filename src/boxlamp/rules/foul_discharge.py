"""Foul, pus-like or bright yellow discharge.

What it watches: discharge that smells foul, looks like pus, or is mustard-yellow, until the next
discharge that is none of these. It is a call at once. It is a go at once while she is also ill:
her last temperature was in the fever band, or she is dull until written down as bright, or
refuses food until she has eaten. Waters of that colour belong to another rule: they are often
tan or yellow.

Why it matters: a foul smell or pus speaks of infection, or of a pup or an afterbirth that has
died inside; other pups may still be alive. Bright yellow can be a pup's first dung, passed
under great stress. This rule is never relaxed.

What to do: ring, then take her temperature and write it down. Wash your hands before you touch
a pup.

Example:
    06:00 discharge brown some foul
    #= 06:00 call foul-discharge
    06:10 temp 39.7
    #= 06:10 go foul-discharge
    07:30 temp 39.0
    #= 07:30 call foul-discharge
    08:00 discharge clear some
    #= 08:00 cleared foul-discharge
"""

from collections.abc import Iterable, Iterator
from collections.abc import Set as AbstractSet

from boxlamp.model.entry import Entry
from boxlamp.model.happenings import DamState, Discharge, Temperature
from boxlamp.model.levels import Level
from boxlamp.model.story import Story
from boxlamp.rules.rule import Rule
from boxlamp.rules.spell import Spell, Stopwatch, Yardstick

ID = "foul-discharge"
_CURE = {"dull": {"bright", "recovered"}, "refused-food": {"ate", "recovered"}}
_SMELLS = "foul"
_WORDS = {"dull": "she is dull", "refused-food": "she refuses food", "fever": "she has a fever"}

_Illness = dict[str, int]
"""What makes her ill now, each with the number of the entry that says so."""


def watch(story: Story, yardstick: Yardstick) -> Iterator[Spell]:
    """One clock for the discharge, and one for the time in which she is also ill."""
    main, both = Stopwatch(ID), Stopwatch(ID, clock="ill")
    ill: _Illness = {}
    seen: dict[str, None] = {}
    for entry in story.of(Discharge, Temperature, DamState):
        match entry.what:
            case Discharge() as what if _bad(what):
                seen |= dict.fromkeys(_seen(what))
                _tell(main, entry, _listed(seen))
            case Discharge():
                main.close(entry)
                seen.clear()
            case Temperature(where="dam", celsius=value):
                reached = yardstick.levels_at(ID, "fever", value, entry.at)
                _note(ill, entry.id, now={"fever"} if reached else set(), over={"fever"})
            case DamState(signs=signs):
                over = {name for name, cure in _CURE.items() if cure & set(signs)}
                _note(ill, entry.id, now=_CURE.keys() & set(signs), over=over)
            case _:
                pass
        _follow(both, main, entry, ill)
    yield from main.finish()
    yield from both.finish()


def _bad(what: Discharge) -> bool:
    return what.amount != "none" and (what.foul or what.colour in {"pus", "yellow"})


def _seen(what: Discharge) -> Iterator[str]:
    """What was written down of it, in its own words."""
    if what.foul:
        yield _SMELLS
    if what.colour != "unknown":
        yield what.colour


def _listed(seen: Iterable[str]) -> str:
    """``foul``, ``brown and foul``, ``brown, yellow and foul``: the smell last."""
    *most, last = sorted(seen, key=lambda word: word == _SMELLS)
    return " and ".join(filter(None, (", ".join(most), last)))


def _tell(main: Stopwatch, entry: Entry, detail: str) -> None:
    """Run the clock, and let it say all that was seen since it began."""
    if main.running and detail != main.detail:
        main.retell(entry, detail)
    else:
        main.open(entry, detail=detail)


def _note(ill: _Illness, number: int, *, now: AbstractSet[str], over: AbstractSet[str]) -> None:
    """Take in what one entry says of her: signs that are over, then signs that are there now."""
    for name in over - now:
        ill.pop(name, None)
    for name in sorted(now):
        ill.setdefault(name, number)


def _follow(both: Stopwatch, main: Stopwatch, entry: Entry, ill: _Illness) -> None:
    """Run the second clock while the first runs and she is ill; say what is true by now."""
    signs = " and ".join(_WORDS[name] for name in sorted(ill)) if main.running else ""
    detail = f"{main.detail}, and {signs}" if signs else ""
    if detail == both.detail:
        return
    since = both.since
    both.close(entry)
    if detail:
        reasons = {*main.opened, *ill.values()} - {entry.id}
        both.open(entry, since=since, also=tuple(sorted(reasons)), detail=detail)


RULE = Rule(
    id=ID,
    group="labour",
    title="Foul, pus-like or yellow discharge",
    watch=watch,
    says={
        "main": "Her discharge is {detail}.",
        "ill": "Her discharge is {detail}.",
    },
    do={
        Level.CALL: (
            "Ring the vet now. Say the colour, the smell, and how she is in herself.",
            "Take her temperature and write it down. Wash your hands before you touch a pup.",
        ),
        Level.GO: (
            "Leave for the vet now and ring on the way.",
            "Take all the pups, warm, in their own box.",
        ),
    },
    page=__doc__,
    never_relaxed=True,
)

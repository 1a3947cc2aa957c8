"""Which night ``boxlamp drill`` is about: one of the library, a file, an own litter, a seed."""

from pathlib import Path
from typing import NamedTuple

from boxlamp import outside
from boxlamp.desk import drills
from boxlamp.desk.files import read_record
from boxlamp.desk.session import UsageError, session
from boxlamp.training.drill.night import PastNight
from boxlamp.training.drill.order import next_night
from boxlamp.training.drill.record import Result
from boxlamp.view.text import clean

_DIGITS = 18
SEEDS = f"a seed is a whole number from 0 to {'9' * _DIGITS}, such as 42"


class Chosen(NamedTuple):
    """The night to be drilled: what it is known by, where it can be replayed, what it teaches."""

    key: str
    night: PastNight
    replay: str
    lesson: str


def chosen(name: str | None, past: tuple[Result, ...]) -> Chosen:
    """The night that is meant, or the one that helps most."""
    nights = drills.library()
    if name is None:
        if not nights:
            raise UsageError("No night came with the program. Name one: boxlamp drill FILE")
        best = next_night([one.shelf for one in nights], past)
        return _shelved(next(one for one in nights if one.shelf == best))
    found = list(drills.found_in(nights, name))
    if len(found) == 1:
        return _shelved(found[0])
    if found:
        numbers = ", ".join(str(one.number) for one in found)
        raise UsageError(f"Several nights are called {clean(name)}: take a number, {numbers}.")
    if name.isdecimal() and not drills.is_there(name):
        raise UsageError(f"There is no night {name}: they run from 1 to {len(nights)}; see --list.")
    if not drills.is_there(name) and name != "-":
        raise UsageError(
            f"There is no file and no night called {clean(name)}. `boxlamp drill --list` shows "
            "the nights that come with the program; a litter of your own: boxlamp drill --litter "
            "NAME"
        )
    record = read_record(name)
    return Chosen(f"file {record.slug}", drills.past_night(record), name, record.lesson)


def _shelved(one: drills.Shelved) -> Chosen:
    return Chosen(one.shelf.key, drills.past_night(one.record), one.path.stem, one.record.lesson)


def imagined(seed: str | None) -> Chosen:
    """A night drawn from published figures; without a seed another one each time."""
    from secrets import randbelow

    from boxlamp.imagine import imagine
    from boxlamp.language import read_night

    if seed is not None and not (seed.isdecimal() and len(seed) <= _DIGITS):
        raise UsageError(f"--imagine {clean(seed)[:40]}: {SEEDS}.")
    number = int(seed) if seed is not None else randbelow(100_000)
    made = imagine(number)
    night = PastNight(made.entries, outside.default_protocol(), made.ended)
    return Chosen(f"imagined {number}", night, "", read_night(made.text).lesson)


def own(journal: Path | None, litter: str) -> Chosen:
    """A litter of the person's own journal, as far as it is written down."""
    with session(journal, litter) as here:
        entries, slug = here.entries, here.litter
    if not entries:
        raise UsageError(f"Nothing is written down of {clean(slug)} yet.")
    end = max(max(entry.at, entry.recorded) for entry in entries)
    return Chosen(f"own {slug}", PastNight(entries, outside.default_protocol(), end), "", "")

"""Small phrases that several parts of the summary share."""

from collections.abc import Iterable
from datetime import date, datetime, timedelta

from boxlamp.model.levels import Level
from boxlamp.model.spans import in_words
from boxlamp.paper.account.models import Account, PupAccount
from boxlamp.paper.document import Role
from boxlamp.paper.reader import Reader
from boxlamp.view.text import date_text

UNKNOWN = "not written down"


def said(value: str | None) -> str:
    """The value, or that nobody wrote it down."""
    return value or UNKNOWN


def yes_or_no(value: bool | None) -> str:  # noqa: FBT001 - a fact and no switch
    """``yes``, ``no``, or that nobody said."""
    return UNKNOWN if value is None else "yes" if value else "no"


def about(at: datetime, reader: Reader, *, estimated: bool) -> str:
    """A day and a time; ``about`` before one that was estimated."""
    return f"about {reader.moment(at)}" if estimated else reader.moment(at)


def day(one: date) -> str:
    """A calendar day with its year: ``Thu 5 Mar 2026``."""
    return date_text(one, year=True)


def length(span: timedelta | None) -> str:
    """A length of time; nothing for none, ``0 min`` for less than a minute."""
    if span is None:
        return ""
    return "0 min" if span < timedelta(minutes=1) else in_words(span)


def pup_name(pup: PupAccount) -> str:
    """``pup 3 (red)``, or ``pup 3``. A mark alone would read as a sign: a blue pup lacks oxygen."""
    return f"pup {pup.number} (marked {pup.mark})" if pup.mark else f"pup {pup.number}"


def seen_alive(pup: PupAccount) -> bool:
    """Whether anything was written down that only a living pup does. A dead one is known."""
    return (
        pup.died is not None
        or bool(pup.state)
        or pup.state_at_birth == "alive"
        or pup.first_milk is not None
        or any(step.step == "breathing" for step in pup.steps)
    )


def names(account: Account) -> dict[int, str]:
    """What each pup is called on this paper, by its number."""
    return {pup.number: pup_name(pup) for pup in account.pups}


def listed(words: Iterable[str]) -> str:
    """``a``, ``a and b``, ``a, b and c``."""
    *most, last = words
    return f"{', '.join(most)} and {last}" if most else last


def level_role(word: str | None) -> Role:
    """How a row of a level is set."""
    match word:
        case "watch" | "call" | "go":
            return word
        case _:
            return ""


def level_words(word: str) -> str:
    """A level as it is printed, telling by its mark and its word: ``!! CALL``."""
    return f"{Level[word.upper()].mark} {word.upper()}"

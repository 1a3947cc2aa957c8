"""How words are put on the sheet: shortened visibly, listed, with a capital."""

from datetime import timedelta

from boxlamp.model.spans import in_words
from boxlamp.view.text import clean, fit, width_of

# Our choice: a name this long is still recognised; anything longer would push facts off the sheet.
NAME = 24
MARK = 16
OWN_WORDS = 60
FEW_WORDS = 24
_ROOM_FOR_SIGNS = 4


def span_words(span: timedelta) -> str:
    """A length of time; whole hours without their minutes."""
    return in_words(span).removesuffix(" 00 min")


def one_line(text: str | None) -> str:
    """Somebody's own words, harmless, whole, on one line."""
    return " ".join(clean(text or "").split())


def own(text: str | None, cells: int) -> str:
    """Somebody's own words, harmless, in so many cells at most; a cut shows as ``~``."""
    # Cut before it is measured: signs without a width could go on for ever.
    some = (text or "")[: cells * _ROOM_FOR_SIGNS]
    said = one_line(some)
    if some != text and text and width_of(said) < cells:
        return f"{said}~"
    return said if width_of(said) <= cells else fit(said, cells).rstrip()


def capital(text: str) -> str:
    """The text with a capital at its beginning."""
    return text[:1].upper() + text[1:]


def listed(words: list[str] | tuple[str, ...]) -> str:
    """``a``, ``a and b``, ``a, b and c``."""
    return " and ".join(filter(None, (", ".join(words[:-1]), *words[-1:])))


def pups_listed(numbers: list[str]) -> str:
    """``pup 3``, ``pups 3, 4 and 6``."""
    return f"{'pup' if len(numbers) == 1 else 'pups'} {listed(numbers)}"

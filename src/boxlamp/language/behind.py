"""A time behind the words: ``pup 10 min ago``, ``push at 02:15``. Never taken for anything else."""

import re

from boxlamp.language.clock import A_TIME, BACK, SOME_WHILE, Spoken, cut_when
from boxlamp.language.context import NotUnderstood

_FLAGS = re.IGNORECASE | re.ASCII
_HALF_DAY = r"\d{1,2}(?::?\d\d)?\s*[ap]\.?m\.?"
_DAY = r"(?:(?:yesterday|today|\d{4}-\d\d?-\d\d?)[T\s]\s*)"
_BEHIND = (
    rf"(?:.*?[\s,])??(?:at\s+|@\s*)?(?P<when>~?\s*(?:{SOME_WHILE}\s*ago|{_DAY}?{_HALF_DAY}|{_DAY}?{A_TIME}"
    rf"(?:\s?(?:Z|[+-]\d\d:?\d\d))?|{BACK}|(?<=at )\d{{3,4}}))[\s.,!]*\Z"
)
# Words that speak of a time in a way no form of the grammar does.
_UNCLEAR = (
    r"\A(?:ago|earlier|o'?clock|a\.?m|p\.?m|mins?|minutes?|hours?|hrs?|\d+(?:m|mins?|minutes?|h|hrs?"
    r"|hours?)|\d{1,2}[:.]\d\d(?::\d\d)?(?:[ap]m)?|\d{1,2}(?::?\d\d)?[ap]m|[-\u2212\u2013]\d+\D*)\Z"
)


def cut_behind(text: str) -> tuple[Spoken | None, str]:
    """The time at the end of a line, if there is surely one, and the line before it."""
    if not text[-1:].strip(" .,!") and not text.strip():
        return None, text
    if not any(letter.isdigit() for letter in text) and "ago" not in text.casefold():
        return None, text
    found = re.match(_BEHIND, text, _FLAGS | re.DOTALL)
    if found is None:
        return None, text
    try:
        spoken, rest = cut_when(found["when"].strip())
    except NotUnderstood as refused:
        before = text[: found.start("when")].rstrip(" ,@").removesuffix(" at")
        raise NotUnderstood(refused.why, before) from None
    if spoken is None or rest:
        return None, text
    before = text[: found.start("when")].rstrip(" ,@")
    if before.casefold().endswith(" at") or before.casefold() == "at":
        before = before[:-2].rstrip(" ,")
    return spoken, before


def like_a_time(key: str, following: str = "") -> bool:
    """Whether a word that nobody could read speaks of a time."""
    if key.isdigit() and re.match(r"(?:mins?|minutes?|hours?|hrs?)\Z", following):
        return True
    if key in {"at", "around", "about", "since"}:
        return following[:1].isdigit()
    return re.match(_UNCLEAR, key, _FLAGS) is not None

"""A time behind the words: ``pup 10 min ago``, ``push at 02:15``. Never taken for anything else."""

import re
from collections.abc import Sequence

from boxlamp.language.clock import (
    A_DOTTED,
    A_TIME,
    BACK,
    SOME_WHILE,
    SPOKEN_CLOCK,
    Spoken,
    cut_when,
)
from boxlamp.language.context import NotUnderstood

_FLAGS = re.IGNORECASE | re.ASCII
_HALF_DAY = r"\d{1,2}(?::?\d\d)?\s*[ap]\.?m\.?"
_DAY = r"(?:(?:yesterday|today|\d{4}-\d\d?-\d\d?)[T\s]\s*)"
_BEHIND = (
    rf"(?:.*?[\s,])??(?:(?:at|since|from)\s+|@\s*)?(?P<when>~?\s*(?:{SOME_WHILE}\s*ago"
    rf"|{_DAY}?{_HALF_DAY}|{_DAY}?{A_TIME}(?:\s?(?:Z|[+-]\d\d:?\d\d))?|{BACK}|{SPOKEN_CLOCK}"
    rf"|(?:(?<=at )|(?<=since )|(?<=from )|(?<=@)|(?<=@ ))(?:\d{{3,4}}|{A_DOTTED})))[\s.,!]*\Z"
)
_LEADING = frozenset(("at", "@", "since", "from", "for", "about", "around"))
_TELLING = ("ago", "past ", " to ")
_SPAN_ALONE = r"(?:\d+ ?|half )?(?:an? )?(?:m|mins?|minutes?|h|hrs?|hours?)\b"
_LONGEST = 4
_AN_OFFSET = r"(?:z|[+-]\d\d:?\d\d)\Z"
# Words that speak of a time in a way no form of the grammar does.
_UNCLEAR = (
    r"\A(?:ago|earlier|o'?clock|a\.?m|p\.?m|mins?|minutes?|hours?|hrs?|\d+(?:m|mins?|minutes?|h|hrs?"
    r"|hours?)|\d{1,2}[:.]\d\d(?::\d\d)?(?:[ap]m)?|\d{1,2}(?::?\d\d)?[ap]m|[-\u2212\u2013]\d+\D*)\Z"
)


def cut_behind(text: str) -> tuple[Spoken | None, str]:
    """The time at the end of a line, if there is surely one, and the line before it."""
    if not text[-1:].strip(" .,!") and not text.strip():
        return None, text
    same = text.casefold()
    if not any(letter.isdigit() for letter in text) and not any(one in same for one in _TELLING):
        return None, text
    found = re.match(_BEHIND, text, _FLAGS | re.DOTALL)
    if found is None:
        return None, text
    try:
        spoken, rest = cut_when(found["when"].strip())
    except NotUnderstood as refused:
        before = _without_its_lead(text[: found.start("when")])
        raise NotUnderstood(refused.why, before) from None
    if spoken is None or rest:
        return None, text
    return spoken, _without_its_lead(text[: found.start("when")])


def _without_its_lead(before: str) -> str:
    """The words before a time, without the ``at`` or ``since`` that leads to it."""
    return re.sub(r"(?:\A|(?<=[\s,]))(?:at|since|from)\Z", "", before.rstrip(" ,@"),
                  flags=_FLAGS).rstrip(" ,")  # fmt: skip


def time_first(raws: Sequence[str], place: int) -> str:
    """The line with the time that stands at this word put first; nothing if there is no clear one.

    The line that is offered must keep the time: without it a clock would start too late.
    """
    if place and raws[place - 1].isdigit() and _goes_with_a_number(raws[place]):
        place -= 1
    start = place + (raws[place].casefold() in _LEADING)
    for end in range(min(start + _LONGEST, len(raws)), start, -1):
        time = _as_a_time(" ".join(raws[start:end]), led=start > place)
        if time and not re.match(_AN_OFFSET, "".join(raws[end : end + 1]), _FLAGS):
            return " ".join([time, *raws[:place], *raws[end:]])
    return ""


def _goes_with_a_number(word: str) -> bool:
    return re.match(r"(?:past|mins?|minutes?|hours?|hrs?)\b", word, _FLAGS) is not None


def _as_a_time(typed: str, *, led: bool) -> str:
    """A time in a form that is read at the front of a line."""
    dotted = re.sub(r"\A(\d{1,2})[.,-](\d\d)(?!\d)", r"\1:\2", typed)
    whole_hour = f"{typed}:00" if led and re.match(r"\d{1,2}\Z", typed) else ""
    for form in (dotted, typed, f"{typed} ago", whole_hour):
        try:
            spoken, rest = cut_when(form)
        except NotUnderstood:
            continue
        if spoken is not None and not rest:
            return spoken.text
    return ""


def like_a_time(key: str, following: str = "") -> bool:
    """Whether a word that nobody could read speaks of a time."""
    if key in {"half", "quarter", "past"}:
        return key == "past" or following.startswith(("past ", "to "))
    if key == "for":
        return re.match(_SPAN_ALONE, following) is not None
    if key.isdigit() and re.match(r"(?:mins?|minutes?|hours?|hrs?)\b", following):
        return True
    if key in {"at", "around", "about", "since", "from"}:
        return following[:1].isdigit() or following.startswith(("half", "quarter"))
    return re.match(_UNCLEAR, key, _FLAGS) is not None

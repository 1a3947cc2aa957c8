"""Reading corrections: an entry that says what an earlier entry should have said."""

import re
from collections.abc import Iterable

from boxlamp.language import amounts, sentences
from boxlamp.language.clock import Spoken, cut_when, refuse_miswritten
from boxlamp.language.context import NotUnderstood
from boxlamp.language.ear import Ear
from boxlamp.language.moments import shown
from boxlamp.language.pups import pup_in
from boxlamp.language.text import shortened
from boxlamp.language.tokens import Words, table
from boxlamp.language.word import Word
from boxlamp.language.zones import wall_of
from boxlamp.model.entry import Entry
from boxlamp.model.happenings import (
    Amend,
    Birth,
    Details,
    Note,
    PupState,
    Round,
    Sexed,
    Step,
    Strike,
    Weighed,
    Weight,
    What,
)
from boxlamp.model.order import corrected, struck
from boxlamp.model.zones import zone_named

_MOST = 999_999_999
_OWN_TIME = "time"
_KEPT = 80
_LAST = frozenset(("last", "latest", "previous"))
_BY_MISTAKE = "typed by mistake"
_SHOULD_BE = r"\A(?:(?:was|is|to|at|should\s+be|should\s+have\s+been)\s+)+(?=[\d~-])"
"""What may stand before the time of a correction: ``amend 6 was 02:10``."""
_SEVERAL = re.compile(r"\d+")
_ENTRY = table({"entry": "one|line"})


def _target(words: Words, ear: Ear, example: str) -> tuple[int, Entry | None]:
    """The entry a correction names. ``example`` is shown when there is no such entry."""
    token = words.peek()
    if token is not None and token.key in {"entry", "number"}:
        words.pop()
    entries, current = ear.context.entries, ear.context.current
    if words.key() in _LAST:
        words.pop()
        words.phrase(_ENTRY)
        last = _last(ear)
        return last, (current or entries or {}).get(last)
    if words.key() in {"pup", "puppy"}:
        born = ear.context.litter.pups[pup_in(words, ear)].birth.id
        return born, (current or entries or {}).get(born)
    token = words.peek()
    bare = "" if token is None else token.key.lstrip("#")
    number = amounts.whole(Words(bare), _MOST) if bare else None
    if not number:
        _refuse_several(_SEVERAL.findall(bare))
        raise NotUnderstood(sentences.ENTRY_NUMBER, example)
    words.pop()
    if entries is not None and number not in entries:
        # Never an example with the number of an entry that is there: it might be copied.
        raise NotUnderstood(sentences.NO_SUCH_ENTRY.format(number), example)
    return number, (current or entries or {}).get(number, (entries or {}).get(number))


def _home(entry: Entry | None, ear: Ear) -> Entry | None:
    """The entry as it now reads; an amend of an amend is one of the entry both are about."""
    known, corrected = ear.context.entries or {}, ear.context.current or {}
    while entry is not None and isinstance(entry.what, Amend):
        target = entry.what.target
        entry = corrected.get(target, known.get(target) if target < entry.id else None)
    return entry


def _last(ear: Ear) -> int:
    """The entry written down last that still counts and is no correction itself."""
    known = ear.context.entries if ear.context.current is None else ear.context.current
    if not known:
        raise NotUnderstood(sentences.NO_LAST_ENTRY, "strike N why")
    return max(known)


def strike(words: Words, ear: Ear) -> Strike:
    """``strike N why``, ``strike last``, ``strike pup 2`` (its birth)."""
    if words.peek() is None:
        raise take_back(ear, sentences.ENTRY_NUMBER)
    number, entry = _target(words, ear, "strike N why")
    _remind(entry, ear)
    _refuse_a_number_twice(number, ear)
    _question_the_opening(entry, ear)
    _refuse_several([str(number), *amounts.numbers_alone(words)])
    _question_a_second(number, words, ear)
    return Strike(target=number, why=words.free() or ear.take_note())


def _refuse_several(numbers: list[str]) -> None:
    """Whether the 5 of ``strike 4 5`` is an entry or the reason cannot be told."""
    if len(numbers) > 1:
        lines = ", ".join(f"strike {number} why" for number in dict.fromkeys(numbers))
        raise NotUnderstood(sentences.STRIKE_EACH.format(lines), f"strike {numbers[0]} why")


def _question_a_second(number: int, words: Words, ear: Ear) -> None:
    """Ask about a reason that begins with the number of another entry, which may be meant too."""
    following = words.tokens[words.place : words.place + 1]
    other = "".join(token.key.lstrip("#") for token in following if not token.quoted)
    if other.isascii() and other.isdigit() and int(other[:9]) in (ear.context.entries or {}):
        sentence = sentences.STRIKES_ONE.format(number, other)
        ear.doubt("kind", sentence, sentences.STRIKES_ONE_FIX.format(other))


def _question_the_opening(entry: Entry | None, ear: Ear) -> None:
    """Ask before the line goes that says who she is, where she is, and whom to ring."""
    known = ear.context.entries or {}
    if entry is not None and entry.id == min(known, default=0) and isinstance(entry.what, Details):
        said = shortened(_said(entry.what).removeprefix("set "), _KEPT)
        sentence = sentences.STRIKES_THE_OPENING.format(entry.id, said)
        ear.doubt("kind", sentence, sentences.STRIKES_THE_OPENING_FIX)


def take_back(ear: Ear, why: str) -> NotUnderstood:
    """Which entry would be taken back by striking the last, and the very line that does it.

    The opening, what could not be read, and what was taken back so before are passed over.
    """
    known = ear.context.entries or {}
    withdrawn = struck(known.values())
    for number in sorted(known, reverse=True)[:-1]:
        what = known[number].what
        unread = isinstance(what, Note) and what.unread
        mended = isinstance(what, Strike) and what.why == _BY_MISTAKE
        if not (number in withdrawn or unread or mended):
            reads = (ear.context.current or known).get(number, known[number])
            when = shown(reads.at, reads.certainty, ear.context)
            said = shortened(_said(reads.what), _KEPT)
            last = sentences.LAST_THAT_COUNTS.format(number, when, said)
            return NotUnderstood(f"{why} {last}", f"strike {number} {_BY_MISTAKE}", recorded=True)
    return NotUnderstood(why)


def _refuse_a_number_twice(number: int, ear: Ear) -> None:
    """Refuse to bring back a birth whose pup number another birth was given meanwhile.

    One of the two would be missing from every count. In a night file nobody can be told.
    """
    known, now = ear.context.entries or {}, ear.context.current or {}
    struck = known.get(number)
    if struck is None or not isinstance(struck.what, Amend | Strike) or ear.context.after:
        return
    strike = struck.model_copy(update={"id": max(known) + 1, "what": Strike(target=number)})
    births = _births(corrected((*known.values(), strike)))
    stood = {entry.id: birth.pup for entry, birth in _births(now.values())}
    for back, birth in births:
        taken = [entry for entry, other in births if other.pup == birth.pup and entry is not back]
        if taken and stood.get(back.id) != birth.pup:
            at = wall_of(back.at, zone_named(ear.context.zone))
            anew = birth.model_copy(update={"pup": ear.context.next_pup})
            raise NotUnderstood(
                sentences.NUMBER_GIVEN_ANEW.format(back.id, birth.pup, taken[0].id, birth.pup),
                f"{at:%Y-%m-%d %H:%M} {_said(anew)}",
                recorded=True,
            )


def _births(entries: Iterable[Entry]) -> list[tuple[Entry, Birth]]:
    return [(entry, entry.what) for entry in entries if isinstance(entry.what, Birth)]


def _said(what: What) -> str:
    from boxlamp.language.say import say

    return say(what)


def amend(words: Words, ear: Ear) -> Amend:
    """``amend N [when] [words]``: a new time, new words, or both.

    ``amend N time`` takes the time at the front of the line as the new time.
    """
    named_last = words.key() in _LAST
    number, entry = _target(words, ear, _with_its_words(words))
    ear.amending = _home(entry, ear)
    _remind(entry, ear)
    retimed = words.key() == _OWN_TIME and not words.tokens[words.place].quoted
    if retimed:
        words.pop()
    ear.inner, rest = _new_time(words.free(), number)
    retimed = retimed or ear.inner is not None
    if not rest.strip(" ;"):
        if not retimed:
            raise NotUnderstood(sentences.AMEND_WHAT.format(number), f"amend {number} 02:14")
        return Amend(target=number, retimed=True)
    if ear.again is None:  # pragma: no cover - whoever hears a line hears it again
        raise NotUnderstood(sentences.AMEND_FACT, f"strike {number}")
    ear.inside = True
    try:
        what, _word = ear.again(rest, ear)
    except NotUnderstood as refused:
        raise _still_a_correction(refused, number) from None
    if isinstance(what, Amend | Strike):
        raise NotUnderstood(sentences.AMEND_FACT, f"strike {number}")
    what = _still_a_birth(_still_a_round(what, ear), ear)
    if ear.amending is not None and type(ear.amending.what) is not type(what):
        _question_kind(ear.amending, what, ear, named_last=named_last)
    return Amend.model_validate({"target": number, "what": what, "retimed": retimed})


def _still_a_correction(refused: NotUnderstood, number: int) -> NotUnderstood:
    """What is offered for the words of a correction corrects the entry, and is no new one."""
    offered = refused.nearest
    if not offered or "\n" in offered or offered.startswith(("amend ", "strike ", "note ")):
        return refused
    return NotUnderstood(refused.why, f"amend {number} {offered}", recorded=refused.recorded)


def _new_time(text: str, number: int) -> tuple[Spoken | None, str]:
    """The time in front of a correction; the line offered for a wrong one corrects this entry."""
    text = re.sub(_SHOULD_BE, "", text, flags=re.IGNORECASE | re.ASCII)
    try:
        spoken, rest = cut_when(text)
        if spoken is None:
            refuse_miswritten(text)
    except NotUnderstood as refused:
        nearest = f"amend {number} {refused.nearest or 'HH:MM'}"
        raise NotUnderstood(refused.why, nearest) from None
    return spoken, rest


def _with_its_words(words: Words) -> str:
    """``amend N 02:10`` for ``amend 999 02:10``: the entry left open, what it should say kept."""
    behind = words.tokens[words.place + 1 :]
    told = words.text[behind[0].start :] if behind else "..."
    return f"amend N {re.sub(_SHOULD_BE, '', told, flags=re.IGNORECASE | re.ASCII)}"


def _question_kind(entry: Entry, what: What, ear: Ear, *, named_last: bool) -> None:
    """Ask before an entry turns into one pup more, and when ``last`` may hit another entry.

    A line that could not be read is the one thing that is meant to become something else.
    """
    if isinstance(entry.what, Note) and entry.what.unread:
        return
    said = shortened(_said(entry.what), _KEPT)
    if isinstance(what, Birth):
        sentence = sentences.MAKE_A_BIRTH.format(entry.id, said, what.pup)
        ear.doubt("kind", sentence, sentences.MAKE_A_BIRTH_FIX)
    elif named_last:
        sentence = sentences.ANOTHER_KIND.format(entry.id, said)
        ear.doubt("kind", sentence, sentences.ANOTHER_KIND_FIX)


def _still_a_round(what: What, ear: Ear) -> What:
    """``amend 12 weigh red 345g`` corrects one weight of a round; the others stay."""
    before = ear.before(Round)
    if before is None or not isinstance(what, Weight) or what.pup is None:
        return what
    weights = {one.pup: one.grams for one in before.weights} | {what.pup: what.grams}
    return Round(weights=tuple(Weighed(pup=pup, grams=grams) for pup, grams in weights.items()))


def _still_a_birth(what: What, ear: Ear) -> What:
    """``amend 2 310g`` corrects the weight in a birth; it does not make the birth a weighing."""
    birth = ear.before(Birth)
    if birth is None or isinstance(what, Birth):
        return what
    changes: dict[str, object] = {}
    if getattr(what, "pup", None) == birth.pup:
        if isinstance(what, Weight):
            changes = {"weight": what.grams}
        elif isinstance(what, Sexed):
            changes = {"sex": what.sex}
        elif isinstance(what, Step) and what.step == "marked":
            changes = {"mark": what.finding}
        elif isinstance(what, PupState) and what.signs[0] in {"limp", "not-breathing"}:
            changes = {"state": "limp"}
    if changes:
        return birth.model_copy(update=changes)
    _question_no_birth(birth, what, ear)
    return what


def _question_no_birth(birth: Birth, what: What, ear: Ear) -> None:
    """Ask before a correction takes a pup out of the record."""
    number = ear.amending.id if ear.amending is not None else 0
    sentence = sentences.NO_BIRTH_LEFT.format(number, birth.pup, shortened(_said(what), _KEPT))
    ear.doubt("no-birth", sentence, sentences.NO_BIRTH_LEFT_FIX)


def _remind(entry: Entry | None, ear: Ear) -> None:
    if entry is None:
        return
    standing = ear.context.current
    gone = standing is not None and entry.id not in standing
    if gone and not isinstance(entry.what, Amend | Strike):
        ear.remarks.append(sentences.WITHDRAWN.format(entry.id))
    ear.remarks.append(f"entry {entry.id} was: {_said(entry.what)}")


WORDS = (
    Word("amend", "amend N [WHEN] [WORDS]", "A correction: a new time, new words, or both.",
         ("amend 1 02:10", "amend 1 temp 37.2", "amend 1 02:10 pup m 312g", "amend last 02:10"),
         amend,
         synonyms=("correct", "correction", "change"), whole=True, any_age=True),
    Word("strike", "strike N why", "An entry is withdrawn. It stays visible.",
         ("strike last typed twice", "strike 1 typed twice"), strike,
         synonyms=("delete", "remove", "withdraw")),
)  # fmt: skip

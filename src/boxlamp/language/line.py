"""Reading one typed line: its time, its words, its note; or why it cannot be read."""

from typing import NamedTuple

from pydantic import ValidationError

from boxlamp.language import sentences
from boxlamp.language.clock import Spoken, cut_when
from boxlamp.language.context import Context, Doubt, Heard, NotUnderstood
from boxlamp.language.ear import Ear
from boxlamp.language.moments import Moment, resolve, resolve_near, shown
from boxlamp.language.pups import names_a_pup
from boxlamp.language.say import say
from boxlamp.language.terms import PUP_SIGNS
from boxlamp.language.text import MAX_LINE, cleaned, shortened, visible
from boxlamp.language.tokens import Token, Words, cut_note
from boxlamp.language.vocabulary import COMMANDS
from boxlamp.language.word import Word
from boxlamp.model.entry import Draft
from boxlamp.model.happenings import Amend, Note, What

_ECHOED_NOTE = 200
_LOOKED_AT = 8


class Reading(NamedTuple):
    """One line, read: the draft, when it was said, and what to tell and ask.

    ``said`` is the moment at the front of the line; it differs from the draft's own time when a
    correction carries a new time inside. ``spoken`` is the time as typed, and ``leads`` tells
    whether it stood at the front.
    """

    draft: Draft
    said: Moment
    spoken: Spoken | None
    leads: bool
    remarks: tuple[str, ...]
    doubts: tuple[Doubt, ...]


def read_line(line: str, context: Context) -> Heard:
    """What one typed line means. Raises :class:`NotUnderstood` when it means nothing known."""
    reading = understand(line, context)
    return Heard(reading.draft, _echo(reading, context), reading.doubts)


def understand(line: str, context: Context) -> Reading:
    """Like :func:`read_line`, with what a night file needs to know besides."""
    if len(line) > MAX_LINE:
        raise NotUnderstood(sentences.TOO_LONG.format(len(line), MAX_LINE))
    spoken, body = cut_when(cleaned(line).strip())
    if not body.strip(" ;,."):
        raise NotUnderstood(sentences.NOTHING, "02:14 contraction strong")
    ear = Ear(context, spoken=spoken, again=_hear)
    try:
        what, word = _hear(body, ear)
        said, at = _moments(ear, word)
        draft = Draft(
            at=at.at, zone=context.zone, certainty=at.certainty, text=visible(line.strip()),
            note=ear.note, what=what,
        )  # fmt: skip
    except (ValidationError, OverflowError) as error:
        raise NotUnderstood(sentences.OUT_OF_RANGE) from error
    doubts = (*at.doubts, *ear.doubts)
    if word.dated or word.any_age:
        doubts = tuple(doubt for doubt in doubts if doubt.code != "old")
    return Reading(draft, said, spoken or ear.inner, spoken is not None, tuple(ear.remarks), doubts)


def _moments(ear: Ear, word: Word) -> tuple[Moment, Moment]:
    """When the line was said, and when what it says happened."""
    if word.word == "amend" and ear.inner is not None:
        near = ear.amending.at if ear.amending is not None else ear.context.now
        return resolve(ear.spoken, ear.context), resolve_near(ear.inner, near, ear.context)
    if ear.inner is not None and ear.spoken is not None:
        raise NotUnderstood(sentences.TWO_TIMES, word.examples[0])
    spoken = ear.spoken or ear.inner
    if spoken is not None and spoken.day_only and not (word.dated or word.by_day):
        raise NotUnderstood(sentences.CLOCK_NEEDED, f"{spoken.text} 02:14 {word.examples[0]}")
    moment = resolve(spoken, ear.context)
    return moment, moment


def _hear(body: str, ear: Ear) -> tuple[What, Word]:
    """The words after the time: find the first word, and let its reader have the rest."""
    text, note = cut_note(body)
    words = _turned_round(Words(text), ear)
    word = _first_word(words, ear)
    if word.whole:
        words = Words(body)
        _first_word(words, ear)
    else:
        ear.note = note
    if word.dated:
        ear.inner = _date_inside(words) or ear.inner
    try:
        return word.read(words, ear), word
    except NotUnderstood as refused:
        if refused.nearest:
            raise
        raise NotUnderstood(refused.why, word.examples[0]) from None
    except ValidationError:
        raise NotUnderstood(sentences.OUT_OF_RANGE, word.examples[0]) from None


def _first_word(words: Words, ear: Ear) -> Word:
    start = words.place
    found = words.phrase(COMMANDS)
    if found is None:
        raise _unknown(words, ear)
    word, telling = found
    if telling:
        words.place = start
    return word


def _turned_round(words: Words, ear: Ear) -> Words:
    """``pup 3 breathing`` and ``red milk``: the pup may come before what is said of it."""
    litter = ear.context.litter
    start = words.place
    named = words.peek() is not None and words.key() in {"pup", "puppy"}
    if named:
        words.pop()
    elif words.phrase(COMMANDS) is not None:
        words.place = start
        return words
    first = words.place
    if litter.pups and names_a_pup(words, litter, whole=named):
        pup = words.tokens[first : words.place]
        turned = _said_of(pup, words)
        if turned is not None:
            return turned
    words.place = start
    return words


def _said_of(pup: list[Token], words: Words) -> Words | None:
    """What follows a pup, put in the usual order: word, pup, the rest."""
    words.skip_noise()
    start = words.place
    found = words.phrase(COMMANDS)
    is_state = found is not None and found[0].word == "state"
    if found is not None and found[0].of_pup and not (is_state and found[1]):
        command, rest = words.tokens[start : words.place], words.tokens[words.place :]
        return Words(words.text, [*command, *pup, *rest])
    words.place = start
    if words.phrase(PUP_SIGNS) is None:
        return None
    looks = [Token("state", "state", 0, 0)]
    return Words(words.text, [*looks, *pup, *words.tokens[start:]])


def _date_inside(words: Words) -> Spoken | None:
    """Take a date that stands among the words of a dated fact: ``mated 2026-01-01``."""
    for place in range(words.place, len(words.tokens)):
        token = words.tokens[place]
        looks_dated = token.key[4:5] == "-" or token.key in {"yesterday", "today"}
        if token.quoted or not looks_dated:
            continue
        spoken, rest = cut_when(words.text[token.start :])
        if spoken is not None and spoken.day is not None:
            used = len(words.text) - len(rest)
            words.tokens = [one for one in words.tokens if not token.start <= one.start < used]
            return spoken
    return None


def _unknown(words: Words, ear: Ear) -> NotUnderstood:
    """Why a line has no known word, with the nearest line that has one."""
    from difflib import get_close_matches

    token = words.peek()
    if token is None:
        return NotUnderstood(sentences.NOTHING, "contraction strong")
    place = words.place
    following = [one.key[:40] for one in words.tokens[place : place + _LOOKED_AT]]
    keys = [following[0], " ".join(following[:2]), *following[1:]]
    close = [match for key in keys for match in get_close_matches(key, COMMANDS, 1, 0.7)]
    nearest = COMMANDS[close[0]][0].examples[0] if close else f"note {words.text}"
    if names_a_pup(words, ear.context.litter, whole=False):
        nearest = f"weigh {token.raw} 340g"
    why = sentences.UNKNOWN_WORD.format(shortened(token.raw, 40))
    return NotUnderstood(why, shortened(nearest, 80))


def kept_as_note(line: str, context: Context) -> Draft:
    """The whole line as an unread note, so that nothing typed is ever lost.

    Its time is kept when that much could be read.
    """
    text = visible(line.strip())
    if len(text) > MAX_LINE:
        cut = " " + sentences.CUT.format(len(text))
        text = text[: MAX_LINE - len(cut)] + cut
    moment = Moment(context.now if context.after is None else context.after)
    try:
        read = resolve(cut_when(cleaned(line[:MAX_LINE]).strip())[0], context)
        if not any(doubt.code == "future" for doubt in read.doubts):
            moment = read
    except NotUnderstood:
        pass
    return Draft(
        at=moment.at, zone=context.zone, certainty=moment.certainty, text=text,
        what=Note(words=text, unread=True),
    )  # fmt: skip


def _echo(reading: Reading, context: Context) -> str:
    """What the line was taken to mean, with whatever was assumed or converted."""
    draft = reading.draft
    said = f"{shown(draft.at, draft.certainty, context)}  {say(draft.what)}"
    if isinstance(draft.what, Amend):
        said = _amended(draft.what, draft, context) or said
    if draft.note:
        said += f"; {shortened(draft.note, _ECHOED_NOTE)}"
    remarks = ", ".join(dict.fromkeys(reading.remarks))
    return f"{said}  ({remarks})" if remarks else said


def _amended(amend: Amend, draft: Draft, context: Context) -> str | None:
    """How the corrected entry now reads."""
    entry = (context.entries or {}).get(amend.target)
    if entry is None:
        return None
    source = draft if amend.retimed else entry
    when = shown(source.at, source.certainty, context)
    return sentences.NOW_READS.format(entry.id, when, say(amend.what or entry.what))

"""Reading one typed line: its time, its words, its note; or why it cannot be read."""

from functools import partial
from typing import NamedTuple

from pydantic import ValidationError

from boxlamp.language import sentences
from boxlamp.language.amounts import WEIGHT_UNITS, quantity
from boxlamp.language.behind import cut_behind
from boxlamp.language.clock import Spoken, begins_like_a_time, cut_when, refuse_miswritten
from boxlamp.language.context import Context, Doubt, Heard, NotUnderstood
from boxlamp.language.dates import with_plain_dates
from boxlamp.language.dead import alive_again, question_the_dead
from boxlamp.language.ear import Ear
from boxlamp.language.ended import question_long_after, question_the_end
from boxlamp.language.hear_pups import sign_first
from boxlamp.language.hints import instead, unknown
from boxlamp.language.lasting import so_long, still_pushing, with_its_length
from boxlamp.language.moments import Moment, resolve, resolve_near, shown
from boxlamp.language.plainly import (
    in_the_words_of_the_log,
    is_score,
    refuse_a_question,
    without_cries,
)
from boxlamp.language.pups import in_digits, names_a_pup
from boxlamp.language.say import say
from boxlamp.language.terms import BIRTH_STATES, NAMING, PUP_SIGNS, SEXES, SUCKLING
from boxlamp.language.text import MAX_LINE, cleaned, shortened, visible
from boxlamp.language.tokens import Token, Words, cut_note
from boxlamp.language.unborn import question_the_unborn
from boxlamp.language.vocabulary import COMMANDS
from boxlamp.language.word import Word
from boxlamp.model.entry import Draft
from boxlamp.model.happenings import (
    Amend,
    Birth,
    Note,
    What,
)

_ECHOED_NOTE = 200
# Words whose line may end in a time that is not the time of the line.
_UNTIMED = frozenset(("strike", "set", "limit", "mark", "score", "ack"))
_MEASURED = frozenset(("weigh", "round", "temp", "box", "feed", "progesterone"))
# Words behind which whatever is said is kept, a cry for help too.
_FREE = frozenset(("vet", "given", "died", "mark", "strike", "set", "limit", "kit", "amend"))
_HER = frozenset(("dam", "mum", "mother"))
_PUP = frozenset(("pup", "puppy"))
_NAMES_END = 5
_ADVISING = frozenset(("advised", "advises", "advice", "says", "said", "told"))


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
    try:
        return _understood(line, context)
    except NotUnderstood as refused:
        if refused.recorded:
            raise
        from boxlamp.language.fair import fair
        from boxlamp.language.uncounted import none_counted

        nearest = fair(refused.nearest, cleaned(line), context.litter)
        raise NotUnderstood(none_counted(refused.why, line, context), nearest) from None


def _understood(line: str, context: Context) -> Reading:
    typed = with_plain_dates(cleaned(line).strip(), context, anywhere=False)
    spoken, body = cut_when(typed)
    if not body.strip(" ;,."):
        raise NotUnderstood(sentences.NOTHING, f"{spoken.text} ..." if spoken else "")
    if spoken is None:
        refuse_miswritten(body)
    ear = Ear(context, spoken=spoken, again=_hear)
    try:
        body = so_long(body, ear)
        what, word = _hear(body, ear)
        still_pushing(what, body, ear)
        said, at = _moments(ear, word)
        question_long_after(what, at.at, ear)
        question_the_end(what, at.at, ear)
        question_the_dead(what, at.at, ear)
        question_the_unborn(what, at, ear)
        draft = Draft(
            at=at.at, zone=context.zone, certainty=at.certainty, text=visible(line.strip()),
            note=ear.note, what=what,
        )  # fmt: skip
    except NotUnderstood as refused:
        from boxlamp.language.otherwise import otherwise

        meant = otherwise(refused, body, ear)
        told = _with_its_time(meant, ear, body)
        if meant is not refused:  # it says nothing but what was typed, or the record tells
            told = NotUnderstood(told.why, told.nearest, recorded=True)
        raise told from None
    except (ValueError, OverflowError) as error:
        raise NotUnderstood(sentences.OUT_OF_RANGE) from error
    doubts = (*at.doubts, *ear.doubts)
    if word.dated or word.any_age:
        doubts = tuple(doubt for doubt in doubts if doubt.code != "old")
    return Reading(
        draft,
        said,
        ear.spoken or ear.inner,
        ear.spoken is not None or ear.behind,
        tuple(ear.remarks),
        doubts,
    )


def _with_its_time(refused: NotUnderstood, ear: Ear, body: str) -> NotUnderstood:
    """The line that is offered keeps the time that was typed: else a clock would start too late."""
    refused = with_its_length(refused, body, ear)
    spoken = ear.spoken or (ear.inner if ear.behind else None)
    typed = spoken.typed if spoken is not None else "HH:MM" if begins_like_a_time(body) else ""
    if not typed or not refused.nearest or refused.nearest.startswith("HH:MM") or refused.recorded:
        return refused
    if ear.spoken is not None and refused.why == sentences.TIME_FIRST:
        word, _, rest = body.partition(" ")
        return NotUnderstood(refused.why, f"{typed} {word}; {rest}")
    from boxlamp.language.fair import timed

    return NotUnderstood(refused.why, timed(refused.nearest, typed, spoken))


def _moments(ear: Ear, word: Word) -> tuple[Moment, Moment]:
    """When the line was said, and when what it says happened."""
    if word.word == "amend" and ear.inner is not None:
        near = ear.amending.at if ear.amending is not None else ear.context.now
        return resolve(ear.spoken, ear.context), resolve_near(ear.inner, near, ear.context)
    if ear.inner is not None and ear.spoken is not None:
        raise NotUnderstood(sentences.TWO_TIMES, word.examples[0])
    spoken = ear.spoken or ear.inner
    if spoken is not None and spoken.maybe_a_date and word.dated:
        raise NotUnderstood(sentences.A_DATE)
    if spoken is not None and spoken.day_only and not (word.dated or word.by_day):
        raise NotUnderstood(sentences.CLOCK_NEEDED, f"{spoken.text} 02:14 {word.examples[0]}")
    moment = resolve(spoken, ear.context)
    return moment, moment


def _hear(body: str, ear: Ear) -> tuple[What, Word]:
    """The words after the time: find the first word, and let its reader have the rest."""
    text, note = cut_note(body)
    first = Words(text).phrase(COMMANDS)
    if first is not None and first[0].dated:
        text = with_plain_dates(text, ear.context, anywhere=True)
    if first is None or not first[0].whole:
        text = _plainly(text, ear, cries=first is None or first[0].word not in _FREE)
    words = _turned_round(Words(text), ear)
    typed = words.place
    word = _first_word(words, ear)
    telling = words.place == typed
    if word.whole and first is not None and first[0].whole:
        words = Words(body)
        _first_word(words, ear)
    else:
        ear.note = note
    if word.dated:
        ear.inner = _date_inside(words) or ear.inner
    try:
        what = word.read(words, ear)
    except NotUnderstood as refused:
        if refused.nearest:
            raise
        raise NotUnderstood(refused.why, instead(word, words, ear, telling=telling)) from None
    except ValidationError:
        nearest = instead(word, words, ear, telling=telling)
        raise NotUnderstood(sentences.OUT_OF_RANGE, nearest) from None
    loose = getattr(what, "why", "") or getattr(what, "said", "")
    if ear.behind and loose and ear.note == note:
        raise NotUnderstood(sentences.TIME_FIRST, f"{text}; ...")
    return what, word


def _plainly(text: str, ear: Ear, *, cries: bool) -> str:
    """The line in the words of the log, without its time and without ``cries`` for help."""
    if not is_score(Words(text)):
        refuse_a_question(Words(text), ear.context.litter)
    text = _without_time(without_cries(text) if cries else text, ear)
    return in_the_words_of_the_log(text, ear)


def _without_time(text: str, ear: Ear) -> str:
    """The line without a time that stands behind its words; the ear then knows the time."""
    words = Words(text)
    keys = [token.key for token in words.tokens if not token.quoted]
    asked = keys[:1] if keys[:1] and keys[0] in COMMANDS else keys[1:_NAMES_END]
    named = [COMMANDS[key][0] for key in asked if key in COMMANDS]
    untimed = any(word.word in _UNTIMED or word.dated for word in named)
    if ear.inside or untimed or not _ADVISING.isdisjoint(keys):
        return text
    spoken, before = cut_behind(text)
    if spoken is None or not Words(before).tokens:
        return text
    from_what = text[len(before) :].strip(" ,").casefold().startswith("from ")
    if from_what and any(word.word in _MEASURED for word in named):
        return text  # 340 g, up from 300: no time
    if ear.spoken is not None:
        raise NotUnderstood(sentences.TWO_TIMES, f"{ear.spoken.text} {before}")
    ear.inner, ear.behind = spoken, True
    return before


def _first_word(words: Words, ear: Ear) -> Word:
    start = words.place
    found = words.phrase(COMMANDS)
    if found is None:
        raise unknown(words, ear)
    word, telling = found
    if telling:
        words.place = start
    return word


def _turned_round(words: Words, ear: Ear) -> Words:
    """``pup 3 breathing``, ``red milk``, ``dam temp 39.6``: who is meant may come first."""
    litter = ear.context.litter
    start = words.place
    for turn in (_measured_of_her, partial(alive_again, ear=ear), partial(sign_first, ear=ear)):
        turned = turn(words)
        if turned is not None:
            return turned
        words.place = start
    named = words.peek() is not None and words.key() in {"pup", "puppy"}
    if named:
        words.pop()
    elif words.phrase(COMMANDS) is not None:
        words.place = start
        return words
    first = words.place
    if litter.pups and names_a_pup(words, litter, whole=named):
        pup = words.tokens[first : words.place]
        if named:
            pup = [in_digits(token, litter) for token in pup]
        turned = None if named and _tells_its_birth(pup, words, ear) else _said_of(pup, words)
        if turned is not None:
            return turned
    words.place = start
    return words


def _tells_its_birth(pup: list[Token], words: Words, ear: Ear) -> bool:
    """Whether ``pup 2 mark Luna limp``, in a correction of that pup's birth, tells the birth.

    Turned round it would be a mark of two words, and a clock would not run.
    """
    birth, start = ear.before(Birth), words.place
    own = birth is not None and pup[-1].key.lstrip("#p") == str(birth.pup)
    words.skip_noise()
    told = words.key() in NAMING or words.phrase(BIRTH_STATES) is not None
    words.place = start
    return own and told


def _measured_of_her(words: Words) -> Words | None:
    """``dam temp 39.6`` and ``mum weighs 31kg`` in the usual order: word, dam, the rest."""
    words.skip_noise()
    her = words.tokens[words.place : words.place + 1]
    if not her or her[0].quoted or words.pop().key not in _HER:
        return None
    words.skip_noise()
    start = words.place
    found = words.phrase(COMMANDS)
    if found is None or found[0].word not in {"temp", "weigh"} or words.peek() is None:
        return None
    return Words(
        words.text, [*words.tokens[start : words.place], *her, *words.tokens[words.place :]]
    )


def _said_of(pup: list[Token], words: Words) -> Words | None:
    """What follows a pup, put in the usual order: word, pup, the rest."""
    explicit = words.key() == "is"
    words.skip_noise()
    called = not pup[-1].key.lstrip("#p").isdigit()
    while words.peek() is not None and words.key() in (_PUP | {"one"} if called else _PUP):
        words.pop()
    words.skip_noise()
    start = words.place
    simple = _simply_said(pup, words, explicit=explicit)
    if simple is not None:
        return simple
    words.place = start
    found = words.phrase(COMMANDS)
    if found is not None and found[0].word == "mark" and called and words.peek() is None:
        return None  # red collar: of which pup is not said
    is_state = found is not None and found[0].word == "state"
    if found is not None and found[0].of_pup and not (is_state and found[1]):
        command, rest = words.tokens[start : words.place], words.tokens[words.place :]
        return Words(words.text, [*command, *pup, *rest])
    words.place = start
    if words.phrase(PUP_SIGNS) is None:
        return None
    looks = [Token("state", "state", 0, 0)]
    return Words(words.text, [*looks, *pup, *words.tokens[start:]])


def _simply_said(pup: list[Token], words: Words, *, explicit: bool) -> Words | None:
    """``red 310g``, ``red drinking``, ``pup 1 is a boy``: what needs no word of its own."""
    start = words.place
    rest = words.tokens[start:]
    if words.phrase(SUCKLING) is not None and words.peek() is None:
        return Words(words.text, [Token("milk", "milk", 0, 0), *pup])
    words.place = start
    sex = words.phrase(SEXES)
    if sex is not None and explicit and words.peek() is None:
        # Without "is" this may be a birth with a wrong number, so it must be said.
        return Words(words.text, [Token("sex", "sex", 0, 0), *pup, *rest])
    words.place = start
    weighed = quantity(words, WEIGHT_UNITS)
    if weighed is None or weighed[1] is None or words.peek() is not None:
        return None
    return Words(words.text, [Token("weigh", "weigh", 0, 0), *pup, *rest])


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
    except (NotUnderstood, ValueError, OverflowError):
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
    known = context.current if context.current is not None else context.entries
    entry = (known or {}).get(amend.target)
    if entry is None:
        return None
    source = draft if amend.retimed else entry
    when = shown(source.at, source.certainty, context)
    return sentences.NOW_READS.format(entry.id, when, say(amend.what or entry.what))

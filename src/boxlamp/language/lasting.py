"""How long she has pushed already: ``been pushing for an hour`` is a push of an hour ago.

The hour is what counts, so it is never lost: a line that says it otherwise is refused with a line
that keeps it. What ended her pushing since then would hide the push, so it counts from just after.
"""

import re
from datetime import timedelta

from boxlamp.language import sentences
from boxlamp.language.clock import SOME_WHILE, Spoken, cut_when
from boxlamp.language.context import Context, NotUnderstood
from boxlamp.language.ear import Ear
from boxlamp.language.moments import resolve, shown
from boxlamp.language.pushes import as_a_push
from boxlamp.language.terms import STRENGTHS
from boxlamp.language.tokens import Words, words_of
from boxlamp.model.happenings import Birth, Caesarean, Contraction, Finished, Rest, What
from boxlamp.model.zones import zone_named

_ABOUT = r"(?:about|around|roughly|nearly|almost|over|more\s+than|at\s+least)"
_SPAN = (
    rf"(?<![\d.,/:\-])\b(?:for\s+)?(?:(?P<about>{_ABOUT})\s+)?(?:the\s+)?"
    rf"(?:(?:last|past)\s+(?P<last>half\s+hour|hour)|(?:(?:last|past)\s+)?"
    rf"(?<![\d.,/:\-])(?P<span>{SOME_WHILE}))(?=[\s,.!]|\Z)(?!\s*(?:ago|apart|old)\b)"
)
"""A while, and never the end of a longer one: 1.5 hours, 20-30 minutes."""
_A_PUSH = r"(?:push|strain|contract)\w*"
_OF_PUSHING = (
    rf"\b{_A_PUSH}\s+(?:(?:hard|strongly)\s+)?{_SPAN}",
    rf"{_SPAN}\s+of\s+(?:hard\s+)?{_A_PUSH}",
)
"""A while that is surely said of the pushing."""
_TOLD_FOR = r"\b(?:for|last|past)\s"
_SOME_TIME = r"\b(?:hours?|hrs?|minutes?|mins?|ages|all\s+(?:night|day|evening|morning))\b"
_FLAGS = re.IGNORECASE | re.ASCII
_PUSHING = words_of("pushing straining contracting")
_PUSHES = _PUSHING | words_of("push pushes pushed strain strains contraction contractions")
_STEMS = ("pushing", "straining", "contracti")
"""Looked for first: few lines need the pattern, which would take time at every start."""
_SINCE = words_of("since")
_APART = words_of("apart every between")
_LATER = words_of("in within wait waiting give till until then next vet will be soon takes away")
"""Words by which a while is still to come, or said of somebody else."""
_OTHERWISE = _APART | words_of("not no never hasn't hasnt isn't isnt after before ago")
_WATER = words_of("water waters bag")
_OTHER_EVENTS = _WATER | words_of("pup puppy girl boy dog bitch")
_DANGERS = ("part ", "discharge ", "dam ", "state ")
_ENDING = (Birth, Rest, Caesarean, Finished)


def so_long(body: str, ear: Ear) -> str:
    """The line as a push, where it says how long she has pushed; the ear then knows since when."""
    if ear.spoken is not None or ear.context.after is not None:
        return body
    text, semicolon, note = body.partition(";")
    if not any(stem in text.casefold() for stem in _STEMS):
        return body
    found = re.search(_SPAN, text, _FLAGS)
    if found is None:
        return body
    push = as_a_push(Words(f"{text[: found.start()]} {text[found.end() :]}"), so_long=True)
    if push is None:
        return body
    ear.spoken = _not_hidden(cut_when(_ago(found))[0], ear)
    return f"{push}{semicolon}{note}"


def still_pushing(what: What, body: str, ear: Ear) -> None:
    """``pushing since half past one`` counts from the birth that came since, if one did."""
    if not (isinstance(what, Contraction) and ear.behind) or ear.context.after is not None:
        return
    if not _SINCE.isdisjoint(token.key for token in Words(body).tokens):
        ear.inner = _not_hidden(ear.inner, ear)


def _not_hidden(spoken: Spoken | None, ear: Ear) -> Spoken | None:
    """The time from which her pushing counts: the one told, or just after what ended it since.

    People round: who says an hour, fifty minutes after a birth, must not wait another twenty.
    """
    since = resolve(spoken, ear.context)
    ended = [
        entry
        for entry in (ear.context.current or {}).values()
        if isinstance(entry.what, _ENDING) and since.at <= entry.at <= ear.context.now
    ]
    if not ended:
        return spoken
    from boxlamp.language.say import say

    last = max(ended, key=lambda entry: (entry.at, entry.id))
    when = shown(last.at, last.certainty, ear.context)
    ear.remarks.append(sentences.PUSHES_SINCE.format(f"{when} {say(last.what)}"))
    begun = last.at.astimezone(zone_named(ear.context.zone)) + timedelta(seconds=1)
    if begun > ear.context.now:
        return None
    return cut_when(f"~{begun.isoformat(' ', 'seconds')}")[0]


def _ago(found: re.Match[str]) -> str:
    last = found["last"]
    span = found["span"] or ("half an hour" if "half" in last.casefold() else "an hour")
    return f"{'~' if found['about'] else ''}{span.strip()} ago"


def how_long_ago(body: str) -> str:
    """``an hour ago``, where a line that could not be read says how long she has pushed; or ''.

    Where the hour may be that of something else (``no pup for an hour``), the time is left open.
    """
    keys = {token.key for token in Words(body).tokens}
    if _PUSHES.isdisjoint(keys) or not _APART.isdisjoint(keys):
        return ""
    found = re.search(_SPAN, body, _FLAGS)
    if not _OTHERWISE.isdisjoint(keys):
        surely = next(filter(None, (re.search(one, body, _FLAGS) for one in _OF_PUSHING)), None)
        return _ago(surely) if surely else "HH:MM" if found else ""
    if found is not None:
        return _ago(found)
    return "HH:MM" if re.search(_SOME_TIME, body, _FLAGS) else ""


def lasted(body: str, *, of_a_pup: bool) -> str:
    """``20 min ago`` for ``head stuck for 20 min``: since when a danger lasts; '' if unsure."""
    keys = {token.key for token in Words(body).tokens}
    others = _WATER if of_a_pup else _OTHER_EVENTS
    if not (_OTHERWISE | _PUSHES | others).isdisjoint(keys):
        return ""
    found = [*re.finditer(_SPAN, body, _FLAGS)]
    told = re.search(_TOLD_FOR, body, _FLAGS) is not None or _LATER.isdisjoint(keys)
    return _ago(found[0]) if len(found) == 1 and told else ""


def with_its_length(refused: NotUnderstood, body: str, ear: Ear) -> NotUnderstood:
    """What is offered keeps how long it has lasted: else its clock would start too late."""
    if refused.nearest.startswith("amend "):
        return refused
    if refused.nearest.startswith(_DANGERS):
        return _since_then(refused, body, ear)
    typed, offered = cut_when(refused.nearest) if refused.nearest else (None, "")
    keys = [token.key for token in Words(offered).tokens]
    ago = how_long_ago(body)
    if not ago or _PUSHES.isdisjoint(keys):
        return refused
    if ear.context.after is not None:  # a file has no now to count from
        return NotUnderstood(refused.why, "HH:MM contraction")
    if ear.spoken is not None:
        led = Words(body).key() in _PUSHES
        return refused if led else NotUnderstood(sentences.TWO_TIMES, f"contraction; {body}")
    readable = typed is not None and set(keys) <= _PUSHES | STRENGTHS.keys()
    return refused if readable else NotUnderstood(refused.why, f"{ago} contraction")


def _since_then(refused: NotUnderstood, body: str, ear: Ear) -> NotUnderstood:
    told = ear.spoken or ear.inner or ear.context.after or refused.recorded
    lines = refused.nearest
    ago = "" if told or "\n" in lines else lasted(body, of_a_pup=lines.startswith("state "))
    return NotUnderstood(refused.why, f"{ago} {lines}") if ago else refused


def since_when(body: str, words: Words) -> str:
    """Since when she has pushed, where the line tells it anywhere: its clock must not start late.

    A time that may be that of something else in the line is left open.
    """
    found = re.findall(rf"(?<![\d.,/:-])\b{SOME_WHILE}\s*ago\b", body, re.IGNORECASE | re.ASCII)
    if not found:
        dated = re.match(r"\d{4}-|\d{1,2}\s*[ap]\.?m\b", body, re.IGNORECASE | re.ASCII)
        return "HH:MM" if dated else how_long_ago(body)
    keys = {token.key for token in words.tokens}
    return found[0] if len(found) == 1 and keys.isdisjoint(_OTHER_EVENTS) else "HH:MM"


def a_timed_push(nearest: str, context: Context) -> str:
    """What a refusal offers, where it is a push with its time: ``1:30 push`` for ``1;30 push``."""
    from boxlamp.language.line import read_line

    for one in nearest.replace("\n", " or ").split(" or "):
        try:
            timed = cut_when(one)[0] is not None
            pushes = timed and isinstance(read_line(one, context).draft.what, Contraction)
        except NotUnderstood:
            return ""
        if not pushes:
            return ""
    return nearest.replace("\n", " or ")

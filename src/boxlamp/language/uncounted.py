"""A line that was not read, but that may tell of a pup that came: that none was counted.

Whoever typed it believes that the pup is in the record, and the clocks that wait for one run on
for a pup that is out. So the answer says it, with the line to type.
"""

from datetime import timedelta
from itertools import pairwise

from boxlamp.language import sentences
from boxlamp.language.behind import cut_behind
from boxlamp.language.clock import Spoken, begins_like_a_time, cut_when
from boxlamp.language.context import Context, NotUnderstood
from boxlamp.language.pups import mentioned
from boxlamp.language.terms import NOT_BORN, SEXES
from boxlamp.language.text import cleaned
from boxlamp.language.tokens import Words, words_of
from boxlamp.language.vocabulary import COMMANDS

_BORN = words_of("born arrived popped delivered birthed")
_OUT = words_of("out here")
_BEFORE_OUT = words_of("is are one another its it's now")
_SEVERAL = words_of("pups puppies twins boys girls dogs bitches males females both")
_YOUNG = words_of("pup puppy") | {word for word in SEXES if len(word) > 1} - _SEVERAL
_LIMP = words_of("limp floppy lifeless")
_ASKS = words_of("is was are did do does should shall can could may what when why how where which")
_OTHER = words_of("amend strike set limit note vet given ack call kit mated scan xray expect")
_OVER = timedelta(hours=24)
"""Our choice: so long after the last birth nobody writes of one without saying more."""
_LOOKED_AT = 60


def none_counted(why: str, line: str, context: Context) -> str:
    """Why a line was not read; and that no pup was counted, where it may tell of one."""
    told = "" if why == sentences.EACH_BIRTH else uncounted(line, context)
    return f"{why} {told}" if told else why


def uncounted(line: str, context: Context) -> str:
    """What to say of a line that may tell of a birth; nothing where it tells of none."""
    if context.after is not None or not _whelping(context):
        return ""
    body, spoken = cleaned(line).strip(), None
    opened = begins_like_a_time(body)
    try:
        spoken, body = cut_when(body)
        spoken = spoken or cut_behind(body)[0]
    except NotUnderstood:
        opened = True
    words = Words(body)
    del words.tokens[_LOOKED_AT:]
    if not _may_tell_of_a_birth(words, context):
        return ""
    keys = [token.key for token in words.tokens]
    sexes = {SEXES[key] for key in keys if key in SEXES and len(key) > 1}
    born = ("pup", *(sexes if len(sexes) == 1 else ()), *(("limp",) if _limp(keys) else ()))
    typed = " ".join(born)
    if not _SEVERAL.isdisjoint(keys):
        return f"{sentences.EACH_BIRTH} {sentences.TYPE_EACH.format(f'HH:MM {typed}')}"
    return sentences.UNCOUNTED.format(f"{_when(spoken, opened=opened)}{typed}")


def _limp(keys: list[str]) -> bool:
    """``another limp pup``: what may have been born is called limp, and needs its clock."""
    return any(_LIMP & {*pair} and _YOUNG & {*pair} for pair in pairwise(keys))


def _when(spoken: Spoken | None, *, opened: bool) -> str:
    if spoken is None:
        return "HH:MM " if opened else ""
    return f"{spoken.text} HH:MM " if spoken.day_only else f"{spoken.typed} "


def _whelping(context: Context) -> bool:
    litter = context.litter
    last = litter.last_birth
    return litter.phase != "after whelping" and (last is None or context.now - last <= _OVER)


def _may_tell_of_a_birth(words: Words, context: Context) -> bool:
    command = words.phrase(COMMANDS)
    words.place = 0
    keys = [token.key for token in words.tokens if not token.quoted]
    pairs = list(pairwise([*keys, ""]))
    denied = any(key in NOT_BORN and not _numbered(key, then) for key, then in pairs)
    if not keys or denied or keys[0] in _ASKS or "?" in words.text:
        return False
    if command is not None and command[0].word in _OTHER:
        return False
    out = any(key in _BEFORE_OUT and then in _OUT for key, then in pairs)
    came = "came" in keys and not (_YOUNG | _SEVERAL).isdisjoint(keys)
    if out or came or not _BORN.isdisjoint(keys):
        return True
    another = command is not None and command[0].word != "pup"
    named = mentioned(Words(words.text, words.tokens), context.litter)
    return not (another or named) and not _YOUNG.isdisjoint(keys)


def _numbered(key: str, then: str) -> bool:
    """``no 3``: the number of a pup."""
    return key == "no" and then.isdigit()

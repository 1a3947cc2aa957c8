"""The words that a board, a single line and a sheet of paper share."""

from collections.abc import Iterable, Sequence
from datetime import datetime, tzinfo

from boxlamp.engine import Alert
from boxlamp.model.entry import Entry
from boxlamp.model.happenings import Details, Note
from boxlamp.model.levels import ALERTS, Level
from boxlamp.model.litter import Litter
from boxlamp.model.zones import zone_named
from boxlamp.view.telephones import in_order, without_numbers
from boxlamp.view.text import clean

CAUTION = "A memory aid, not a diagnosis. In doubt ring the vet; the vet's word comes first."


def levels_counted(levels: Iterable[Level]) -> str:
    """``2 GO, 1 CALL``, the gravest first."""
    found = list(levels)
    return ", ".join(
        f"{found.count(level)} {level.word.upper()}" for level in reversed(ALERTS) if level in found
    )


def said_above(alerts: Sequence[Alert], place: int) -> bool:
    """Whether the alert just above is the same about another pup, with the same to do."""
    if place == 0:
        return False
    above, alert = alerts[place - 1], alerts[place]
    return (above.rule.id, above.level, above.do) == (alert.rule.id, alert.level, alert.do)


_LEAVE = "Leave for the vet now and ring on the way."
_TO_THE_VET = ("Ring the vet now", "Leave for the vet now")
_VET_IS_HERE = "Tell the vet who is with her, now. If the vet has gone, ring at once."
_TELL = "tell the vet now"
_ON_THE_WAY = "Drive on to the vet, and ring ahead to say this. If you turned back, leave again."


_UNLESS_COMING = (
    "Leave for the vet now, unless the vet is coming to you: then ring and ask how long it takes."
)


def to_the_vet(step: str) -> bool:
    """Whether a step is to ring the vet, to drive there, or to speak to the vet who is here."""
    return step.startswith((*_TO_THE_VET, _VET_IS_HERE, _ON_THE_WAY))


def steps_for(alert: Alert, litter: Litter) -> tuple[str, ...]:
    """What to do. Once the vet is with her nobody needs to ring or to drive: only to say so.

    That stands where ringing or driving stood: hands that help a pup breathe come before it.
    Who is on the way already need not leave, but drive on; to ring stays as it was.
    """
    now = alert.since + alert.elapsed
    steps = [in_hands(step, litter, now) for step in alert.do]
    if alert.level >= Level.CALL and litter.with_vet(now):
        steps = [_VET_IS_HERE if step.startswith(_TO_THE_VET) else step for step in steps]
        steps = steps if _VET_IS_HERE in steps else [_VET_IS_HERE, *steps]
    if unborn(alert.subject, litter):
        lines = ", ".join(f"`strike {number}`" for number in alert.entries)
        steps.append(f"Is there no such pup? Take back what was said of it: {lines}.")
    return tuple(dict.fromkeys(steps))


def in_hands(words: str, litter: Litter, now: datetime) -> str:
    """The words for those who are on the way, or with the vet: nobody is told to leave again.

    Where it is written that the vet is coming, to wait is one choice: the line may mean another.

    What would make them leave, if it were seen, is a thing to tell the vet.
    """
    if litter.awaits_vet(now):
        return words.replace(_LEAVE, _UNLESS_COMING)
    if litter.on_the_way(now):
        words = words.replace(_LEAVE, _ON_THE_WAY)
    elif not litter.with_vet(now):
        return words
    return words.replace(f"l{_LEAVE[1:-1]}", _TELL).replace(f"l{_TO_THE_VET[1][1:]}", _TELL)


def message_words(alert: Alert, litter: Litter) -> str:
    """The alert's sentence, naming the pup it is about."""
    message = clean(alert.message)
    if not alert.subject.startswith("pup "):
        return message
    named = subject_words(alert.subject, litter)
    if alert.subject in message:
        return message.replace(alert.subject, named, 1)
    return f"{named}: {message}"


def subject_words(subject: str, litter: Litter) -> str:
    """``pup 3 (marked red)`` for a pup with a mark; any other subject as it is.

    Of a pup whose birth was struck, what hands do within seconds is said all the same: the slip
    may be in the strike.
    """
    if unborn(subject, litter):
        return f"{subject} (not written down)"
    return clean(litter.pups[int(subject[4:])].name) if subject.startswith("pup ") else subject


def unborn(subject: str, litter: Litter) -> bool:
    """Whether it is a pup of which no birth is written down, or none any more."""
    return subject.startswith("pup ") and int(subject[4:]) not in litter.pups


def typed_words(entry: Entry) -> str:
    """What an entry says in the words of the log, without the time it was typed with."""
    from boxlamp.language import say  # `check` tells no entry, and starts without the language

    unread = isinstance(entry.what, Note) and entry.what.unread
    if entry.text and unread:
        return clean(_without_its_time(entry))
    if entry.text and isinstance(entry.what, Details):
        return clean(entry.text)
    note = f"; {entry.note}" if entry.note else ""
    return clean(f"{say(entry.what)}{note}")


def _without_its_time(entry: Entry) -> str:
    """The text of an unread line without a time that is the entry's own; any other stays in it."""
    from boxlamp.language import NotUnderstood
    from boxlamp.language.clock import cut_when

    try:
        spoken, rest = cut_when(entry.text)
    except NotUnderstood:
        return entry.text
    if spoken is None or not rest.strip():
        return entry.text
    local = entry.at.astimezone(zone_named(entry.zone))
    clock = spoken.clock
    told = clock is None or (clock.hour, clock.minute) == (local.hour, local.minute)
    return rest.strip() if told else entry.text


def vet_words(litter: Litter, now: datetime, zone: tzinfo) -> str:
    """Whom to ring and how far it is, as far as known; nobody while the vet is with her.

    The number to ring at this hour comes first: by night the other one is an answering machine.
    """
    if litter.with_vet(now):
        return ""
    details = litter.details
    numbers = [
        clean(f"{label}{number}")
        for label, number in in_order(details.vet_phone, details.night_phone, now, zone)
    ]
    vet = without_numbers(clean(details.vet or ""), numbers) or "Vet"
    words = " ".join([vet, *numbers]) if numbers or details.vet else ""
    if details.travel_minutes is not None and words:
        words += f", {details.travel_minutes} min away"
    return words

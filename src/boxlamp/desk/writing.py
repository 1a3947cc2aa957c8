"""Write one line down: read it, record it, see what it changed."""

from datetime import datetime
from typing import NamedTuple

from boxlamp.desk.session import Session
from boxlamp.engine import Alert, Verdict
from boxlamp.journal import Notice
from boxlamp.language import Context, Doubt, NotUnderstood, if_meant, kept_as_note, read_line, say
from boxlamp.model.entry import Draft, Entry
from boxlamp.model.happenings import Ack, Amend, Kit, Limit
from boxlamp.protocol.overrides import objections
from boxlamp.rules.prompts import prompts_for
from boxlamp.rules.registry import BY_ID, NEVER_RELAXED
from boxlamp.view.text import clean

UNREADABLE = "The program itself failed at this line, so it was not read"


class DoubtfulError(Exception):
    """A line that could be read but should be asked about first. Nothing was written down."""

    exit_code = 2

    def __init__(self, line: str, doubts: tuple[Doubt, ...]) -> None:
        said = (clean(f"{doubt.sentence} {doubt.fix}".strip()) for doubt in doubts)
        super().__init__("\n".join(said))
        self.line = line
        self.doubts = doubts


class RefusedError(Exception):
    """A line that must not be written down, such as a limit no vet's word can loosen."""

    exit_code = 2


class Written(NamedTuple):
    """One line written down and confirmed, with what it changed.

    ``unread`` says why the line was not understood; it was then kept as a note, and ``if_meant``
    says what to type if it speaks of a danger. ``cleared`` are the alerts that stood before and
    stand no longer. ``raised`` are those at a level at which they did not stand before, or that
    came since the line before this one and may not have been read yet.
    """

    entry: Entry
    echo: str
    unread: NotUnderstood | None
    cleared: tuple[Alert, ...]
    verdict: Verdict
    prompts: tuple[str, ...]
    notices: tuple[Notice, ...]
    if_meant: tuple[str, ...] = ()
    raised: tuple[Alert, ...] = ()


def write(  # noqa: PLR0913 - a line, its moment, its writer, and what to do with doubts
    here: Session,
    line: str,
    now: datetime,
    *,
    by: str = "",
    accept: bool = False,
    keep: bool = False,
) -> Written:
    """Write one typed line down in the litter's record, durably, and see what it changed.

    The line is read while nobody else can write, so that a pup number counted here is true.
    With ``accept``, doubts are taken as answered; otherwise they raise :class:`DoubtfulError`.
    A limit that may not be changed so raises :class:`RefusedError`. With ``keep`` neither is
    raised: the line is kept as a note, with the reason, like one that cannot be read.
    """
    echo, unread, context = "", None, Context(now, here.zone_name)

    def make(entries: tuple[Entry, ...]) -> Draft:
        nonlocal echo, unread, context
        context = Context.of(entries, now, here.zone_name)
        try:
            heard = read_line(line, context)
            draft = _allowed(heard.draft, here)
            _ask_about(line, () if accept else heard.doubts)
        except NotUnderstood as error:
            unread = error
            return kept_as_note(line, context)
        except (DoubtfulError, RefusedError) as error:
            if not keep:
                raise
            unread = NotUnderstood(str(error))
            return kept_as_note(line, context)
        except Exception as error:  # noqa: BLE001 - whatever breaks the reader, the line is kept
            unread = NotUnderstood(f"{UNREADABLE} ({type(error).__name__}).")
            return kept_as_note(line, context)
        # An item or a rule that was only begun is told back by its whole name.
        echo = heard.echo.replace(say(heard.draft.what), say(draft.what), 1)
        return draft

    entry = here.journal.record(here.litter, make, recorded=now, by=by)
    # Only now may anything else be worked out: a fault in the rules must not cost the line.
    before = here.verdict(now)
    last = max((one.recorded for one in here.entries), default=now)
    here.refresh()
    after = here.verdict(now)
    return Written(
        entry=entry,
        echo=echo,
        unread=unread,
        cleared=_cleared(before, after),
        verdict=after,
        prompts=prompts_for(entry, after.litter),
        notices=here.journal.take_notices(),
        if_meant=if_meant(line, context) if unread is not None else (),
        raised=_raised(before, after, last),
    )


def _cleared(before: Verdict, after: Verdict) -> tuple[Alert, ...]:
    standing = {(alert.rule.id, alert.subject) for alert in after.alerts}
    return tuple(alert for alert in before.alerts if (alert.rule.id, alert.subject) not in standing)


def _raised(before: Verdict, after: Verdict, last: datetime) -> tuple[Alert, ...]:
    """What a line raised, and what had come since the ``last`` line and was told to nobody."""
    stood = {(alert.rule.id, alert.subject, alert.level) for alert in before.alerts}
    return tuple(
        alert
        for alert in after.alerts
        if alert.raised >= last or (alert.rule.id, alert.subject, alert.level) not in stood
    )


def _ask_about(line: str, doubts: tuple[Doubt, ...]) -> None:
    if doubts:
        raise DoubtfulError(line, doubts)


def _allowed(draft: Draft, here: Session) -> Draft:
    """The draft with the rule or the item it names made sure of, or a refusal."""
    amended = draft.what.what if isinstance(draft.what, Amend) else None
    what = amended or draft.what
    if isinstance(what, Limit):
        found = objections([what], here.assess().book.now.spans, NEVER_RELAXED)
        if found:
            raise RefusedError("\n".join(["Nothing was changed.", *map(clean, found)]))
    if isinstance(draft.what, Ack) and draft.what.rule is not None:
        return draft.model_copy(update={"what": Ack(rule=_rule_meant(draft.what.rule))})
    if isinstance(what, Kit):
        sure = what.model_copy(update={"item": item_meant(what.item)})
        said = draft.what.model_copy(update={"what": sure}) if amended else sure
        return draft.model_copy(update={"what": said})
    return draft


def item_meant(words: str) -> str:
    """The name of the one item of the preparation list that is meant."""
    from boxlamp.planning.kit import BY_ID as ITEMS
    from boxlamp.planning.kit import meant

    found = meant(words)
    if len(found) == 1:
        return found[0].id
    from difflib import get_close_matches

    names = [item.id for item in found] or get_close_matches(words.casefold(), ITEMS, n=3)
    several = f" It may mean {', '.join(names)}." if names else ""
    raise RefusedError(
        f"Nothing was written down: no one thing on the kit list is called {clean(words)!r}."
        f"{several} `boxlamp kit` shows the list; for anything else use `note`."
    )


def _rule_meant(words: str) -> str:
    """The one rule whose name begins so."""
    known = [name for name in BY_ID if name == words] or [
        name for name in BY_ID if name.startswith(words)
    ]
    if len(known) != 1:
        several = f" It may mean {', '.join(known)}." if known else ""
        raise RefusedError(
            f"Nothing was acknowledged: no one rule is called {clean(words)!r}.{several} "
            "`ack` alone acknowledges all that stands."
        )
    return known[0]

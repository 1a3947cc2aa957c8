"""Write one line down: read it, record it, see what it changed."""

from collections.abc import Iterator
from dataclasses import dataclass, field
from datetime import datetime
from functools import partial
from itertools import chain
from typing import NamedTuple

from boxlamp.desk.session import Session
from boxlamp.engine import Alert, Verdict
from boxlamp.journal import Make, Notice
from boxlamp.language import (
    Context,
    Doubt,
    Heard,
    NotUnderstood,
    if_meant,
    kept_as_note,
    say,
)
from boxlamp.language.several import heard
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

    A line about several pups is an entry for each of them. ``unread`` says why the line was not
    understood; it was then kept as a note, and ``if_meant`` says what to type if it speaks of a
    danger. ``cleared`` are the alerts that stood before and stand no longer. ``raised`` are those
    at a level at which they did not stand before, or that came since the line before this one and
    may not have been read yet.
    """

    entries: tuple[Entry, ...]
    echo: str
    unread: NotUnderstood | None
    cleared: tuple[Alert, ...]
    verdict: Verdict
    prompts: tuple[str, ...]
    notices: tuple[Notice, ...]
    if_meant: tuple[str, ...] = ()
    raised: tuple[Alert, ...] = ()

    @property
    def entry(self) -> Entry:
        """The entry of this line, the first where it is several."""
        return self.entries[0]


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
    read = _Line(here, line, now, accept=accept, keep=keep)
    entries = here.journal.record_many(here.litter, read.drafts(), recorded=now, by=by)
    # Only now may anything else be worked out: a fault in the rules must not cost the line.
    before = here.verdict(now)
    last = max((one.recorded for one in here.entries), default=now)
    here.refresh()
    after = here.verdict(now)
    return Written(
        entries=entries,
        echo=read.echo,
        unread=read.unread,
        cleared=_cleared(before, after),
        verdict=after,
        prompts=tuple(dict.fromkeys(chain(*(prompts_for(one, after.litter) for one in entries)))),
        notices=here.journal.take_notices(),
        if_meant=read.if_meant,
        raised=_raised(before, after, last),
    )


@dataclass(eq=False, repr=False)
class _Line:
    """One line while it is read under the journal's lock: what it becomes, how it was meant."""

    here: Session
    text: str
    now: datetime
    accept: bool
    keep: bool
    echo: str = ""
    unread: NotUnderstood | None = None
    _context: Context = field(init=False)
    _further: list[Draft] = field(default_factory=list)
    """The entries after the first, where the line is about several pups."""

    def drafts(self) -> Iterator[Make]:
        """What is to be recorded, one after the other; how much that is, its reading tells."""
        yield self._read
        for draft in self._further:
            yield partial(_ready, draft)

    @property
    def if_meant(self) -> tuple[str, ...]:
        """What to type if a line that was not understood speaks of a danger."""
        if self.unread is None:
            return ()
        return if_meant(self.text, self._context, self.unread.nearest)

    def _read(self, entries: tuple[Entry, ...]) -> Draft:
        self._context = Context.of(entries, self.now, self.here.zone_name)
        try:
            told = heard(self.text, self._context)
            draft, *further = (_allowed(one.draft, self.here) for one in told)
            _ask_about(self.text, () if self.accept else _doubts(told))
        except NotUnderstood as error:
            return self._as_note(error)
        except (DoubtfulError, RefusedError) as error:
            if not self.keep:
                raise
            return self._as_note(NotUnderstood(str(error)))
        except Exception as error:  # noqa: BLE001 - whatever breaks the reader, the line is kept
            return self._as_note(NotUnderstood(f"{UNREADABLE} ({type(error).__name__})."))
        self.echo, self._further = _echo(told, draft), further
        return draft

    def _as_note(self, why: NotUnderstood) -> Draft:
        self.unread = why
        return kept_as_note(self.text, self._context)


def _cleared(before: Verdict, after: Verdict) -> tuple[Alert, ...]:
    """What a line ended; an alert that another goes on with is not over, whatever its name."""
    standing = {(alert.rule.id, alert.subject) for alert in after.alerts}
    gone = (one for one in before.alerts if (one.rule.id, one.subject) not in standing)
    return tuple(one for one in gone if not any(_goes_on(one, other) for other in after.alerts))


def _goes_on(alert: Alert, other: Alert) -> bool:
    same = (alert.subject, alert.since) == (other.subject, other.since)
    return same and other.spell.held and other.level >= alert.level


def _raised(before: Verdict, after: Verdict, last: datetime) -> tuple[Alert, ...]:
    """What a line raised, and what had come since the ``last`` line and was told to nobody."""
    stood = {(alert.rule.id, alert.subject, alert.level) for alert in before.alerts}
    return tuple(
        alert
        for alert in after.alerts
        if alert.raised >= last or (alert.rule.id, alert.subject, alert.level) not in stood
    )


def _ready(draft: Draft, _entries: tuple[Entry, ...]) -> Draft:
    return draft


def _doubts(told: tuple[Heard, ...]) -> tuple[Doubt, ...]:
    return tuple(dict.fromkeys(doubt for one in told for doubt in one.doubts))


def _echo(told: tuple[Heard, ...], draft: Draft) -> str:
    """How the line was understood; ``draft`` is the first of what is written down."""
    first = told[0]
    if len(told) > 1:
        at, each = first.echo.partition("  ")[0], (say(one.draft.what) for one in told)
        return f"{at}  {', '.join(each)}" + (f"; {draft.note}" if draft.note else "")
    # An item or a rule that was only begun is told back by its whole name.
    return first.echo.replace(say(first.draft.what), say(draft.what), 1)


def _ask_about(line: str, doubts: tuple[Doubt, ...]) -> None:
    if doubts:
        raise DoubtfulError(line, doubts)


def _allowed(draft: Draft, here: Session) -> Draft:
    """The draft with the rule or the item it names made sure of, or a refusal."""
    amended = draft.what.what if isinstance(draft.what, Amend) else None
    what = amended or draft.what
    if isinstance(what, Limit):
        book = here.assess().book
        found = objections([what], book.now.spans, NEVER_RELAXED, book.protocol.following)
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

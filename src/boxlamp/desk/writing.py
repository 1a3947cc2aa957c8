"""Write one line down: read it, record it, see what it changed."""

from datetime import datetime
from typing import NamedTuple

from boxlamp.desk.session import Session
from boxlamp.engine import Alert, Verdict
from boxlamp.journal import Notice
from boxlamp.language import Context, Doubt, NotUnderstood, kept_as_note, read_line
from boxlamp.model.entry import Draft, Entry
from boxlamp.model.happenings import Amend, Limit
from boxlamp.outside import default_protocol
from boxlamp.protocol.overrides import objections
from boxlamp.rules.prompts import prompts_for
from boxlamp.rules.registry import NEVER_RELAXED


class DoubtfulError(Exception):
    """A line that could be read but should be asked about first. Nothing was written down."""

    exit_code = 2

    def __init__(self, line: str, doubts: tuple[Doubt, ...]) -> None:
        super().__init__("\n".join(f"{doubt.sentence} {doubt.fix}".strip() for doubt in doubts))
        self.line = line
        self.doubts = doubts


class RefusedError(Exception):
    """A line that must not be written down, such as a limit no vet's word can loosen."""

    exit_code = 2


class Written(NamedTuple):
    """One line written down and confirmed, with what it changed.

    ``unread`` says why the line was not understood; it was then kept as a note. ``cleared`` are
    the alerts that stood before and stand no longer.
    """

    entry: Entry
    echo: str
    unread: NotUnderstood | None
    cleared: tuple[Alert, ...]
    verdict: Verdict
    prompts: tuple[str, ...]
    notices: tuple[Notice, ...]


def write(
    here: Session, line: str, now: datetime, *, by: str = "", accept: bool = False
) -> Written:
    """Write one typed line down in the litter's record, durably, and see what it changed.

    The line is read while nobody else can write, so that a pup number counted here is true.
    With ``accept``, doubts are taken as answered; otherwise they raise :class:`DoubtfulError`.
    A limit that may not be changed so raises :class:`RefusedError`.
    """
    before = here.assess().verdict(now)
    echo, unread = "", None

    def make(entries: tuple[Entry, ...]) -> Draft:
        nonlocal echo, unread
        context = Context.of(entries, now, here.zone_name)
        try:
            heard = read_line(line, context)
        except NotUnderstood as error:
            unread = error
            return kept_as_note(line, context)
        _refuse_bad_limit(heard.draft)
        if heard.doubts and not accept:
            raise DoubtfulError(line, heard.doubts)
        echo = heard.echo
        return heard.draft

    entry = here.journal.record(here.litter, make, recorded=now, by=by)
    here.refresh()
    after = here.assess().verdict(now)
    standing = {(alert.rule.id, alert.subject) for alert in after.alerts}
    return Written(
        entry=entry,
        echo=echo,
        unread=unread,
        cleared=tuple(
            alert for alert in before.alerts if (alert.rule.id, alert.subject) not in standing
        ),
        verdict=after,
        prompts=prompts_for(entry, after.litter),
        notices=here.journal.take_notices(),
    )


def _refuse_bad_limit(draft: Draft) -> None:
    what = draft.what.what if isinstance(draft.what, Amend) else draft.what
    if isinstance(what, Limit):
        found = objections([what], default_protocol(), NEVER_RELAXED)
        if found:
            raise RefusedError("\n".join(["Nothing was changed.", *found]))

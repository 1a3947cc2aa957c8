"""What is said back after a line was written down: how it was understood and what it ended."""

from collections.abc import Iterator
from datetime import tzinfo

from boxlamp.desk.writing import Written
from boxlamp.view.text import clean, clock_text


def answer_lines(written: Written, zone: tzinfo) -> Iterator[str]:
    """The entry's number, time and meaning; the alerts it ended. The first line says it all."""
    entry = written.entry
    at = clock_text(entry.at, written.verdict.at, zone)
    if written.unread is not None:
        yield f"{entry.id:>4}  {at}  NOT UNDERSTOOD, kept as a note: {clean(entry.text)}"
        yield f"      {clean(written.unread.why)}"
        if written.unread.nearest:
            yield f"      Try: {clean(written.unread.nearest)}"
    else:
        yield f"{entry.id:>4}  {clean(written.echo)}"
    for alert in written.cleared:
        pup = f", {alert.subject}" if alert.subject.startswith("pup ") else ""
        yield f"      over: {alert.rule.title}{pup}"


def after_lines(written: Written) -> Iterator[str]:
    """What helps at this moment, as one paragraph, and what the journal has to say."""
    if written.prompts:
        yield f"Now: {' '.join(written.prompts)}"
    yield from (f"Note: {notice.sentence}" for notice in written.notices)

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
        yield from _unread_lines(written, at)
    else:
        last = written.entries[-1].id
        number = f"{entry.id:>4}" if last == entry.id else f"{entry.id} to {last}"
        yield f"{number}  {clean(written.echo)}"
    for alert in written.cleared:
        pup = f", {alert.subject}" if alert.subject.startswith("pup ") else ""
        yield f"      over: {alert.rule.title}{pup}"


def _unread_lines(written: Written, at: str) -> Iterator[str]:
    """That the line was not understood, and what to type. A word of danger is not passed over."""
    entry, unread = written.entry, written.unread
    text, danger = clean(entry.text), written.if_meant
    if danger:
        yield f"{entry.id:>4}  {at}  NOT UNDERSTOOD. A note ONLY, no clock runs for it: {text}"
        yield from (f"      {clean(sentence)}" for sentence in danger)
        yield "      None of these, and you are not sure? Ring the vet."
    else:
        yield f"{entry.id:>4}  {at}  NOT UNDERSTOOD, kept as a note: {text}"
    if unread is not None and not danger:
        yield f"      {clean(unread.why)}"
        for one in filter(None, unread.nearest.split("\n")):
            yield f"      Try: {clean(one)}"


def after_lines(written: Written) -> Iterator[str]:
    """What helps at this moment, as one paragraph, and what the journal has to say."""
    if written.prompts:
        yield f"Now: {' '.join(written.prompts)}"
    yield from (f"Note: {notice.sentence}" for notice in written.notices)

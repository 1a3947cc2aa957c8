"""What is known at a box after some lines: for tests of how the next line is read."""

from datetime import UTC, datetime

from boxlamp.language import Context, read_night

MORNING = datetime(2026, 3, 2, 5, 30, tzinfo=UTC)


def box(*lines: str) -> Context:
    """The context of a record of these lines of 2 March 2026, at 05:30."""
    text = "\n".join(("dam: Ash", "date: 2026-03-02", "zone: UTC", "", *lines, ""))
    return Context.of(read_night(text).entries, MORNING, "UTC")

"""What the console says of itself; what is said of a line comes from the desk."""

from collections.abc import Iterable

from boxlamp.view.text import clean

BACK = "F12 or Esc: back to the board. What you type is kept; Enter writes it down."
STAY = "F10 again leaves. An alert stands and would ring no more; all lines are kept."
STAY_CALM = "F10 again leaves. Everything confirmed is kept; F12 or Esc: back to the board."
INTERRUPTED = "Everything confirmed is kept. Ctrl-C again leaves; F10 leaves too."
ON_PAPER = "Note it on paper as well, and try again with Enter. Type on, and it waits and is tried."
STORED_NOW = "Stored now, as of when it was typed: {}"
STAY_UNSTORED = "Once more leaves WITHOUT what is NOT STORED: {}"
CLEARED = "Cleared: it was not written down."
PRESS_AGAIN = (
    "Nothing was written down, for another line stands in the input. "
    "Enter it or clear it, then press {} again."
)


def left_over(line: str) -> list[str]:
    """What is said at the start of a line that was half typed the last time."""
    return [
        f"Half typed last time, and not written down: {clean(line)}",
        "Esc clears it. Enter writes it down as of now; if it was earlier, put the time first.",
    ]


def paste_again(lines: Iterable[str]) -> list[str]:
    """What is said when a paste has stopped before these lines, unless there is nothing in them."""
    waiting = sum(bool(line.strip()) for line in lines)
    told = f"Lines pasted after it and not taken: {waiting}. Paste them again."
    return [told] if waiting else []


def unstored(lines: Iterable[str]) -> list[str]:
    """What is said to whoever would leave while these lines are not stored."""
    told = "; ".join(map(clean, lines))
    return [STAY_UNSTORED.format(told)] if told else []


def only_notes(lines: Iterable[str]) -> list[str]:
    """What is said at the end of a paste of the lines in it that could not be read."""
    return [f"Kept ONLY as a note, no clock runs for it: {clean(line)}" for line in lines]

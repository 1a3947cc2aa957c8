"""The pages that stand in place of the board: what the keys do, and what the night came to."""

from collections.abc import Sequence

from boxlamp.training.screening import Screening
from boxlamp.training.telling import READING, result
from boxlamp.view.layout import Line
from boxlamp.view.text import clean, date_text, wrap
from boxlamp.view.words import CAUTION, message_words

KEYS: tuple[tuple[str, str], ...] = (
    ("space, p", "stop, and go on"),
    ("right, Enter", "the next event: something typed, or a change of the alerts"),
    ("left", "the event before"),
    ("n", "the next alert that comes or rises"),
    ("b", "the alert before"),
    ("+  -", "faster, slower"),
    ("Home, End", "the beginning; the end, and what the night came to (also s, e)"),
    ("?", "this page, and back"),
    ("q, Ctrl-C", "leave"),
)
_ABOUT = (
    "With --step the space bar goes from event to event, and p plays on by itself.",
    (
        "The board is the one of that moment: nothing on it knows what came later. A quiet "
        "stretch is cut short, and the line with the time says so; every event is shown, and an "
        "alert stays in view for a while."
    ),
    (
        "As known then: what was typed late or put right counts from its typing. As corrected "
        "(--as-corrected): as if every line had been right and in time."
    ),
    "The bar: figures are pups as they were born, ! !! !!! are alerts as they came.",
)
_KEY_WIDTH = 14


def help_lines(width: int) -> list[Line]:
    """What can be pressed, and how to read the screen."""
    lines: list[Line] = [[("name", "Keys")]]
    for key, meaning in KEYS:
        told = wrap(meaning, width - _KEY_WIDTH)
        lines.append([("key", f"{key:<{_KEY_WIDTH}}"), ("text", told[0])])
        lines += [[("text", " " * _KEY_WIDTH + more)] for more in told[1:]]
    for words in _ABOUT:
        lines += [[], *([("dim", line)] for line in wrap(words, width))]
    return lines


def ended_lines(
    screening: Screening, lesson: str, further: Sequence[str], width: int
) -> list[Line]:
    """What the night came to, what it teaches, and where to go from here."""
    zone, ended = screening.zone, screening.ended
    lines: list[Line] = []

    def say(role: str, words: str, *, indent: int = 0) -> None:
        lines.extend([(role, " " * indent + line)] for line in wrap(words, width - indent))

    day, time = date_text(ended.astimezone(zone).date()), f"{ended.astimezone(zone):%H:%M}"
    say("name", f"The end: {day} {time}, {READING[screening.as_corrected]}")
    say("text", result(screening))
    verdict = screening.verdict(ended)
    for alert in verdict.alerts:
        label = f"{alert.level.mark} {alert.level.word.upper()}"
        say(alert.level.word, f"Still stands: {label} {message_words(alert, verdict.litter)}")
    if lesson:
        lines.append([])
        say("name", "What it teaches")
        say("text", clean(lesson))
    if further:
        lines.append([])
        say("name", "From here")
        for command in further:
            say("text", clean(command), indent=2)
    lines.append([])
    say("dim", CAUTION)
    return lines

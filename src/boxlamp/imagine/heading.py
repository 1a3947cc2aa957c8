"""The top of a printed night: that it is invented, how to have it again, what it teaches."""

from textwrap import wrap

from boxlamp.imagine.imagined import Size
from boxlamp.imagine.troubles import BY_NAME

NONE = "none"
FIRST = "# An invented night."
NORMAL = (
    "A whelping drawn as a normal one. Quiet between two pups, a first pup that takes its time "
    "and an afterbirth that comes late are all part of it: count, write, and wait. Where a limit "
    "was passed all the same, ringing was right: at the box nobody can tell how it will end."
)
_WIDE = 88

AGAIN = "# The same again: boxlamp imagine "


def heading(seed: int, size: Size, trouble: str | None) -> tuple[str, ...]:
    """Comments and the lesson, as lines."""
    lesson = NORMAL if trouble is None else BY_NAME[trouble].lesson
    return (
        f"{FIRST} No dog, person or place in it is real.",
        "# Drawn by chance from published figures and, where none was found, from our choice.",
        f"{AGAIN}--seed {seed} --size {size} --trouble {trouble or NONE}",
        *(f"lesson: {line}" for line in wrap(lesson, _WIDE)),
    )

"""The top of a printed night: that it is invented, how to have it again, what it teaches."""

from textwrap import wrap

from boxlamp.imagine.imagined import Size
from boxlamp.imagine.troubles import BY_NAME

NONE = "none"
FIRST = "# An invented night."
NORMAL = (
    "A whelping that goes as it should. Quiet between two pups, a first pup that takes its time "
    "and an afterbirth that comes late are all part of it: count, write, and wait."
)
_WIDE = 88


_AGAIN = "# The same again: boxlamp imagine "


def is_ours(content: bytes) -> bool:
    """Whether a file was printed here, and not written by a person."""
    top = content[:1000].decode("utf-8", "replace").split("\n")
    return top[0].startswith(FIRST) and any(line.startswith(_AGAIN) for line in top[:3])


def heading(seed: int, size: Size, trouble: str | None) -> tuple[str, ...]:
    """Comments and the lesson, as lines."""
    lesson = NORMAL if trouble is None else BY_NAME[trouble].lesson
    return (
        f"{FIRST} No dog, person or place in it is real.",
        "# Drawn by chance from published figures and, where none was found, from our choice.",
        f"{_AGAIN}--seed {seed} --size {size} --trouble {trouble or NONE}",
        *(f"lesson: {line}" for line in wrap(lesson, _WIDE)),
    )

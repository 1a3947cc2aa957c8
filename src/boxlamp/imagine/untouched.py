"""Whether a file is a night as it was printed here, by imagining that night again."""

import re

from boxlamp.imagine.draw import imagine
from boxlamp.imagine.heading import AGAIN, NONE
from boxlamp.imagine.imagined import SIZES
from boxlamp.imagine.troubles import BY_NAME

_HOW = re.compile(
    re.escape(AGAIN) + r"--seed (\d{1,18}) --size ([a-z]{1,9}) --trouble ([a-z-]{1,40})"
)
_TOP = 3


def is_untouched(content: bytes) -> bool:
    """Whether a file is, letter for letter, the night that its heading names.

    A night that somebody wrote on in, and one that was printed by a version of the program that
    drew another one, is not: neither can be had again. How lines end does not count.
    """
    text = content.decode("utf-8", "replace").replace("\r\n", "\n")
    found = [_HOW.fullmatch(line) for line in text.split("\n", _TOP)[:_TOP]]
    for named in filter(None, found):
        size = next((one for one in SIZES if one == named[2]), None)
        if size is not None and (named[3] == NONE or named[3] in BY_NAME):
            return imagine(int(named[1]), size=size, trouble=named[3]).text == text
    return False

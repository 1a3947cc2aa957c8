"""The number of a pup's transponder (ISO 11784): what a valid one looks like.

Fifteen digits. The first three are a country (001 to 899, ISO 3166 numeric) or a maker (900 and
up); the other twelve are the animal's own and are stored in 38 bits, so that they cannot exceed
274,877,906,943. There is no check digit: a slip that stays inside these bounds cannot be found.
Sources: ISO 11784 (excerpts read); ICAR presentation of the bit layout (excerpt read).
"""

DIGITS = 15
LARGEST_OWN = 2**38 - 1
_TEST = "999"
_OLD_LENGTH = 10


def plain_chip(text: str) -> str:
    """A number as typed or copied, without the spaces and dashes people put into it."""
    return "".join(char for char in text if char not in " -.\t")


def chip_problem(number: str) -> str | None:
    """What is wrong with a chip number, in one sentence; None when it can be one."""
    if not (number.isascii() and number.isdigit()):
        old = " Ten letters and digits are an older kind." if len(number) == _OLD_LENGTH else ""
        return f"A chip number has digits only.{old}"
    if len(number) != DIGITS:
        return f"A chip number has {DIGITS} digits; this one has {len(number)}."
    if number.startswith("000"):
        return "No chip number begins with 000."
    if int(number[3:]) > LARGEST_OWN:
        return f"The last twelve digits of a chip number are at most {LARGEST_OWN}."
    if number.startswith(_TEST):
        return "A number that begins with 999 belongs to a test chip."
    return None

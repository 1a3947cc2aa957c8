"""A litter's account as JSON, for other programs; ``schema.py`` beside this gives its shape."""

import unicodedata

from boxlamp.paper.account.models import Account

_ACTING = {"Cc", "Cf", "Zl", "Zp"}
_LARGEST_UNIT = 0xFFFF


def json_form(account: Account) -> str:
    """The whole account as one JSON object, UTF-8, indented for the eye.

    Stored units: grams, degrees Celsius, whole seconds, UTC. What is not known is null. A sign
    that could move a cursor or turn a line round is written as an escape: whoever reads the JSON
    gets it back as it was typed, and a screen that shows the file is left alone.
    """
    text = account.model_dump_json(by_alias=True, indent=2)
    if text.isascii():
        return f"{text}\n"
    return "".join(map(_shown, text)) + "\n"


def _shown(sign: str) -> str:
    """One sign of the text; line ends between the values stay, in them there are none."""
    if sign == "\n" or unicodedata.category(sign) not in _ACTING:
        return sign
    if ord(sign) <= _LARGEST_UNIT:
        return f"\\u{ord(sign):04x}"
    pair = sign.encode("utf-16-be").hex()
    return f"\\u{pair[:4]}\\u{pair[4:]}"

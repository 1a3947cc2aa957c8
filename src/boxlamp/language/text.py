"""Making typed text safe to keep and safe to show."""

import re
import unicodedata

MAX_LINE = 4_000
"""Longest line that is read, in characters."""

# C0 and C1 controls, the marks that reverse the direction of writing, line separators, stray
# surrogates: all can make a screen show something other than what was typed.
_UNSAFE = re.compile(
    "[\x00-\x1f\x7f-\x9f\u061c\u200e\u200f\u2028-\u202e\u2066-\u2069\ufeff\ud800-\udfff]"
)
_TERMINAL_CODE = re.compile(
    "\x1b(?:\\[[0-?]*[ -/]*[@-~]|\\][^\x07\x1b]*(?:\x07|\x1b\\\\)?|[@-Z\\\\^_])"
)
_BLANKS = str.maketrans("\t\n\r", "   ")


def visible(text: str) -> str:
    """The text with every dangerous character replaced by U+FFFD, so that it can be kept."""
    return _UNSAFE.sub("\ufffd", text.translate(_BLANKS))


def cleaned(text: str) -> str:
    """The text without terminal codes and control characters, ready to be read as words."""
    if text.isascii() and text.isprintable():
        return text
    return _UNSAFE.sub("", _TERMINAL_CODE.sub("", text).translate(_BLANKS))


def same(text: str) -> str:
    """What two spellings of one word have in common: no case, one form of accents."""
    return unicodedata.normalize("NFC", text).casefold().replace("\u2019", "'")


def quoted(text: str) -> str:
    """The text in double quotes, as a JSON string that is safe on a screen."""
    import json

    written = json.dumps(text, ensure_ascii=False)
    return _UNSAFE.sub(lambda found: f"\\u{ord(found[0]):04x}", written)


def asks(text: str) -> bool:
    """Whether a text ends in a question mark."""
    return text.rstrip(" .,!").endswith(("?", "\uff1f"))


def shortened(text: str, length: int) -> str:
    """The text cut to ``length`` characters, with an ellipsis where something was lost."""
    return text if len(text) <= length else text[: length - 1] + "\u2026"

"""The seal of a file: by it a paper is known to be exactly as it was written, and of which kind.

The last line names the kind and a digest of all that stands above it. A paper that somebody has
changed, if only by a letter, no longer bears it, and neither does a paper of another kind.
It is no signature: it keeps a hand from losing its own work, not a forger from forging.
"""

import re
from hashlib import sha256
from typing import Literal

Kind = Literal["summary.txt", "summary.md", "summary.html", "summary.pdf", "blank-sheet.pdf"]
"""What kind of paper it is, and in which form."""

_DIGITS = 32
_LAST = re.compile(rb"(?s)(.*\n)[^\n]*\bBoxlamp ([a-z-]+\.[a-z]+) ([0-9a-f]{32})\b[^\n]*\n?")
# A line that a reader of the form passes over; a text is read whole, so it says what it is.
_AS_COMMENT = {
    "txt": "[Boxlamp {}]",
    "md": "<!-- Boxlamp {} -->",
    "html": "<!-- Boxlamp {} -->",
    "pdf": "%Boxlamp {}",
}


def sealed(content: bytes, kind: Kind) -> bytes:
    """The content with its seal under it."""
    body = content if content.endswith(b"\n") else content + b"\n"
    line = _AS_COMMENT[kind.partition(".")[2]].format(f"{kind} {_digest(body, kind)}")
    return b"".join((body, line.encode(), b"\n"))


def bears_seal(content: bytes, kind: Kind) -> bool:
    """Whether a file is exactly what was sealed as this kind; the ends of its lines do not count.

    Text may have travelled through a program that ends lines in its own way.
    """
    if not content.startswith(b"%PDF-"):
        content = content.replace(b"\r\n", b"\n")
    found = _LAST.fullmatch(content)
    if found is None or found[2] != kind.encode():
        return False
    return sealed(found[1], kind) in {content, content + b"\n"}


def _digest(body: bytes, kind: Kind) -> str:
    return sha256(kind.encode() + b"\n" + body).hexdigest()[:_DIGITS]

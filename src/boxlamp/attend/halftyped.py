"""The half-typed line, kept beside the journal so that a closed terminal does not lose it."""

import os
from contextlib import suppress
from pathlib import Path


class HalfTyped:
    """Saves the line in the input when it changes; gives it back at the next start."""

    def __init__(self, journal: Path) -> None:
        self._path = journal.with_name(f"{journal.stem}.half-typed")
        self._saved = ""

    def restore(self) -> str:
        """The line left over from last time, or nothing."""
        try:
            self._saved = self._path.read_text(encoding="utf-8")[:4000]
        except (OSError, UnicodeDecodeError):
            self._saved = ""
        return " ".join(self._saved.split())

    def save(self, line: str) -> None:
        """Keep the line as it stands. A full disk must not disturb the night: it is let go."""
        if line == self._saved:
            return
        with suppress(OSError):
            if not line:
                self._path.unlink(missing_ok=True)
            else:
                flags = os.O_WRONLY | os.O_CREAT | os.O_TRUNC
                with os.fdopen(os.open(self._path, flags, 0o600), "wb") as file:
                    file.write(line.encode("utf-8", "replace"))
        self._saved = line

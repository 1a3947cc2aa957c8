"""A fault in the program itself: the traceback goes into a file, a sentence to the person."""

import tempfile
import traceback
from pathlib import Path


def report(error: Exception) -> str:
    """Write the traceback to a private file and say where it lies."""
    story = "".join(traceback.format_exception(error))
    try:
        with tempfile.NamedTemporaryFile(
            "w", prefix="boxlamp-", suffix=".txt", delete=False, encoding="utf-8"
        ) as file:
            file.write(story)
        where = f"What happened is written down in {Path(file.name)}."
    except OSError:
        where = "It could not be written to a file; run again with --debug to see it."
    return (
        f"boxlamp: the program has failed ({type(error).__name__}). {where}\n"
        "Everything that was confirmed is kept. If she is in labour now, go on with paper and "
        "clock, and ring the vet when in doubt."
    )

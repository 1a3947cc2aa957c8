"""What a redraw of the board costs with 10, 200, 2,000 and 20,000 entries.

Three figures: one pass of the rules (only when something was typed), one redraw (every second),
and reading the same entries with pydantic alone, as the measure. Asserts nothing.
"""

import sys
from datetime import UTC, timedelta
from pathlib import Path

from pydantic import TypeAdapter

sys.path.insert(0, str(Path(__file__).parents[1]))

from support.long_logs import median, night
from support.nights import DEFAULT

from boxlamp.engine import assess
from boxlamp.model.entry import Entry
from boxlamp.model.story import Story
from boxlamp.view.board import board
from boxlamp.view.layout import fitted


def main() -> None:
    """Print one row per size."""
    reader = TypeAdapter(list[Entry])
    sys.stdout.write("entries   rules pass   redraw   pydantic read   pass/read\n")
    for count in (10, 200, 2_000, 20_000):
        entries = night(count)
        text = reader.dump_json(entries)
        runs = 5 if count > 5_000 else 20
        now = entries[-1].at + timedelta(minutes=7)
        assessment = assess(Story(entries), DEFAULT)

        def redraw(assessment=assessment, entries=entries, now=now) -> object:  # type: ignore[no-untyped-def]  # noqa: ANN001
            return fitted(board(assessment.verdict(now), entries, UTC, latest=12), 80, 20)

        whole = median(lambda entries=entries: assess(Story(entries), DEFAULT).lives, runs)  # type: ignore[misc]
        drawn = median(redraw, runs)
        read = median(lambda text=text: reader.validate_json(text), runs)  # type: ignore[misc]
        sys.stdout.write(
            f"{count:>7}{whole * 1000:>10.2f} ms{drawn * 1000:>7.2f} ms{read * 1000:>13.2f} ms"
            f"{whole / read:>12.2f}\n"
        )


if __name__ == "__main__":
    main()

"""What watching a night again costs: making it ready, the first frame, and a jump anywhere.

Told in passes of the rules over the whole night, for a night typed as it happened and for one
in which every line was typed late. Asserts nothing.
"""

import sys
from datetime import timedelta
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parents[1]))

from support.long_logs import median
from support.nights import DEFAULT, DEMO

from boxlamp.engine import assess
from boxlamp.language import read_night
from boxlamp.model.entry import Entry
from boxlamp.model.story import Story
from boxlamp.training.player import player_of
from boxlamp.training.scene import Look, Show, scene, show_of
from boxlamp.training.screening import screen

_LATE = timedelta(minutes=3)


def late(entries: tuple[Entry, ...]) -> tuple[Entry, ...]:
    """The same night with every line typed three minutes late."""
    return tuple(one.model_copy(update={"recorded": one.at + _LATE}) for one in entries)


def frame(show: Show) -> object:
    """The first frame of it."""
    return scene(show, player_of(show.screening), Look(), 80, 24)


def jumps(entries: tuple[Entry, ...]) -> float:
    """The mean cost of a jump from end to end of a night, with the frame it draws."""
    show = show_of(screen(entries, DEFAULT))
    player = player_of(show.screening, step=True)
    places = [player.reel.stops[place::7] for place in range(7)]
    todo = [player._replace(place=place) for some in places for place in some]

    def all_of_them() -> None:
        for one in todo:
            scene(show, one, Look(), 80, 24)

    return median(all_of_them, 3) / len(todo)


def main() -> None:
    """Print one row per night."""
    sys.stdout.write(f"{'night':<32}rules pass    ready/pass   first/pass   jump/pass\n")
    for name in ("stalled-labour", "fourteen-pups", "eight-weeks"):
        typed = read_night((DEMO / f"{name}.night").read_text(encoding="utf-8")).entries
        for how, entries in (("", typed), (", all late", late(typed))):
            whole = median(lambda entries=entries: assess(Story(entries), DEFAULT).lives, 9)  # type: ignore[misc]
            ready = median(lambda entries=entries: screen(entries, DEFAULT), 3)  # type: ignore[misc]
            show = show_of(screen(entries, DEFAULT))
            first = median(lambda show=show: frame(show), 9)  # type: ignore[misc]
            sys.stdout.write(
                f"{name + how:<32}{whole * 1000:>7.1f} ms{ready / whole:>14.1f}"
                f"{first / whole:>13.2f}{jumps(entries) / whole:>12.2f}\n"
            )


if __name__ == "__main__":
    main()

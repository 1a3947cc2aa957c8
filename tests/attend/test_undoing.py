"""Taking back what cannot be taken back: the screen says so, and claims nothing."""

from pathlib import Path

from boxlamp.desk.writing import write
from boxlamp.model.litter import fold
from boxlamp.model.story import Story
from support.boxes import Watch, seated, sitting_at


def test_an_undo_that_would_lose_a_pup_is_refused_aloud(tmp_path: Path) -> None:
    """A strike stays when the number of what it struck was given anew in another terminal."""
    path, watch = tmp_path / "journal.db", Watch()
    with sitting_at(path, watch) as sitting:
        sitting.enter("pup dog 312g")
        sitting.enter("strike 2 typed twice")
        with seated(path) as other:
            write(other, "pup bitch 300g", watch.now)
        sitting.tick()
        sitting.undo()

        assert sitting.mood == "trouble"
        assert "Write it down anew" in " ".join(sitting.message)
        assert not any("Took back" in line for line in sitting.message)
        assert fold(Story(sitting.here.entries)).born == 1

"""Any sequence of writing, closing, damage and repair leaves the same record."""

import shutil
import tempfile
from pathlib import Path

from hypothesis import settings
from hypothesis import strategies as st
from hypothesis.stateful import RuleBasedStateMachine, initialize, invariant, precondition, rule

from boxlamp.journal import open_journal
from boxlamp.journal.exchange import export_jsonl
from boxlamp.journal.repair import rebuild_database, rebuild_mirror, recover
from boxlamp.journal.verify import verify
from support.effort import effort
from support.journals import NOW, import_jsonl, note, strike, texts

WORDS = st.text(st.characters(exclude_categories=["Cs"]), max_size=20)


class JournalMachine(RuleBasedStateMachine):
    """A journal beside a plain list of what was acknowledged."""

    @initialize()
    def begin(self) -> None:
        """Open a journal with one litter."""
        self.folder = Path(tempfile.mkdtemp())
        self.path = self.folder / "journal.db"
        self.mirror = self.folder / "journal.jsonl"
        self.journal = open_journal(self.path)
        self.litter = self.journal.open_litter("Bramble", opened=NOW)
        self.told: list[str] = []
        self.mirror_whole = True

    @rule(words=WORDS)
    def append(self, words: str) -> None:
        """Record a note."""
        entry = self.journal.record(self.litter, note(words), recorded=NOW)
        self.told.append(words)
        assert entry.id == len(self.told)
        self.mirror_whole = True

    @rule(words=st.lists(WORDS, max_size=4))
    def append_many(self, words: list[str]) -> None:
        """Record several notes at once."""
        self.journal.record_many(self.litter, [note(one) for one in words], recorded=NOW)
        self.told += words
        self.mirror_whole = True

    @precondition(lambda self: self.told)
    @rule(data=st.data())
    def strike(self, data: st.DataObject) -> None:
        """Strike an earlier entry: it stays."""
        target = data.draw(st.integers(1, len(self.told)))
        self.journal.record(self.litter, strike(target), recorded=NOW)
        self.told.append(f"strike {target}")
        self.mirror_whole = True

    @rule()
    def reopen(self) -> None:
        """Close and open again."""
        self.journal.close()
        self.journal = open_journal(self.path)
        self.mirror_whole = True

    @rule(lost=st.integers(1, 3000), rubbish=st.binary(max_size=9))
    def tear_mirror(self, lost: int, rubbish: bytes) -> None:
        """Cut off the end of the mirror and leave rubbish there, as a power cut does."""
        size = self.mirror.stat().st_size if self.mirror.exists() else 0
        with self.mirror.open("ab") as file:
            file.truncate(max(0, size - lost))
            file.write(rubbish.replace(b"\n", b""))
        self.mirror_whole = False

    @rule()
    def delete_mirror(self) -> None:
        """Remove the mirror."""
        self.mirror.unlink(missing_ok=True)
        self.mirror_whole = False

    @precondition(lambda self: self.mirror_whole)
    @rule(by_hand=st.booleans())
    def delete_database(self, by_hand: bool) -> None:  # noqa: FBT001
        """Remove the database under the open journal; the mirror is whole."""
        self.path.unlink()
        if by_hand:
            rebuild_database(self.path)
        else:
            assert len(self.journal.litters()) == 1

    @rule()
    def rebuild_mirror(self) -> None:
        """Write the mirror anew from the database."""
        rebuild_mirror(self.path)
        self.mirror_whole = True

    @precondition(lambda self: self.mirror_whole)
    @rule()
    def rebuild_database(self) -> None:
        """Build the database anew from the mirror."""
        rebuild_database(self.path)

    @rule()
    def recover(self) -> None:
        """Make the best of both copies."""
        assert recover(self.path).findings == ()
        self.mirror_whole = True

    @rule()
    def exchange(self) -> None:
        """Export the litter and import it into the same journal: nothing is added."""
        file = self.folder / "litter.out"
        lines = export_jsonl(self.journal, self.litter)
        file.write_bytes("".join(f"{line}\n" for line in lines).encode())
        assert import_jsonl(self.journal, file).added == ()
        self.mirror_whole = True

    @invariant()
    def nothing_acknowledged_is_lost(self) -> None:
        """The entries are exactly what was acknowledged, in order."""
        assert texts(self.journal, self.litter) == self.told
        assert [entry.id for entry in self.journal.entries(self.litter)] == [
            *range(1, len(self.told) + 1)
        ]

    @precondition(lambda self: self.mirror_whole)
    @invariant()
    def both_copies_agree(self) -> None:
        """Whenever the journal has had a chance to mend its mirror, the check is clean."""
        assert verify(self.path).findings == ()

    def teardown(self) -> None:
        """Close and clear up."""
        if hasattr(self, "journal"):
            self.journal.close()
            shutil.rmtree(self.folder)


TestJournalMachine = JournalMachine.TestCase
TestJournalMachine.settings = settings(
    max_examples=effort(20, nightly=400), stateful_step_count=effort(15, nightly=40), deadline=None
)

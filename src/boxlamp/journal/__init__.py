"""The durable record: a database, its plain-text mirror, import and export.

Start with :func:`open_journal`. Checking is in ``verify``, mending in ``repair``, copying in
``backup`` and exchange with other people in ``exchange``; each is loaded where it is used.
"""

from boxlamp.journal.errors import JournalError
from boxlamp.journal.intake import Intake
from boxlamp.journal.journal import Journal, Make, open_journal
from boxlamp.journal.notices import Finding, Notice, Report
from boxlamp.journal.paths import default_path
from boxlamp.journal.rows import LitterRow

__all__ = [
    "Finding",
    "Intake",
    "Journal",
    "JournalError",
    "LitterRow",
    "Make",
    "Notice",
    "Report",
    "default_path",
    "open_journal",
]

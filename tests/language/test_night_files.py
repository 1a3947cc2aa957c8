import time
from datetime import UTC, datetime

import pytest
from hypothesis import HealthCheck, given, settings
from support.happenings import NOW, records

from boxlamp.language import Expected, NightError, read_night, write_night
from boxlamp.model.entry import Draft, Entry
from boxlamp.model.happenings import Birth, Contraction, Details, Expect, Mating, Note, Ovulation


@given(records())
@settings(max_examples=250, deadline=None, suppress_health_check=[HealthCheck.too_slow])
def test_a_written_record_reads_back_exactly(entries: tuple[Entry, ...]) -> None:
    """Ids, both times, who, zone, certainty, raw text, note, words: nothing is lost or changed."""
    assert read_night(write_night(entries)).entries == entries


@given(records())
@settings(max_examples=60, deadline=None, suppress_health_check=[HealthCheck.too_slow])
def test_a_written_record_is_safe_to_print(entries: tuple[Entry, ...]) -> None:
    """A written file holds no control character but the ends of its lines."""
    written = write_night(entries)

    assert not any(ord(sign) < 32 and sign != "\n" for sign in written)
    assert "\u202e" not in written

import json
import unicodedata
from datetime import UTC, datetime

import pytest
from hypothesis import given
from hypothesis import strategies as st

from boxlamp.paper.account.account import account_of
from boxlamp.paper.account.evidence import Digest
from boxlamp.paper.account.models import Account, Afterbirths, Dam
from boxlamp.paper.export.json_form import json_form
from support.accounts import entries_of, matter_of

NIGHT = "normal-first-litter"
ACTING = (
    "\x1b[2J",
    "\x9b1m",
    "\u202egnp",
    "\u2028",
    "\ufeff",
    "\U000e0041",
    "\n\t\r",
    "\x00",
    "\x7f",
)


def named(name: str) -> Account:
    """An account of a dam of this name and of nothing else."""
    return Account(
        litter="ash", at=datetime(2026, 3, 2, 1, 0, tzinfo=UTC), zone="UTC", protocol="1",
        phase="waiting", dam=Dam(name=name), digest=Digest(sha256="0" * 64, entries=0),
        afterbirths=Afterbirths(pups=0, passed=0, owed_by=(), not_seen_of=()),
    )  # fmt: skip


def test_it_is_the_whole_account() -> None:
    """Read back it is the account itself, with stored units in the names and times in UTC."""
    account = account_of(matter_of(entries_of(NIGHT)))
    read = json.loads(json_form(account))

    assert read == account.model_dump(mode="json", by_alias=True)
    assert read["schema"] == 1
    assert read["at"].endswith("Z")
    assert len(read["pups"]) == account.born > 0
    for pup, told in zip(account.pups, read["pups"], strict=True):
        assert told["birth_weight_g"] == (pup.birth_weight_g and float(pup.birth_weight_g))
        assert told["interval_s"] == (pup.interval and pup.interval.total_seconds())
    assert len(read["timeline"]) == len(account.timeline)


@given(st.text(max_size=20) | st.builds("".join, st.lists(st.sampled_from(ACTING))))
def test_nothing_in_it_acts_and_nothing_is_lost(name: str) -> None:
    """No sign of the file moves a cursor or turns a line, and all come back as typed."""
    name = name.encode("utf-8", "replace").decode()
    text = json_form(named(name))

    assert json.loads(text)["dam"]["name"] == name
    assert not any(
        unicodedata.category(sign) in {"Cc", "Cf", "Zl", "Zp"} for sign in text.replace("\n", "")
    )


@pytest.mark.parametrize("name", ["Žofie", "レイ", "🐕"])
def test_any_writing_stays_readable(name: str) -> None:
    """Letters of any writing stand as they are."""
    assert f'"name": "{name}"' in json_form(named(name))

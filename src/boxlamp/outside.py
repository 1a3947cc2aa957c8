"""The world outside: the clock, the zone, what is shipped with the program. Only the edges ask it.

The rooms model, rules, protocol, engine, language, view never import this module; the moment
and the texts they work on are handed to them.
"""

from datetime import UTC, datetime
from functools import cache
from pathlib import Path

from boxlamp.protocol.packed import unpack
from boxlamp.protocol.records import Protocol, read_protocol

SHIPPED = Path(__file__).parent / "protocol" / "default.toml"
"""The limits as people edit them."""
PACKED = SHIPPED.with_suffix(".packed.json")
"""The same, read and judged beforehand by `docs/generate.py`."""


def now() -> datetime:
    """The present instant in UTC, to the second."""
    return datetime.now(UTC).replace(microsecond=0)


def local_zone() -> str:
    """The IANA name of this computer's time zone, or ``UTC`` when it cannot be told."""
    from tzlocal import get_localzone_name

    try:
        return get_localzone_name() or "UTC"
    except (LookupError, ValueError, OSError):
        return "UTC"


@cache
def default_protocol() -> Protocol:
    """The protocol shipped with the program: from its pack, if that was made from this text."""
    text = SHIPPED.read_bytes()
    try:
        packed = PACKED.read_bytes()
    except OSError:
        packed = b""
    return unpack(packed, text) or read_protocol(text.decode())


def shipped_nights() -> tuple[Path, ...]:
    """The invented nights that come with the program, by name.

    An installed program carries them beside its modules; a checkout has them in ``demo/``.
    """
    here = Path(__file__).parent
    places = (here / "demo", here.parents[1] / "demo")
    return tuple(sorted(next((p for p in places if p.is_dir()), here).glob("*.night")))

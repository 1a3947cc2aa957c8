"""The summary put together: the first page, then everything it rests on."""

from collections.abc import Iterator

from boxlamp.model.zones import plain_zone
from boxlamp.paper.account.models import Account
from boxlamp.paper.document import Document, Section
from boxlamp.paper.reader import Reader
from boxlamp.paper.summary.alerts import alerts_section, watches_section
from boxlamp.paper.summary.charts import charts_section
from boxlamp.paper.summary.evidence import closing_section, limits_section, sources_section
from boxlamp.paper.summary.front import dam_section, spoken, stages_section
from boxlamp.paper.summary.growing import growing_section, weights_section
from boxlamp.paper.summary.open_points import given_section, open_section
from boxlamp.paper.summary.pups import afterbirths_section, noted_section, pups_section
from boxlamp.paper.summary.timeline import timeline_section

_FOOT = "A memory aid, not a diagnosis: in doubt ring the vet."
_DIGITS = 12


def summary_of(account: Account, reader: Reader) -> Document:
    """The summary of one litter for the vet, in the reader's units."""
    name = account.dam.name or "The dam"
    began = account.pups[0].born if account.pups else account.caesarean or account.finished
    if began is not None:
        title = f"{name}: whelping of {reader.day(began)}"
    else:
        title = f"{name}: no pup born by {reader.day(account.at)}"
    return Document(
        title=title,
        subtitle=(
            f"As of {reader.day(account.at)} at {reader.time(account.at)} "
            f"({plain_zone(account.zone)}); {spoken(account)}."
        ),
        sections=tuple(_sections(account, reader)),
        foot=f"{name} · {account.litter} · record {account.digest.sha256[:_DIGITS]} · {_FOOT}",
    )


def _sections(account: Account, reader: Reader) -> Iterator[Section]:
    yield open_section(account, reader)
    yield dam_section(account, reader)
    yield stages_section(account, reader)
    yield pups_section(account, reader)
    yield afterbirths_section(account)
    yield alerts_section(account, reader)
    yield given_section(account, reader)
    noted = noted_section(account, reader)
    if noted is not None:
        yield noted
    yield timeline_section(account, reader)
    for section in (
        watches_section(account, reader),
        weights_section(account, reader),
        growing_section(account, reader),
        charts_section(account, reader),
    ):
        if section is not None:
            yield section
    yield limits_section(account, reader)
    yield sources_section(account)
    yield closing_section(account)

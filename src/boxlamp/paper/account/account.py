"""The account put together from its parts."""

from boxlamp.paper.account.afterbirths import afterbirths_of
from boxlamp.paper.account.alerts import alerts_of
from boxlamp.paper.account.dam import dam_of, due_of
from boxlamp.paper.account.evidence import Digest
from boxlamp.paper.account.given import contacts_of, given_of
from boxlamp.paper.account.labour import longest_interval, pushing_of, stages_of
from boxlamp.paper.account.limits import changes_of, limits_of, sources_of
from boxlamp.paper.account.matter import Matter
from boxlamp.paper.account.measurements import (
    dam_seen_of,
    discharges_of,
    temperatures_of,
    weights_of,
)
from boxlamp.paper.account.models import Account, Expected
from boxlamp.paper.account.open_points import open_points
from boxlamp.paper.account.pups import pups_of
from boxlamp.paper.account.timeline import timeline_of

CAUTIONS = (
    "A memory aid, not a diagnosis. In doubt ring the vet.",
    "Local practice and the vet's word come before every limit in here.",
    "Times are as the breeder typed them; nothing was measured by this program.",
)


def account_of(matter: Matter) -> Account:
    """Everything the paper says of one litter at one moment."""
    verdict = matter.verdict
    litter = verdict.litter
    expected = (
        None
        if litter.expected is None or litter.expected_by is None
        else Expected(count=litter.expected, by=litter.expected_by)
    )
    limits = limits_of(matter)
    return Account(
        litter=matter.litter,
        at=verdict.at,
        zone=matter.zone,
        protocol=verdict.book.protocol.version,
        phase=litter.phase,
        finished=litter.finished,
        caesarean=litter.caesarean,
        dam=dam_of(matter),
        expected=expected,
        due=due_of(matter),
        stages=stages_of(matter),
        pushing=pushing_of(matter),
        longest_interval=longest_interval(matter),
        pups=pups_of(matter),
        afterbirths=afterbirths_of(matter),
        alerts=alerts_of(matter),
        given=given_of(matter),
        contacts=contacts_of(matter),
        open=open_points(matter),
        timeline=timeline_of(matter),
        weights=weights_of(matter),
        temperatures=temperatures_of(matter),
        discharges=discharges_of(matter),
        dam_seen=dam_seen_of(matter),
        limits=limits,
        changes=changes_of(matter),
        sources=sources_of(matter, limits),
        cautions=CAUTIONS,
        digest=Digest(sha256=matter.chain, entries=matter.kept),
    )

"""Every temperature, weight, discharge and state of the dam that was written down."""

from boxlamp.model.happenings import DamState, Discharge, Temperature
from boxlamp.model.litter import Pup
from boxlamp.paper.account.evidence import DamSeen, DischargeSeen, Measured, PupWeights, Weighed
from boxlamp.paper.account.matter import Matter
from boxlamp.rules.scale import KINDS, Scale, Scales


def temperatures_of(matter: Matter) -> tuple[Measured, ...]:
    """The temperatures of the dam, of the pups and of the box, oldest first, in °C."""
    return tuple(
        Measured(
            entry=entry.id,
            at=entry.at,
            celsius=entry.what.celsius,
            where=entry.what.where,
            pup=entry.what.pup if entry.what.where == "pup" else None,
        )
        for entry in matter.verdict.story.of(Temperature)
        if isinstance(entry.what, Temperature)
    )


def discharges_of(matter: Matter) -> tuple[DischargeSeen, ...]:
    """Every discharge that was written down, oldest first."""
    return tuple(
        DischargeSeen(
            entry=entry.id,
            at=entry.at,
            estimated=entry.certainty != "seen",
            colour=entry.what.colour,
            amount=entry.what.amount,
            foul=entry.what.foul,
        )
        for entry in matter.verdict.story.of(Discharge)
        if isinstance(entry.what, Discharge)
    )


def dam_seen_of(matter: Matter) -> tuple[DamSeen, ...]:
    """Every word on how the dam looked, oldest first."""
    return tuple(
        DamSeen(
            entry=entry.id,
            at=entry.at,
            estimated=entry.certainty != "seen",
            signs=entry.what.signs,
        )
        for entry in matter.verdict.story.of(DamState)
        if isinstance(entry.what, DamState)
    )


def weights_of(matter: Matter) -> tuple[PupWeights, ...]:
    """The weights of each pup that was ever weighed, pups in the order of their birth.

    A weight given with the birth is the first of them.
    """
    scales = Scales()
    for entry in matter.verdict.story.of(*KINDS):
        scales.take(entry)
    found = (
        PupWeights(pup=pup.number, weights=_weights(pup, scales.pups[pup.number]))
        for pup in matter.verdict.litter.in_order
    )
    return tuple(pup for pup in found if pup.weights)


def _weights(pup: Pup, scale: Scale) -> tuple[Weighed, ...]:
    if scale.weighings:
        return tuple(Weighed(at=one.at, grams=one.grams) for one in scale.weighings)
    # A pup born dead is on no scale, but its one weight is known.
    if pup.birth_weight is None or pup.weighed is None:
        return ()
    return (Weighed(at=pup.weighed, grams=pup.birth_weight),)

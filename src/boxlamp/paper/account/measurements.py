"""Every temperature and every weight that was written down, as measured."""

from boxlamp.model.happenings import Temperature
from boxlamp.model.litter import Pup
from boxlamp.paper.account.evidence import Measured, PupWeights, Weighed
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

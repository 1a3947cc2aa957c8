"""Whether the scale in use is fine enough for light pups."""

from decimal import Decimal

from boxlamp.growth.cited import Cited
from boxlamp.rules.scale import Scales

SOURCE = Cited(
    "A loss of 4 % is 6 g of a pup of 150 g; a step of 5 g is 2 % and more below 250 g. From how "
    "many weights the step can be told is our choice.",
    "D",
)
LIGHT = Decimal(250)
"""Below this weight in grams a coarse scale hides the losses that matter."""

_COARSE = 5
# A scale in 1 g steps shows so many multiples of 5 in a row once in 600 times (our choice).
_ENOUGH = 4


def too_coarse(scales: Scales) -> bool:
    """Whether every weight is a multiple of 5 g while a pup in the house is light."""
    weights = [one.grams for scale in scales.pups.values() for one in scale.weighings]
    light = any(scale.last is not None and scale.last.grams < LIGHT for scale in scales.here)
    return light and len(weights) >= _ENOUGH and all(grams % _COARSE == 0 for grams in weights)

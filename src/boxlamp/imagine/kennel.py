"""Dams to draw from: breeds with published birth weights, and names that nobody owns."""

from typing import NamedTuple

from boxlamp.growth.cited import Cited
from boxlamp.imagine.imagined import Size

_MUGNIER = Cited(
    "Mean and standard deviation of birth weight by breed.", "T",
    "Low and very low birth weight in puppies", "Mugnier A. et al., BMC Vet Res 2020;16",
    "Table 1, doi:10.1186/s12917-020-02577-z",
)  # fmt: skip
_NAGPUR = Cited(
    "Mean birth weight by breed; the spread of 17 in 100 is our choice.", "A",
    "Nine breeds, 60 bitches", "Bawaskar M.S. et al., Indian J Canine Pract 2018;10:123-126",
)  # fmt: skip
_DANE = Cited(
    "457 g by one survey and 625 g by one handbook disagree: the middle, and 17 in 100 as spread.",
    "C",
)


class Breed(NamedTuple):
    """A breed: the grown bitch's usual kilos (from memory), her pups' grams at birth."""

    name: str
    size: Size
    kilos: tuple[float, float]
    grams: float
    spread: float
    cited: Cited


BREEDS = (
    Breed("Bichon Frise", "small", (5.0, 8.0), 180.1, 35.6, _MUGNIER),
    Breed("Shih Tzu", "small", (5.0, 7.5), 175.5, 27.9, _MUGNIER),
    Breed("West Highland White Terrier", "small", (6.5, 9.5), 192.1, 36.3, _MUGNIER),
    Breed("Cocker Spaniel", "medium", (11.5, 14.5), 262.6, 59.4, _MUGNIER),
    Breed("Australian Shepherd", "medium", (17.0, 24.5), 363.8, 82.6, _MUGNIER),
    Breed("Labrador Retriever", "large", (25.5, 33.0), 409.9, 69.2, _MUGNIER),
    Breed("Golden Retriever", "large", (25.5, 32.0), 394.8, 76.8, _MUGNIER),
    Breed("German Shepherd", "large", (25.5, 34.0), 513.7, 90.8, _MUGNIER),
    Breed("Great Dane", "giant", (47.0, 62.0), 541.0, 92.0, _DANE),
    Breed("St Bernard", "giant", (50.0, 70.0), 462.0, 78.5, _NAGPUR),
)

NAMES = (
    "Alder", "Anise", "Aster", "Briar", "Bryony", "Campion", "Clover", "Damson", "Fennel", "Fern",
    "Flax", "Gorse", "Heather", "Larch", "Linnet", "Lovage", "Mallow", "Medlar", "Myrtle",
    "Nettle", "Pippin", "Quince", "Rowan", "Saffron", "Sedge", "Tansy", "Teasel", "Thrift",
    "Willow", "Yarrow",
)  # fmt: skip

VETS = ("Dr Adler", "Dr Benda", "Dr Lindqvist", "Dr Moreau", "Dr Okafor", "Dr Sharp")

ZONES = ("Europe/Prague", "Europe/London", "Europe/Berlin", "Europe/Dublin", "Europe/Paris")

MARKS = (
    "red", "blue", "green", "white", "yellow", "orange", "purple", "brown", "pink", "black",
    "grey", "lime", "navy", "silver", "gold", "violet", "teal", "cream", "olive", "lilac",
    "coral", "amber", "ruby", "jade",
)  # fmt: skip

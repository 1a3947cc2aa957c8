"""After the birth: what is due for the dam and the pups, and when. Every number is a record."""

from collections.abc import Iterator
from datetime import date, timedelta
from math import ceil

from boxlamp.model.entry import Entry
from boxlamp.model.happenings import Birth, Caesarean, Finished, Milestone, VetContact
from boxlamp.model.levels import Level
from boxlamp.model.litter import Litter, Pup
from boxlamp.model.story import Story
from boxlamp.model.zones import zone_named
from boxlamp.planning.items import PlanItem, length_of, limit, setting
from boxlamp.protocol.book import Book
from boxlamp.protocol.records import LimitRecord
from boxlamp.rules.milestone_due import ID as MILESTONES
from boxlamp.rules.temperature_due import ID as TEMPERATURES
from boxlamp.rules.term import local_day
from boxlamp.rules.vet_check_due import ID as VET_CHECK
from boxlamp.rules.weighing_due import ID as WEIGHING

_DAY = timedelta(days=1)
_WORMED = "wormed"
_PUPS: dict[str, tuple[str, str]] = {
    "cord-off": ("Cord stumps off by now", "Red, wet, swollen or smelly: ring the vet now."),
    "eyes-open": ("Eyes open by now", "Swollen lids or pus before they open: ring the vet now."),
    "ears-open": ("Ears open by now", "If not, look again in some days, then ring the vet."),
    "walking": ("All of them walk by now", "Legs that slide out sideways: ring the vet."),
    "toilet": ("Urine and stool without help by now",
               "Swollen belly and no stool: ring the vet now."),
    "vaccinated": ("First vaccination: ask the vet for a day",
                   "Newer advice begins at six weeks of age, older at eight."),
    "chipped": ("A chip, before they leave home", "Write down the number as it is read."),
}  # fmt: skip


def birthday(story: Story) -> Entry | None:
    """The first birth; without one the caesarean or the end of the whelping."""
    for kinds in ((Birth,), (Caesarean,), (Finished,)):
        found = story.of(*kinds)
        if found:
            return found[0]
    return None


def follow(story: Story, litter: Litter, book: Book) -> list[PlanItem]:
    """What follows the birth, in order of its days; nothing before there was one."""
    first = birthday(story)
    if first is None:
        return []
    born = local_day(first)
    items = [*_dam(story, first, born, book), *_pups(story, litter, born, book)]
    return sorted(items, key=lambda item: (item.first, item.last))


def _dam(story: Story, first: Entry, born: date, book: Book) -> Iterator[PlanItem]:
    check = limit(book, VET_CHECK, "main", Level.WATCH)
    end = story.last(Finished, Birth) or first
    yield PlanItem(
        "vet-check", "The vet looks at the dam and the pups",
        local_day(end), (end.at + check.span).astimezone(zone_named(end.zone)).date(),
        "Sooner with any alert, a missing afterbirth or a dam who is not well.",
        check, "done" if _seen_by_vet(story, end) else "",
    )  # fmt: skip
    until = setting(book, TEMPERATURES, "until")
    yield PlanItem(
        "dam-temperature", "Take the dam's temperature every day",
        born, born + length_of(until),
        "A rise may be the first sign of illness: `temp 38.6`.", until,
    )  # fmt: skip


def _seen_by_vet(story: Story, end: Entry) -> bool:
    """Whether a vet has seen how it ended."""
    for entry in story.of(VetContact, Finished):
        match entry.what:
            case VetContact(contact="seen" | "arrived") if entry.at >= end.at:
                return True
            case Finished(by="vet" | "scan"):
                return True
            case _:
                pass
    return False


def _pups(story: Story, litter: Litter, born: date, book: Book) -> Iterator[PlanItem]:
    here = [pup for pup in litter.in_order if pup.here]
    lines = [
        *_weighings(born, book),
        *_wormings(born, book, _times_wormed(story, here)),
    ]  # fmt: skip
    for name, (title, note) in _PUPS.items():
        record = limit(book, MILESTONES, name)
        day = born + record.span
        done = bool(here) and all(name in pup.milestones for pup in here)
        lines.append(PlanItem(name, title, day, day, note, record, "done" if done else ""))
    for line in lines:
        yield line if here else line._replace(state="off")


def _weighings(born: date, book: Book) -> Iterator[PlanItem]:
    """How often to weigh, one stretch after the other; each ends before its last moment."""
    begin = born
    for clock, title in (("daily", "every day"), ("third-day", "every third day")):
        end = born + length_of(setting(book, WEIGHING, f"until {clock}"))
        yield PlanItem(
            f"weigh-{clock}", f"Weigh every pup {title}", begin, end - _DAY,
            "At the same hour; one line does for all: `round 1 340 2 355 ...`.",
            limit(book, WEIGHING, clock),
        )  # fmt: skip
        begin = end


def _wormings(born: date, book: Book, times: int) -> Iterator[PlanItem]:
    """The wormings one after the other, as long as they are asked for; so many are done."""
    record: LimitRecord = limit(book, MILESTONES, _WORMED)
    until = length_of(setting(book, MILESTONES, f"{_WORMED}-until"))
    for number in range(1, ceil(until / record.span)):
        day = born + number * record.span
        yield PlanItem(
            f"worming-{number}", f"Worming {number}, for the pups and perhaps the dam",
            day, day, "Ask the vet what to give, and whether to the dam too.", record,
            "done" if number <= times else "",
        )  # fmt: skip


def _times_wormed(story: Story, here: list[Pup]) -> int:
    """How often every pup that is here has been wormed, each day counted once."""
    days: dict[int, set[date]] = {pup.number: set() for pup in here}
    for entry in story.of(Milestone):
        match entry.what:
            case Milestone(milestone="wormed", pup=pup):
                for number in days if pup is None else days.keys() & {pup}:
                    days[number].add(local_day(entry))
            case _:
                pass
    return min(map(len, days.values()), default=0)

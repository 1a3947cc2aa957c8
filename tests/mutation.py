"""Break the rules, the engine, the language and the protocol in one place at a time.

``tests/mutation.py`` draws 150 mutants per room by seed 1 and prints, per room, how many of them
a test noticed, with the 95 % interval (Wilson) for all mutants of the room, then every survivor.
``--room``, ``--sample``, ``--seed`` and ``--minutes`` narrow it; ``--again`` runs only those that
survived last time. Needs the extra ``nightly``; what it learns lies in ``build/mutation/``.
"""

import argparse
import os
import random
import sys
import time
from collections import Counter
from collections.abc import Iterator
from functools import partial
from itertools import chain, zip_longest
from pathlib import Path
from typing import NamedTuple

from scipy.stats import binomtest

from support.breaking import (
    Children,
    Chosen,
    Fate,
    Known,
    broken_in_place,
    broken_on_import,
    fates,
    in_a_child,
    prepare,
)
from support.mutants import TOP, File, Mutant

FOLDER = TOP / "build" / "mutation"
ROOMS = ("rules", "engine", "language", "protocol")


class Sample(NamedTuple):
    """The mutants that were drawn, in turns from every room, and how many there are in all."""

    mutants: list[Mutant]
    of: Counter[str]


def drawn(rooms: list[str], number: int, seed: int) -> Sample:
    """So many mutants of each room, in turns, so that a run cut short has some of all of them."""
    samples, of = [], Counter[str]()
    for room in rooms:
        paths = sorted(TOP.glob(f"src/boxlamp/{room}/*.py"))
        sites = [site for path in paths for site in File(path).sites()]
        of[room] = len(sites)
        dice = random.Random(f"{seed} {room}")  # noqa: S311 - a sample that can be drawn again
        samples.append([site.mutant() for site in dice.sample(sites, len(sites))[:number]])
    turns = chain.from_iterable(zip_longest(*samples))
    return Sample([one for one in turns if one is not None], of)


def broken(sample: list[Mutant], known: Known, wanted: argparse.Namespace) -> dict[str, Fate]:
    """Break each mutant of the sample, as long as there is time, and see what becomes of it."""
    end = time.monotonic() + 60 * wanted.minutes
    tests = {mutant.name: known.of(mutant.function) for mutant in sample}
    results: Path = wanted.folder / "told.jsonl"
    results.unlink(missing_ok=True)

    def left(*, on_import: bool) -> Iterator[tuple[Mutant, Chosen]]:
        told = fates(results)
        for mutant in sample:
            chosen = tests[mutant.name]
            late = chosen.on_import or told.get(mutant.name, "") is None
            if chosen.tests and late == on_import and time.monotonic() < end:
                yield mutant, chosen

    children = Children(wanted.at_once, results)
    warm = partial(broken_in_place, left(on_import=False), children)
    in_a_child(warm, wanted.folder / "log")
    for mutant, chosen in left(on_import=True):
        children.start(mutant, chosen, partial(broken_on_import, mutant, chosen))
    children.finish()
    found: dict[str, Fate] = {one.name: "no test" for one in sample if not tests[one.name].tests}
    return found | {name: fate for name, fate in fates(results).items() if fate is not None}


def lines(found: dict[Mutant, Fate], all_of: Counter[str]) -> Iterator[str]:
    """One line per room, then each survivor with what it changes."""
    for room in ROOMS:
        count = Counter(fate for one, fate in found.items() if one.function.room == room)
        if not (total := count.total()):
            continue
        noticed = count["killed"] + count["timed out"]
        low, high = binomtest(noticed, total).proportion_ci(method="wilson")
        yield (
            f"{room}: {all_of[room]} mutants, {total} drawn: {count['killed']} killed, "
            f"{count['timed out']} timed out, {count['survived']} survived, "
            f"{count['no test']} met no test: {noticed / total:.1%} noticed "
            f"(95 % interval {low:.1%} to {high:.1%})"
        )
    for mutant, fate in found.items():
        if fate in {"survived", "no test"}:
            yield f"\n{fate}: {mutant.name}"
            yield from mutant.change()


def asked(words: list[str]) -> argparse.Namespace:
    """What the command line asks for."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--room", action="append", choices=ROOMS, help="only this room")
    parser.add_argument("--sample", type=int, default=150, help="mutants per room")
    parser.add_argument("--seed", type=int, default=1, help="which sample")
    parser.add_argument("--minutes", type=float, default=24 * 60, help="start none after that")
    parser.add_argument("--at-once", type=int, default=1, help="processes")
    parser.add_argument("--folder", type=Path, default=FOLDER, help="where to remember things")
    parser.add_argument(
        "--again", action="store_true", help="those of the sample that survived last time"
    )
    return parser.parse_args(words)


def main(words: list[str]) -> int:
    """Run the sample; a survivor is something to think about and no failure."""
    wanted = asked(words)
    os.nice(15)
    os.environ["BOXLAMP_TESTS"] = "short"  # hundreds of runs of a test: each in its short form
    os.chdir(TOP)
    folder: Path = wanted.folder
    folder.mkdir(parents=True, exist_ok=True)
    prepare()
    known = Known(folder)
    if not known.fresh and in_a_child(known.learn, folder / "log"):
        sys.stderr.write(f"The tests do not pass as they are: see {folder / 'log'}.\n")
        return 2
    rooms = wanted.room or list(ROOMS)
    sample, of = drawn(rooms, wanted.sample, wanted.seed)
    if wanted.again:
        names = set((folder / "survived").read_text(encoding="utf-8").splitlines())
        sample = [mutant for mutant in sample if mutant.name in names]
    became = broken(sample, known, wanted)
    found = {one: became[one.name] for one in sample if one.name in became}
    open_ones = [one.name for one, fate in found.items() if fate in {"survived", "no test"}]
    (folder / "survived").write_text("\n".join(open_ones), encoding="utf-8")
    if not found:
        sys.stdout.write("There was not time enough for a single mutant.\n")
    for line in lines(found, of):
        sys.stdout.write(f"{line}\n")
    return 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))

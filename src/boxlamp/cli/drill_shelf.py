"""What ``boxlamp drill --list`` and ``--progress`` print."""

from boxlamp import outside
from boxlamp.cli.output import Output
from boxlamp.desk import drills
from boxlamp.model.spans import in_words
from boxlamp.model.zones import zone_named
from boxlamp.training.drill.progress import progress_lines
from boxlamp.training.drill.record import Result, result_json
from boxlamp.view.text import clean, fit, width_of
from boxlamp.view.words import CAUTION


def show_nights(
    past: tuple[Result, ...], output: Output, *, as_json: bool, plain: bool = False
) -> None:
    """The library, saying nothing of what happens in a night."""
    latest = {one.night: one for one in past}
    nights = drills.library()
    if as_json:
        output.data({"schema": 1, "nights": [_row(one, latest) for one in nights]})
        return
    rows = [_row(one, latest) for one in nights]
    if plain:
        output.results(map(_plain_night, rows, (latest.get(one.shelf.key) for one in nights)))
        return
    dams, breeds = (
        max((width_of(str(row[name])) for row in rows), default=0) for name in ("dam", "breed")
    )
    output.result(
        f"{'':>3}  {fit('dam', dams)}  {fit('breed', breeds)}  pups  lasts        last time"
    )
    for one, row in zip(nights, rows, strict=True):
        before = latest.get(one.shelf.key)
        score = "" if before is None else _score(before)
        pups = "?" if row["pups"] is None else str(row["pups"])
        breed, dam = fit(str(row["breed"]), breeds), fit(str(row["dam"]), dams)
        lasts = in_words(one.shelf.length)
        output.result(f"{one.number:>3}  {dam}  {breed}  {pups:>4}  {lasts:<11}  {score}".rstrip())
    output.result("")
    output.result("Take one: boxlamp drill 3. Or the one that helps you most: boxlamp drill")
    output.result(CAUTION)


def _plain_night(row: dict[str, object], before: Result | None) -> str:
    """Number, dam, breed, pups, minutes, the last score."""
    pups = "" if row["pups"] is None else row["pups"]
    score = "" if before is None else _score(before)
    return f"{row['number']}\t{row['dam']}\t{row['breed']}\t{pups}\t{row['minutes']}\t{score}"


def _row(one: drills.Shelved, latest: dict[str, Result]) -> dict[str, object]:
    before = latest.get(one.shelf.key)
    return {
        "number": one.number,
        "dam": clean(one.record.name),
        "breed": clean(drills.breed_of(one.record)),
        "pups": drills.pups_expected(one.record),
        "minutes": int(one.shelf.length.total_seconds() // 60),
        "last": None if before is None else result_json(before),
    }


def _score(before: Result) -> str:
    if before.score is not None:
        return f"{before.score} of 100"
    return "no score" if before.finished else "left early"


def show_progress(
    past: tuple[Result, ...], trainee: str, output: Output, *, as_json: bool, plain: bool = False
) -> None:
    """How one person has come along."""
    if as_json:
        drills_done = [result_json(one) for one in past]
        output.data({"schema": 1, "trainee": trainee, "drills": drills_done})
        return
    if plain:
        for one in sorted(past, key=lambda one: one.at):
            score = "" if one.score is None else one.score
            wrong = " ".join(one.wrong)
            output.result(f"{one.at.isoformat()}\t{clean(one.dam)}\t{score}\t{wrong}")
        return
    output.results(progress_lines(past, zone_named(outside.local_zone())))

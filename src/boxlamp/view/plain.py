"""The board one fact per line: label, tab, value. For grep, awk and screen readers."""

from collections.abc import Iterator

from boxlamp.view.board import Board


def plain_board(board: Board) -> Iterator[str]:
    """Every fact of the board as ``label<TAB>value``, alerts first, nothing drawn or wrapped."""
    yield f"dam\t{board.dam}"
    yield f"time\t{board.now}"
    yield f"phase\t{board.phase}"
    yield from (f"count\t{words}" for words in board.tally)
    yield from (f"since\t{words}" for words in board.since)
    yield from _alerts(board)
    yield from (f"reminder\t{words}" for words in board.prompts)
    for clock in board.clocks:
        yield f"clock\t{clock.title}\t{clock.subject}\t{clock.elapsed}\t{clock.coming}"
    if board.temperatures is not None:
        yield f"temperature\t{board.temperatures.sentence}"
    yield from _pups(board)
    for entry in board.entries:
        yield f"entry\t{entry.number}\t{entry.time}\t{entry.text}\t{entry.remark}"
    yield from (f"note\t{words}" for words in board.notes)
    yield f"caution\t{board.caution}"


def _alerts(board: Board) -> Iterator[str]:
    for line in board.alerts:
        heard = f"\theard {line.heard}" if line.heard else ""
        yield (
            f"alert\t{line.level.word}\t{line.rule}\t{line.subject}\t"
            f"{line.level.word} since {line.raised}\t{line.message}{heard}"
        )
        yield from (f"do\t{step}" for step in line.do)
        if line.vet_said:
            yield f"said\t{line.vet_said}"
    if not board.alerts:
        yield "alert\tnone"
    if board.vet_said:
        yield f"said\t{board.vet_said}"
    if board.vet:
        yield f"vet\t{board.vet}"


def _pups(board: Board) -> Iterator[str]:
    for pup in board.pups:
        if board.grown:
            grown = (pup.mark, pup.sex, pup.weight, pup.since_birth, pup.last_day, pup.weighed)
            yield f"pup\t{pup.number}\t" + "\t".join((*grown, pup.state))
            continue
        todo = ", ".join(pup.missing) or "all done"
        facts = (pup.mark, pup.sex, pup.born, pup.weight, pup.state, f"afterbirth {pup.afterbirth}")
        yield f"pup\t{pup.number}\t" + "\t".join(facts) + f"\tto do: {todo}"
    if board.owed:
        yield f"owed\t{board.owed}"

"""How often healthy dams, drawn from published means, would raise an alarm. Asserts nothing.

One table for each way of taking her temperature in the first week after whelping, in per cent of
the dam-days that reach a level or one above it; and one for the fall before labour, in per cent
of the bitches. See tests/support/healthy_dams.py for what is published and what is assumed.
"""

import sys
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parents[1]))

from support.healthy_dams import AIMS, SCHULZE, SPREADS, after_whelping, before_whelping

DAMS = 4000


def _row(head: str, parts: list[float]) -> str:
    return f"{head:<22}" + "".join(f"{100 * part:8.2f}" for part in parts) + "\n"


def main() -> None:
    """Print the tables."""
    days = [*range(len(SCHULZE)), None]
    head = "".join(f"{'all' if day is None else f'day {day}':>8}" for day in days)
    for times in (1, 2):
        sys.stdout.write(f"\nAfter whelping, {times} reading(s) a day; % of dam-days\n")
        for between in SPREADS:
            shares = after_whelping(DAMS, between, times)
            sys.stdout.write(f"{f'{between:.0%} between dams':<22}{head}\n")
            for level, aim in AIMS.items():
                name = f"  {level.word} (aim {100 * aim:g})"
                sys.stdout.write(_row(name, [shares[day, level].part for day in days]))
    sys.stdout.write("\nBefore whelping; % of bitches\n")
    for every in (12, 8):
        for rule, levels in before_whelping(DAMS, every).items():
            told = " ".join(f"{level.word} {100 * one.part:.2f}" for level, one in levels.items())
            sys.stdout.write(f"  every {every} h  {rule}: {told}\n")


if __name__ == "__main__":
    main()

"""What can be typed, short enough to stand under the board."""


def help_lines() -> list[str]:
    """The commonest lines; ``boxlamp words`` has them all."""
    return [
        "push | push weak | rest | waters clear | sac | part head | discharge green",
        "pup dog 312g red head first | afterbirth of 3 | milk 3 | cord 3 tied",
        "round red 340 blue 355 | weigh 3 340g | feed 3 4ml bottle | state 3 limp",
        "temp 37.1 | temp pup 3 35.2 | dam dull | vet called | finished | note ...",
        "With a time: 02:14 pup | -5m rest | ~01:30 waters | yesterday 23:50 settled",
        "amend 12 02:10 | strike 12 wrong pup | undo | ack. All words: `boxlamp words`.",
        "sheet (or F12): what to say to the vet on the telephone.",
    ]

"""``boxlamp words [WORD]``: every word that can be typed, with examples."""

from difflib import get_close_matches
from typing import Annotated

import typer

from boxlamp.cli import options
from boxlamp.cli.output import Output
from boxlamp.desk.session import UsageError
from boxlamp.language import VOCABULARY, Word

_TIMES = (
    ("(nothing)", "now"),
    ("02:14  0214  02:14:30  2:14am", "the nearest such time that has passed"),
    ("-5m  -1h20m  5 min ago", "that long ago"),
    ("yesterday 23:50", ""),
    ("2026-03-02 02:14", ""),
    ("~02:14", "about then: an estimate"),
)


def words(
    word: Annotated[str | None, typer.Argument(help="One word, or another way to say it.")] = None,
    as_json: options.AsJson = False,
    plain: options.AsPlain = False,
) -> None:
    """List every word that can be typed.

    For example: boxlamp words, or boxlamp words pup
    """
    output = Output()
    chosen = VOCABULARY if word is None else _meant(word)
    if as_json:
        output.data({"schema": 1, "words": [_data(each) for each in chosen]})
        return
    if plain:
        for each in chosen:
            output.result(
                f"{each.word}\t{', '.join(each.synonyms)}\t{each.pattern}\t{each.meaning}"
            )
        return
    if word is None:
        output.result("A line is: [when] words [; free note]")
        output.result()
        output.results(f"  {form:<32}{meaning}" for form, meaning in _TIMES)
    for each in chosen:
        output.result()
        also = f"   (also {', '.join(each.synonyms)})" if each.synonyms else ""
        output.result(f"{each.pattern}{also}")
        output.result(f"    {each.meaning}")
        output.results(f"    e.g. {example}" for example in each.examples[:3])


def _meant(word: str) -> tuple[Word, ...]:
    names = {name: each for each in VOCABULARY for name in (each.word, *each.synonyms)}
    if word in names:
        return (names[word],)
    near = get_close_matches(word, names, n=1, cutoff=0.4)
    hint = f" Did you mean {near[0]!r}?" if near else ""
    raise UsageError(f"There is no word {word!r}.{hint} `boxlamp words` lists them all.")


def _data(word: Word) -> dict[str, object]:
    return {
        "word": word.word,
        "synonyms": list(word.synonyms),
        "pattern": word.pattern,
        "examples": list(word.examples),
        "meaning": word.meaning,
    }

"""Numbers spelled out in words: "thirty-six Q, one five seven two zero, R for Robert"."""

from claims.grid import Grid
from claims.reading.number_forms import Extent

FEWEST_FIGURES = 4
MOST_TOKENS = 40
_FIGURES = {
    "zero": "0", "nought": "0", "naught": "0", "oh": "0", "o": "0", "one": "1", "two": "2", "three": "3", "four": "4", "five": "5", "six": "6",
    "seven": "7", "eight": "8", "nine": "9", "ten": "10", "eleven": "11", "twelve": "12", "thirteen": "13", "fourteen": "14", "fifteen": "15",
    "sixteen": "16", "seventeen": "17", "eighteen": "18", "nineteen": "19",
}  # fmt: skip
_TENS = {"twenty": "2", "thirty": "3", "forty": "4", "fifty": "5", "sixty": "6", "seventy": "7", "eighty": "8", "ninety": "9"}
_COUNTED = frozenset({*_FIGURES, *_TENS})
_TIMES = {"double": 2, "triple": 3, "treble": 3}
_BETWEEN = frozenset({",", "-", "and", "then", "dash", "space", "stroke"})


def may_spell(grid: Grid) -> bool:
    """Whether a field has so many words for figures that a number may be spelled out in it."""
    return not grid.words.isdisjoint(_COUNTED) and sum(map(_COUNTED.__contains__, grid.toks)) >= FEWEST_FIGURES


def begins_to_spell(tok: str) -> bool:
    """Whether a token is a word for figures, a letter or a figure or two, with which a spelled number may begin."""
    return tok in _FIGURES or tok in _TENS or tok in _TIMES or (len(tok) <= 2 and tok.isalnum())


def spelled_extent(grid: Grid, i: int) -> Extent | None:
    """The number that words spell from token i: figures, tens, "double", single letters, "R for Robert"; None for fewer than four figures."""
    k, end, value, words = i, i, "", 0
    while k < grid.n and k - i < MOST_TOKENS and grid.line[k] == grid.line[i]:
        tok = grid.toks[k]
        if tok in _BETWEEN and k > i:
            k += 1
            continue
        piece, after = _piece(grid, k)
        if not piece:
            break
        words += tok in _FIGURES or tok in _TENS or tok in _TIMES
        value, k = value + piece, after
        end = k
    if sum(c.isdigit() for c in value) < FEWEST_FIGURES or words < FEWEST_FIGURES - 1:
        return None
    return Extent(i, end, value.upper(), None, None)


def _piece(grid: Grid, k: int) -> tuple[str, int]:
    """(what the words at token k spell, the token behind them); empty where they spell nothing."""
    tok = grid.toks[k]
    if tok in _TENS:
        joint = k + 1 + (grid.at(k + 1) == "-")
        unit = _FIGURES.get(grid.at(joint), "")
        return (_TENS[tok] + unit, joint + 1) if len(unit) == 1 and unit != "0" else (_TENS[tok] + "0", k + 1)
    if tok in _TIMES:
        unit = _FIGURES.get(grid.at(k + 1), "")
        return (unit * _TIMES[tok], k + 2) if len(unit) == 1 else ("", k)
    if tok in _FIGURES:
        return _FIGURES[tok], k + 1
    if tok.isdigit() and len(tok) <= 2:
        return tok, k + 1
    if len(tok) == 1 and tok.isalpha():
        named = grid.at(k + 1) in {"for", "as"} and grid.at(k + 2).startswith(tok)
        named_as = grid.at(k + 1) == "as" and grid.at(k + 2) == "in" and grid.at(k + 3).startswith(tok)
        return tok, k + (4 if named_as else 3 if named else 1)
    return "", k

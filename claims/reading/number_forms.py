"""How far a number reaches in running text: as far as a known form of number fits, else by the look of its pieces."""

import re
from collections.abc import Sequence
from functools import lru_cache
from typing import NamedTuple

import re2

from claims.claim import compact
from claims.grid import Grid
from claims.pack import Pack
from claims.pack_rows import Scheme
from claims.repairs import zeros_and_ones
from claims.standards import uk_mark, vin
from claims.values import is_year

MARK = "registration"
MOST_PIECES = 9
FEWEST_SINGLE, MOST_SINGLE = 6, 17
"""Fewest and most pieces of a number written figure by figure ("3 3 Q 0 7 6 5 5 X")."""
LONGEST_WORD = 5
"""Most letters of the word that a number begins with."""
LONGEST = 24
SHORTEST = 3
SHORTEST_UNLABELLED = 5
FIGURES_CARRIED = 5
"""Fewest figures behind a letter or two that make them the middle of a number ("150 LI 523456")."""
_JOINTS = frozenset("-/.")
_HIDDEN = frozenset("*?•…_#")
_ORDINALS = re.compile(r"\d+(?:st|nd|rd|th|s)")
_UNIT = re.compile(r"\d+(?:cc|ccm|hp|bhp|ps|km|mi|kg|lbs?|mm|cm|rpm|v|volt|watt|w|l|litre|liter|ltr|k|mph|kph|ft|in|speed|cyl|dr|hrs?)")


class Extent(NamedTuple):
    """A number at tokens [i, j): its compact form, and the scheme that fits (None for a generic one)."""

    i: int
    j: int
    value: str
    scheme: Scheme | None
    pack: Pack | None


class Forms:
    """Forms of number to be tried together: one pass tells which of them fit a compact number."""

    def __init__(self, pairs: Sequence[tuple[Pack, Scheme]]) -> None:
        self.pairs = tuple(pairs)
        options = re2.Options()
        options.log_errors = False
        self._set = re2.Set.SearchSet(options)
        for _, scheme in self.pairs:
            self._set.Add(scheme.pattern)
        if self.pairs:
            self._set.Compile()

    def _match(self, value: str) -> list[int]:
        return self._set.Match(value) or []

    def fitting(self, value: str) -> list[tuple[Pack, Scheme]]:
        """The forms that a compact number fits as it stands, with O and I read as figures, or with its last places hidden."""
        if not self.pairs:
            return []
        if "?" in value:
            tried = {value.replace("?", c) for c in "0G"} if value[-1] == "?" else set()
            return [self.pairs[n] for n in sorted({n for v in tried for n in self._match(v)})]
        found = self._match(value)
        if "O" in value or "I" in value:
            found = [*found, *(n for n in self._match(zeros_and_ones(value)) if self.pairs[n][1].letter_o in {"never", "prefix"})]
        return [self.pairs[n] for n in sorted(set(found))] if found else []


@lru_cache(maxsize=512)
def active_forms(packs: tuple[Pack, ...], named: frozenset[str]) -> Forms:
    """The forms to try in a listing: those of the packs that it names (by id), and those that stand alone."""
    return Forms([
        (p, s) for p in packs for s in p.schemes.values()
        if not s.earliest and not s.needs_model and (p.id in named or (s.part != MARK and (s.stands_alone or s.stands_alone_with)))
    ])  # fmt: skip


def known_extent(grid: Grid, i: int, forms: Forms, part: str = "", *, alone: bool = False) -> Extent | None:
    """The longest run of tokens from i that one of the forms fits; those of `part` come before others, marks only behind their label.

    With `alone`, only what may be told without a label: long enough, with a letter, with capitals where the text has any.
    """
    first = grid.figure_from(i)
    if first >= grid.n or first >= i + MOST_PIECES or (first > i and not alone and ends_at_once(grid, i)) or (alone and _is_plain(grid, i)):
        return None
    for j in reversed(_ends(grid, i)):
        if j <= first:
            break
        if _runs_on(grid, j):
            continue
        value = compact(grid.text(i, j))
        if len(value) == vin.LENGTH and _is_vin(value) and not (j - i > 1 and len(grid.toks[i]) > 3 and grid.as_written(i).islower()):
            return Extent(i, j, value, None, None)
        if alone and len(grid.toks[i]) != vin.LENGTH and not _may_stand_alone(grid, i, j, value):
            return None
        fits = [(p, s) for p, s in forms.fitting(value) if part in {"", MARK} or s.part != MARK]
        if fits:
            best = next((f for f in fits if part in (f[1].part, *f[1].also_parts)), fits[0])
            if _has_suffix(grid, i, j):
                return Extent(i, j + 1, compact(grid.text(i, j + 1)), best[1], best[0])
            return Extent(i, j, value, best[1], best[0])
    return None


def _has_suffix(grid: Grid, i: int, j: int) -> bool:
    """Whether a single capital behind a number that begins with letters belongs to it ("FD 29914 E,")."""
    tok = grid.at(j)
    framed = (
        len(tok) == 1
        and tok.isalpha()
        and tok not in {"a", "i"}
        and grid.same_line(i, j)
        and grid.as_written(j).isupper()
        and not grid.has_no_capitals
    )
    closed = j + 1 >= grid.n or not grid.same_line(j, j + 1) or grid.at(j + 1) in {",", ".", ";", ")"}
    return framed and closed and grid.toks[i].isalpha() and not grid.is_shouting


def _may_stand_alone(grid: Grid, i: int, j: int, value: str) -> bool:
    if len(value) < SHORTEST_UNLABELLED or value.replace("?", "").isdigit():
        return False
    return grid.has_no_capitals or not grid.text(i, j).islower()


def mark_extent(grid: Grid, i: int) -> Extent | None:
    """A registration mark of a British form at token i, over at most three pieces of one line."""
    best = None
    for j in range(i + 1, min(i + 4, grid.n + 1)):
        if grid.line[j - 1] != grid.line[i] or not grid.toks[j - 1].isalnum() or grid.text(i, j).islower():
            break
        text = grid.text(i, j)
        if not grid.has_no_capitals and any(grid.as_written(k).islower() and grid.as_written(k).isalpha() for k in range(i, j)):
            break
        if grid.as_written(j - 1)[-1:] == "x" and not text.islower() and any(c.isupper() for c in text):
            break
        if grid.toks[j - 1] == "v5c":
            break
        try:
            uk_mark.decode(text)
        except ValueError:
            continue
        if any(c.isdigit() for c in text) and any(c.isalpha() for c in text):
            best = Extent(i, j, compact(text), None, None)
    return best


def _runs_on(grid: Grid, j: int) -> bool:
    """Whether figures follow without a gap, so that a number does not end before token j ("CB750-1005211")."""
    if grid.glued(j) and grid.at(j) in _HIDDEN and grid.glued(j + 1) and (grid.at(j + 1)[:1].isdigit() or grid.at(j + 1) in _HIDDEN):
        return True
    return grid.glued(j) and (grid.toks[j].isalnum() or (grid.toks[j] in _JOINTS and grid.glued(j + 1) and grid.at(j + 1)[:1].isdigit()))


def _is_vin(value: str) -> bool:
    return sum(c.isdigit() for c in value) >= 4 and "?" not in value and len(set(value)) > 3


def ends_at_once(grid: Grid, i: int) -> bool:
    """Whether the token behind i can be no piece of a number that starts at i: on another line, a word, or a mark that is no joint."""
    k = i + 1
    if k >= grid.n or grid.line[k] != grid.line[i]:
        return True
    behind = grid.toks[k]
    if behind.isalnum():
        if not behind.isalpha() or grid.starts[k] == grid.ends[i]:
            return False
        return len(behind) > 3 or (len(behind) > 1 and grid.as_written(k).islower())
    return behind not in _JOINTS and (behind not in _HIDDEN or grid.starts[k] != grid.ends[i])


def _is_plain(grid: Grid, i: int) -> bool:
    """Whether bare figures stand at token i, alone or behind a small word, and nothing that could go with them: no number without its label."""
    tok = grid.toks[i]
    if tok.isalpha() and grid.at(i + 1).isdigit() and not grid.has_no_capitals and grid.as_written(i).islower():
        return ends_at_once(grid, i + 1)
    return tok.isdigit() and len(tok) != vin.LENGTH and ends_at_once(grid, i)


def _ends(grid: Grid, i: int) -> list[int]:
    """Token places where a number that starts at i may end: on its line, over letters, figures and plain joints."""
    ends: list[int] = []
    length = spaces = 0
    toks, line, starts, stops = grid.toks, grid.line[i], grid.starts, grid.ends
    single = len(toks[i]) == 1 == len(grid.at(i + 1))
    for k in range(i, min(i + (MOST_SINGLE if single else MOST_PIECES), grid.n)):
        if grid.line[k] != line:
            break
        tok = toks[k]
        apart = k > i and starts[k] != stops[k - 1]
        if tok.isascii() and tok.isalnum():
            length += len(tok)
            spaces += apart and not (len(tok) == 1 == len(toks[k - 1]))
            if k == i and len(tok) > LONGEST_WORD and tok.isalpha() and not grid.glued(k + 1):
                break
            if k > i and not apart and _is_a_label(grid, k):
                break
            if length > LONGEST or spaces > 3 or (apart and tok.isalpha() and (len(tok) > 3 or (len(tok) > 1 and grid.as_written(k).islower()))):
                break
            ends.append(k + 1)
        elif tok in _HIDDEN and k > i and not apart:
            ends.append(k + 1)
        elif tok in _JOINTS:
            if k == i or (tok == "." and not grid.glued(k + 1)):
                break
        elif tok == "," and k > i and grid.glued(k) and grid.glued(k + 1) and grid.at(k + 1).isdigit() and len(grid.at(k + 1)) == 3:
            continue
        else:
            break
    return ends


def _is_a_label(grid: Grid, k: int) -> bool:
    """Whether the piece at k is the next label's word, typed on to the number before it ("CA10 9033Reg no: …")."""
    written = grid.as_written(k)
    return len(written) > 2 and written[0].isupper() and written[1:].islower() and written[0].isalpha()


def _decorates(grid: Grid, k: int) -> bool:
    """Whether a row of stars at token k stands free before a word: decoration ("4X4 ***MUST GO***")."""
    end = k
    while grid.at(end) == "*" and (end == k or grid.glued(end)):
        end += 1
    return end > k and not grid.glued(k) and grid.glued(end) and grid.at(end).isalpha() and len(grid.at(end)) > 2


def generic_extent(grid: Grid, i: int) -> Extent | None:
    """A number of no known form at token i: pieces with figures, a letter prefix, a check letter, hidden characters."""
    if single := _figure_by_figure(grid, i):
        return single
    k, end, figures = i, i, False
    while k < grid.n and k - i < MOST_PIECES and grid.line[k] == grid.line[i]:
        tok = grid.toks[k]
        glued = k > i and grid.glued(k)
        if tok in _HIDDEN:
            if (not glued and k > i and not figures) or _decorates(grid, k):
                break
            if (
                tok == "?"
                and not (k + 1 < grid.n and grid.glued(k + 1) and (grid.at(k + 1)[0].isalnum() or grid.at(k + 1) in _HIDDEN))
                and grid.at(k - 1) not in _HIDDEN
            ):
                break
            if k == i and not (grid.glued(k + 1) and k + 1 < grid.n):
                break
            k += 1
            end = k if figures or k > i else end
            continue
        if tok in _JOINTS:
            if k == i or not (k + 1 < grid.n and grid.toks[k + 1][0].isalnum() and grid.line[k + 1] == grid.line[i]):
                break
            if tok == "." and not grid.glued(k + 1):
                break
            if not grid.glued(k + 1) and not glued and tok != "-":
                break
            if not grid.glued(k + 1) and not glued and not any(c.isdigit() for c in grid.toks[k + 1]):
                break
            k += 1
            continue
        if not tok.isascii() or not tok.isalnum():
            break
        if not _continues(grid, i, k, figures, glued):
            break
        figures = figures or any(c.isdigit() for c in tok)
        k += 1
        end = k
    value = compact(grid.text(i, end)) if end > i else ""
    if not any(c.isdigit() for c in value) and value.count("?") < 3:
        return None
    return Extent(i, end, value, None, None) if SHORTEST <= len(value) <= 40 else None


def _figure_by_figure(grid: Grid, i: int) -> Extent | None:
    """A number written figure by figure from token i ("1 3 6 3 7 0 B 1 2"), or None."""
    k = i
    while k < grid.n and k - i < MOST_SINGLE and len(grid.toks[k]) == 1 and grid.toks[k].isalnum() and grid.line[k] == grid.line[i]:
        k += 1
    value = compact(grid.text(i, k)) if k - i >= FEWEST_SINGLE else ""
    return Extent(i, k, value, None, None) if sum(c.isdigit() for c in value) >= FEWEST_SINGLE - 2 else None


def _continues(grid: Grid, i: int, k: int, figures: bool, glued: bool) -> bool:
    """Whether the alphanumeric piece at k belongs to the number that starts at i."""
    tok, written = grid.toks[k], grid.as_written(k)
    has_digit = any(c.isdigit() for c in tok)
    if k == i and _ORDINALS.fullmatch(tok):
        return False
    if k == i:
        capitals = written.isupper() or (len(tok) <= 3 and grid.has_no_capitals and any(c.isdigit() for c in grid.at(k + 1)))
        return has_digit or (len(tok) <= 5 and capitals)
    if figures and len(tok) > 1 and set(tok) == {"x"}:
        return True
    if glued and _is_a_label(grid, k):
        return False
    if glued or (grid.toks[k - 1] in _JOINTS and grid.glued(k - 1)) or grid.toks[k - 1] == "-":
        return has_digit or len(tok) <= 3 or written.isupper()
    if grid.toks[k - 1] in _JOINTS and not glued:
        return has_digit
    if has_digit:
        if not figures:
            return True
        if is_year(tok) or _UNIT.fullmatch(tok) or _ORDINALS.fullmatch(tok) or grid.at(k + 1) in {"cc", "miles", "km", "hp", "owners", "x"}:
            return False
        if len(compact(grid.text(i, k))) >= 17:
            return False
        if any(c.isalpha() for c in grid.text(i, k)) or (tok.isdigit() and len(tok) <= 4 and len(grid.toks[k - 1]) <= 4):
            return True
        behind = grid.at(k + 1)
        closes = k + 1 >= grid.n or grid.line[k + 1] != grid.line[k] or not behind.isalnum() or behind.isdigit()
        return tok.isdigit() and 2 <= len(tok) <= 6 and len(grid.toks[k - 1]) <= 6 and closes
    last = k + 1 >= grid.n or grid.line[k + 1] != grid.line[k] or grid.toks[k + 1] in {".", ",", ";", ")", "|", "(", "-", "*"}
    if not figures:
        return written.isupper() and len(tok) <= 4
    carried = grid.at(k + 1).isdigit() and len(grid.at(k + 1)) >= FIGURES_CARRIED and grid.line[k + 1] == grid.line[k]
    framed = len(tok) == 1 and grid.toks[i].isalpha() and not grid.glued(k)
    return len(tok) <= 2 and written.isupper() and tok not in {"a", "i"} and (last or carried or framed)

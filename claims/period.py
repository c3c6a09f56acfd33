"""The periods that tables use, as spans of months: month, calendar year, factory season, model year, span.

A season is named by the year it ends in and starts in a given month of the year before (August unless a source says
otherwise). A model year is taken as running from the July before to the December of its year.
"""

from dataclasses import dataclass

from claims.standards import edtf
from claims.standards.edtf import Span

MODEL_YEAR_STARTS = 7
"""Month of the year before in which a model year can start (common practice, no source)."""


@dataclass(frozen=True, slots=True)
class Period:
    """A table's period: its span of months, its kind and its name as the table writes it."""

    span: Span
    kind: str
    name: str

    def __str__(self) -> str:
        return f"{self.kind} {self.name}" if self.kind in {"season", "model year"} else self.name


def period(text: str, kind: str, season_start: int = 8) -> Period:
    """The period of a table's cell; `kind` is read by its telling word. Raises `ValueError` for no date.

    >>> str(period("1967", "factory season").span), str(period("1967", "factory season"))
    ('1966-08/1967-07', 'season 1967')
    >>> str(period("1972", "model year").span)
    '1971-07/1972-12'
    >>> str(period("1931-04", "month of completion"))
    '1931-04'
    """
    span = edtf.decode(text)
    if "season" in kind and len(text) == 4:
        return Period(season(int(text), season_start), "season", text)
    if "model year" in kind and len(text) == 4:
        return Period(model_year(int(text)), "model year", text)
    return Period(span, "date", text)


def season(year: int, start: int = 8) -> Span:
    """The twelve months of a season named by the year it ends in."""
    first = edtf.month_number(year - 1, start)
    return Span(first, first + 11)


def model_year(year: int) -> Span:
    """The months in which a vehicle of a model year may have been built."""
    return Span(edtf.month_number(year - 1, MODEL_YEAR_STARTS), edtf.month_number(year, 12))

"""Dates and spans of months in words, for reports."""

from claims.standards import edtf
from claims.standards.edtf import OPEN_END, OPEN_START, Span, month_text


def date_words(value: str) -> str:
    """A date of EDTF as a report says it; what is no date comes back as it is.

    >>> date_words("1952~"), date_words("1964?"), date_words("196X"), date_words("1942/1944")
    ('about 1952', 'perhaps 1964', '1960 to 1969', '1942 to 1944')
    >>> date_words("/1970"), date_words("1960/"), date_words("1931-04"), date_words("soon")
    ('1970 or before', '1960 or later', '1931-04', 'soon')
    """
    try:
        span = edtf.decode(value)
    except ValueError:
        return value
    return f"{'about ' if span.circa else ''}{'perhaps ' if span.uncertain else ''}{span_words(span)}"


def span_words(span: Span) -> str:
    """A span of months in words, whole years without their months.

    >>> span_words(edtf.decode("1966-08/1967-07")), span_words(edtf.decode("1929"))
    ('1966-08 to 1967-07', '1929')
    """
    if span.first == OPEN_START:
        return f"{_end(span)} or before"
    if span.last == OPEN_END:
        return f"{_start(span)} or later"
    start, end = _start(span), _end(span)
    return start if start == end else f"{start} to {end}"


def _start(span: Span) -> str:
    """The first month of a span; only its year where the span is of whole years."""
    return f"{span.first_year}" if _is_of_years(span) else month_text(span.first)


def _end(span: Span) -> str:
    return f"{span.last_year}" if _is_of_years(span) else month_text(span.last)


def _is_of_years(span: Span) -> bool:
    return span.first % 12 == 0 and span.last % 12 == 11


def apart_words(months: int) -> str:
    """A distance in months in words.

    >>> apart_words(0), apart_words(1), apart_words(12), apart_words(52)
    ('no month', '1 month', '1 year', '4 years 4 months')
    """
    years, rest = divmod(months, 12)
    said = [f"{n} {word}{'s' if n > 1 else ''}" for n, word in ((years, "year"), (rest, "month")) if n]
    return " ".join(said) or "no month"

"""Our failures to read, and only those: a problem *in* a listing is a finding, never an exception.

UnreadableListing          the input could not be read; `str()` is one line that says what to do
├── NothingThere           no such file, a folder, no permission, an empty input
├── TooLarge               over a bound of size, depth or count
├── NotText                binary data, or bytes in no known encoding
└── BrokenRecord           a JSON line or document that is not a listing record
"""


class UnreadableListing(Exception):
    """The input could not be read; the message is one line and says what to do."""


class NothingThere(UnreadableListing):
    """No such file, a folder, no permission, or an empty input."""


class TooLarge(UnreadableListing):
    """The input passes a bound of size, depth or count."""


class NotText(UnreadableListing):
    """Binary data, or bytes in no known encoding."""


class BrokenRecord(UnreadableListing):
    """A JSON line or document that is not a listing record."""

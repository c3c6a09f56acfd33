"""On which line of a TOML file a key stands, which the standard reader does not tell."""

import re
from collections.abc import Sequence

_HEADER = re.compile(r"^\s*(\[\[?)\s*([\w.\- \"']+?)\s*\]\]?\s*(?:#.*)?$")
_KEY = re.compile(r"^\s*([\w\-]+|\"[^\"]*\")(?:\s*\.\s*([\w\-]+))*\s*=")
_LONG_QUOTES = ('"""', "'''")


class TomlLines:
    """The lines of a file by path: `("scheme", 0, "pattern")` is the key `pattern` of the first `[[scheme]]`."""

    def __init__(self, text: str) -> None:
        self._lines: dict[tuple[str | int, ...], int] = {}
        counts: dict[str, int] = {}
        here: tuple[str | int, ...] = ()
        inside = ""
        for number, line in enumerate(text.split("\n"), 1):
            if inside:
                inside = "" if inside in line else inside
                continue
            if header := _HEADER.match(line):
                names = [n.strip(" \"'") for n in header[2].split(".")]
                if header[1] == "[[":
                    counts[names[0]] = counts.get(names[0], -1) + 1
                here = (names[0], counts[names[0]], *names[1:]) if names[0] in counts else tuple(names)
                self._lines.setdefault(here, number)
            elif key := _KEY.match(line):
                self._lines.setdefault((*here, key[1].strip('"')), number)
            inside = next((q for q in _LONG_QUOTES if line.count(q) % 2), "")

    def line(self, path: Sequence[str | int]) -> int:
        """The line of a path, or of the nearest thing around it; 0 where there is none.

        >>> lines = TomlLines("title = 'a'\\n[[part]]\\npart = 'x'\\n[[part]]\\nname = 'y'\\n[part.more]\\nkey = 1")
        >>> lines.line(("part", 1, "name")), lines.line(("part", 1, "more", "key")), lines.line(("part", 0, "gone"))
        (5, 7, 2)
        """
        for end in range(len(path), 0, -1):
            if number := self._lines.get(tuple(path[:end])):
                return number
        return 0

"""Text put on lines as a browser does: white space collapsed, blocks on lines of their own, paragraphs parted."""

from extractors.page.tree import collapsed

NEW_LINE, NEW_PARAGRAPH = 1, 2


class Lines:
    """Text as it is written piece by piece; `text()` is what stands at the end."""

    __slots__ = ("_breaks", "_is_marked", "_parts", "_space", "_starts")

    def __init__(self) -> None:
        self._parts: list[str] = []
        self._breaks = 0
        self._space = False
        self._starts = True
        """Whether nothing stands on the current line."""
        self._is_marked = False
        """Whether only an item's mark stands on it."""

    def write(self, text: str) -> None:
        """Running text: white space counts as one space, none at the ends of a line."""
        flat = collapsed(text)
        body = flat.strip(" ")
        if body:
            self._open(flat[0] == " ")
            self._parts.append(body)
        self._space = self._space or (bool(flat) and flat[-1] == " ")

    def write_as_typed(self, text: str) -> None:
        """Text whose own line breaks and spaces count (`<pre>`)."""
        for number, line in enumerate(text.replace("\r\n", "\n").replace("\r", "\n").split("\n")):
            if number:
                self.end_line()
            if line:
                self._open(False)
                self._parts.append(line)

    def mark_item(self, mark: str) -> None:
        """The number of a list's item; what the item holds follows on the same line."""
        self._open(False)
        self._parts.append(mark)
        self._space = self._is_marked = True

    def break_lines(self, breaks: int) -> None:
        """The edge of a block: `NEW_LINE`, or `NEW_PARAGRAPH` for an empty line between."""
        if self._is_marked:
            return
        self._breaks = max(self._breaks, breaks)
        self._space = False

    def end_line(self) -> None:
        """A `<br>`: two of them leave an empty line."""
        self._breaks = min(self._breaks + 1, NEW_PARAGRAPH)
        self._space = False

    def join(self, mark: str) -> None:
        """A mark between two cells of a line; none where nothing stands before it, or the same one already."""
        if not self._breaks and not self._starts and not self._parts[-1].endswith(mark):
            self._parts.append(mark[1:] if self._parts[-1].endswith(mark[0]) and mark[0] != " " else mark)
        self._space = False

    def text(self) -> str:
        """All that was written."""
        return "".join(self._parts)

    def _open(self, spaced: bool) -> None:
        """Write the breaks, or the space, that are due before text."""
        if self._breaks:
            if self._parts:
                self._parts.append("\n" * self._breaks)
            self._breaks = 0
        elif not self._starts and (spaced or self._space) and not self._parts[-1].endswith((" ", "\n")):
            self._parts.append(" ")
        self._starts = self._space = self._is_marked = False

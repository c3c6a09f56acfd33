"""What stops a command of the bench: one line that says what to do; nothing was changed."""


class KeeperError(Exception):
    """An input that cannot be used; the message is one line."""


class Unsaid(KeeperError):
    """What a table cannot show: questions, each with the option that answers it."""

    def __init__(self, questions: "list[tuple[str, str]]") -> None:
        self.questions = questions
        super().__init__("; ".join(f"{text} (--{option})" for option, text in questions))

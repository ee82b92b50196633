"""One error for everything that is refused: a code, a sentence, and what to do."""


class Refused(Exception):
    """A wish that can't be met; nothing was changed.

    Parameters
    ----------
    code
        A word for programs, snake_case.
    message
        A sentence: what failed, with its value, and what was expected.
    hint
        What the reader can do.
    """

    def __init__(self, code: str, message: str, hint: str = "") -> None:
        super().__init__(message)
        self.code, self.message, self.hint = code, message, hint

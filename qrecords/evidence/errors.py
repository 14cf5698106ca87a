"""Why a file is refused. The code is stable; pages and the API make the sentence from code and facts."""


class FileRefusedError(Exception):
    """A file that is not kept.

    code: `empty`, `too-large`, `not-a-photo`, `not-a-paper`, `locked`, `too-many-pixels`, `too-many-scans`,
    `damaged` or `digest-differs`. facts: what was found and the limit it broke, with units in the names.
    """

    def __init__(self, code: str, **facts: str | int) -> None:
        self.code = code
        self.facts = facts
        super().__init__(code, facts)

    def __str__(self) -> str:
        return f"file refused: {self.code} " + ", ".join(
            f"{name}={value}" for name, value in self.facts.items()
        )

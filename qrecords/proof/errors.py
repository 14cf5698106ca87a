"""What can be wrong with an identifier, a value, or bytes that claim to be canonical."""

from uuid import UUID


class IdentifierError(ValueError):
    """An identifier of another version than 7: it was not made as the record's identifiers are."""

    code = "identifier"

    def __init__(self, id: UUID) -> None:
        super().__init__(f"{id} is not a UUID version 7")
        self.id = id


class CanonicalError(ValueError):
    """A value has no canonical form, or bytes are not the canonical form of anything.

    `code` is stable; `where` is the path of keys and positions that leads to the fault.
    """

    code = "not-canonical"

    def __init__(self, what: str, where: str = "") -> None:
        super().__init__(what)
        self.what = what
        self.where = where

    def stands_in(self, part: str) -> None:
        """The fault lies below this key or position."""
        self.where = f"{part}.{self.where}" if self.where and self.where[0] != "[" else part + self.where

    def __str__(self) -> str:
        return f"{self.what} at {self.where or 'the top'}"


class FloatError(CanonicalError):
    """A binary fraction: a measured value is a decimal string, so that every reader sees the same digits."""

    code = "float"


class IntegerRangeError(CanonicalError):
    """An integer that a reader with 64-bit floats could not hold exactly."""

    code = "integer-range"


class KeyRefusedError(CanonicalError):
    """A key that is not ASCII text: the sorting rules of two languages would differ on it."""

    code = "key"


class TextRefusedError(CanonicalError):
    """Text that is not in normal form C, or holds half of a surrogate pair."""

    code = "text"


class DepthError(CanonicalError):
    """More nesting than any record needs."""

    code = "depth"


class TypeRefusedError(CanonicalError):
    """A type that JSON does not know."""

    code = "type"

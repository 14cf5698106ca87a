"""One row of a register, if the caller can reach it; else as if it did not exist."""

import uuid
from typing import TypeVar

from qrecords.people.queries import Reach
from qrecords.workshop.errors import UnknownObjectError
from qrecords.workshop.models import Bearing, Equipment, Journal, Machine, Rebuild
from qrecords.workshop.queries import within

Row = TypeVar("Row", Machine, Rebuild, Journal, Bearing, Equipment)


def one(model: type[Row], id: uuid.UUID, reach: Reach) -> Row:
    """The row, or UnknownObjectError."""
    found = within(model._default_manager.all(), reach).filter(id=id).first()
    if found is None:
        raise UnknownObjectError(model.__name__.lower(), id)
    return found

"""Background work on files. Each job may run twice or be cut short at any line."""

from qrecords.evidence import derivatives
from qrecords.evidence.models import StoredFile


def derive(sha256: str) -> None:
    """Make the pictures to show of one original, once per recipe."""
    if not derivatives.are_made(sha256):
        derivatives.make(sha256)
    StoredFile.objects.filter(sha256=sha256).exclude(recipe=derivatives.RECIPE).update(
        recipe=derivatives.RECIPE
    )

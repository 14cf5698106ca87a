"""Keys of acts of authority, so that they are found; what they say stands in their entries."""

from django.db import models

from qrecords.ledger.models import AppendOnly, Entry
from qrecords.mountings.models import Mounting
from qrecords.workshop.models import Rebuild


class Release(AppendOnly):
    entry = models.OneToOneField(Entry, primary_key=True, on_delete=models.PROTECT, related_name="+")
    mounting = models.ForeignKey(Mounting, on_delete=models.PROTECT, related_name="releases")


class Decision(AppendOnly):
    entry = models.OneToOneField(Entry, primary_key=True, on_delete=models.PROTECT, related_name="+")
    mounting = models.ForeignKey(Mounting, on_delete=models.PROTECT, related_name="decisions")


class Signature(AppendOnly):
    """One sign-off a mounting, meaning and amendment: a second one is refused by the database too."""

    entry = models.OneToOneField(Entry, primary_key=True, on_delete=models.PROTECT, related_name="+")
    mounting = models.ForeignKey(Mounting, on_delete=models.PROTECT, related_name="signatures")
    meaning = models.CharField(max_length=16)
    amendment = models.PositiveSmallIntegerField(default=0, db_default=0)
    """0 for the record as it was first signed."""

    class Meta:
        constraints = [
            models.UniqueConstraint(
                fields=["mounting", "meaning", "amendment"], name="one_signature_a_meaning"
            )
        ]


class RebuildRelease(AppendOnly):
    """The inspector's release of one machine under one work order: there is one."""

    entry = models.OneToOneField(Entry, primary_key=True, on_delete=models.PROTECT, related_name="+")
    rebuild = models.ForeignKey(Rebuild, on_delete=models.PROTECT, related_name="releases")

    class Meta:
        constraints = [models.UniqueConstraint(fields=["rebuild"], name="one_release_a_rebuild")]

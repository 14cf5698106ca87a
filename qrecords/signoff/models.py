"""Keys of acts of authority, so that they are found; what they say stands in their entries."""

from django.db import models

from qrecords.ledger.models import AppendOnly, Entry
from qrecords.mountings.models import Mounting


class Release(AppendOnly):
    entry = models.OneToOneField(Entry, primary_key=True, on_delete=models.PROTECT, related_name="+")
    mounting = models.ForeignKey(Mounting, on_delete=models.PROTECT, related_name="releases")


class Decision(AppendOnly):
    entry = models.OneToOneField(Entry, primary_key=True, on_delete=models.PROTECT, related_name="+")
    mounting = models.ForeignKey(Mounting, on_delete=models.PROTECT, related_name="decisions")


class Signature(AppendOnly):
    """One sign-off a mounting and meaning: a second one is refused by the database too."""

    entry = models.OneToOneField(Entry, primary_key=True, on_delete=models.PROTECT, related_name="+")
    mounting = models.ForeignKey(Mounting, on_delete=models.PROTECT, related_name="signatures")
    meaning = models.CharField(max_length=16)

    class Meta:
        constraints = [
            models.UniqueConstraint(fields=["mounting", "meaning"], name="one_signature_a_meaning")
        ]

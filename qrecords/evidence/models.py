"""What is known of files. An entry of the ledger names a file by its digest only; these rows say the rest."""

from django.db import models


class StoredFile(models.Model):
    """One original, kept once however often it arrives. All but `recipe` follows from its bytes."""

    sha256 = models.CharField(primary_key=True, max_length=64)
    size = models.PositiveIntegerField()  # bytes
    media = models.CharField(max_length=40)
    # both 0 for what is no picture
    width_px = models.PositiveIntegerField()
    height_px = models.PositiveIntegerField()
    taken_at = models.CharField(max_length=130, null=True)  # noqa: DJ001 - null: the file does not say
    camera = models.CharField(max_length=130, null=True)  # noqa: DJ001 - null: the file does not say
    recipe = models.PositiveSmallIntegerField(null=True)  # version that made the derivatives; null: not yet


class Arrival(models.Model):
    """One file received or refused for one mounting. The same photo may arrive for several."""

    class State(models.TextChoices):
        RECEIVED = "received"
        REFUSED = "refused"

    sha256 = models.CharField(max_length=64)
    mounting = models.UUIDField()
    sender = models.UUIDField()
    at = models.DateTimeField()  # the server's clock
    state = models.CharField(max_length=10, choices=State.choices)
    refusal = models.CharField(max_length=30, blank=True)  # code of the FileRefusedError
    facts = models.JSONField(default=dict)  # and its facts

    class Meta:
        constraints = [
            models.UniqueConstraint(fields=["sha256", "mounting"], name="one_arrival_per_mounting")
        ]
        indexes = [models.Index(fields=["mounting", "at"], name="arrivals_of_mounting")]

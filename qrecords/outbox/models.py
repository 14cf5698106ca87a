"""One row for each piece of work that is still to be done."""

from django.db import models
from django.db.models import Q


class Job(models.Model):
    """Work of one kind with its argument. Due from `run_after` on; every try pushes that further away."""

    kind = models.CharField(max_length=64)
    argument = models.JSONField()
    made_at = models.DateTimeField()
    run_after = models.DateTimeField()
    tries = models.PositiveIntegerField(default=0)
    done_at = models.DateTimeField(null=True)
    error = models.TextField(blank=True)

    class Meta:
        indexes = [
            models.Index(fields=["run_after", "id"], name="outbox_job_due", condition=Q(done_at=None)),
        ]

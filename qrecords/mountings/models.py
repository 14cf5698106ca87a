"""Rows of mountings. Captures carry keys only; readings, findings and state are indexes made from entries."""

from django.db import models

from qrecords.ledger.models import AppendOnly, Entry
from qrecords.workshop.models import Bearing, Delivery, Equipment, Journal, Part, Rebuild


class NumberSeries(models.Model):
    """The last short number given at a site in a year."""

    site = models.UUIDField()
    year = models.PositiveSmallIntegerField()
    last = models.PositiveIntegerField(default=0)

    class Meta:
        constraints = [models.UniqueConstraint(fields=["site", "year"], name="one_series_per_site_and_year")]


class Mounting(models.Model):
    """One bearing onto one journal, once. `state` and what follows it are indexes; the entries say it."""

    id = models.UUIDField(primary_key=True)
    site = models.UUIDField(db_index=True)
    number = models.CharField(max_length=12, db_index=True)
    journal = models.ForeignKey(Journal, on_delete=models.PROTECT, related_name="mountings")
    bearing = models.ForeignKey(Bearing, on_delete=models.PROTECT, related_name="mountings")
    rebuild = models.ForeignKey(Rebuild, on_delete=models.PROTECT, related_name="mountings")
    attempt_of = models.ForeignKey("self", null=True, on_delete=models.PROTECT, related_name="later_attempts")
    procedure_digest = models.CharField(max_length=64)
    tables_digest = models.CharField(max_length=64, default="", db_default="", blank=True)
    """The tables of the standards that judge it, as its opening pinned them; '' for the built-in ones."""
    opened_at = models.DateTimeField()
    opened_by = models.UUIDField()
    state = models.CharField(max_length=24, default="open", db_index=True)
    released = models.CharField(max_length=800, default="", blank=True)
    """The holds whose release stands now, one word each."""
    waits = models.CharField(max_length=800, default="", blank=True, db_index=True)
    """The holds that wait for a release."""
    amendments = models.PositiveSmallIntegerField(default=0, db_default=0)
    """How often it was opened again after it had been signed off."""
    closed_at = models.DateTimeField(null=True, blank=True)
    """When a decision closed it as reworked or scrapped."""
    handed_to = models.UUIDField(null=True, blank=True)
    """To whom it was handed over last, at a change of shift."""
    marking_read = models.CharField(max_length=80, default="", blank=True)
    """What was read off the ring and its box, for finding it by; the marking from when a second reader has
    read it too."""
    serial_read = models.CharField(max_length=40, default="", blank=True)
    lot_read = models.CharField(max_length=40, default="", blank=True)
    date_code_read = models.CharField(max_length=20, default="", blank=True)

    review_due = models.DateField(null=True, blank=True, db_index=True)
    """The day by which an independent inspector looks again at what was signed with reduced independence."""

    class Meta:
        constraints = [models.UniqueConstraint(fields=["site", "number"], name="one_number_per_site")]


class Capture(AppendOnly):
    """Which entry captured which step of which mounting."""

    entry = models.OneToOneField(Entry, primary_key=True, on_delete=models.PROTECT, related_name="+")
    mounting = models.ForeignKey(Mounting, on_delete=models.PROTECT, related_name="captures")
    step = models.CharField(max_length=24)


class Reading(models.Model):
    """Index: one number off one instrument, in base units, as it stands now."""

    mounting = models.ForeignKey(Mounting, on_delete=models.CASCADE, related_name="readings")
    entry = models.UUIDField()
    step = models.CharField(max_length=24)
    key = models.CharField(max_length=60)
    base = models.BigIntegerField()

    class Meta:
        constraints = [
            models.UniqueConstraint(fields=["mounting", "step", "key"], name="one_reading_a_place")
        ]


class EquipmentUse(models.Model):
    """Index: which equipment was used in which capture."""

    equipment = models.ForeignKey(Equipment, on_delete=models.CASCADE, related_name="uses")
    mounting = models.ForeignKey(Mounting, on_delete=models.CASCADE, related_name="equipment_uses")
    entry = models.UUIDField()
    step = models.CharField(max_length=24)
    at = models.DateTimeField()

    class Meta:
        constraints = [
            models.UniqueConstraint(fields=["equipment", "entry"], name="one_use_an_entry"),
        ]


class FindingRow(models.Model):
    """Index: what one rule says now of one characteristic."""

    mounting = models.ForeignKey(Mounting, on_delete=models.CASCADE, related_name="findings")
    place = models.PositiveIntegerField()
    rule = models.CharField(max_length=40)
    characteristic = models.CharField(max_length=60)
    verdict = models.CharField(max_length=16)
    digest = models.CharField(max_length=64)
    settled = models.BooleanField()
    """Conforming, decided, or looked at: nothing to do."""
    document = models.JSONField()

    class Meta:
        constraints = [
            models.UniqueConstraint(
                fields=["mounting", "rule", "characteristic"], name="one_finding_a_characteristic"
            )
        ]
        ordering = ["place"]


class JudgedAgain(models.Model):
    """Index: that a mounting was judged again with something put right, and which class that gives."""

    mounting = models.ForeignKey(Mounting, on_delete=models.CASCADE, related_name="judged_again")
    occasion = models.CharField(max_length=24)
    cause = models.UUIDField(db_index=True)
    """The look-back, or the decision, that had it judged."""
    verdict = models.CharField(max_length=16)
    entry = models.UUIDField()
    at = models.DateTimeField()
    document = models.JSONField()
    """What is found otherwise, characteristic by characteristic."""

    class Meta:
        constraints = [
            models.UniqueConstraint(fields=["mounting", "cause"], name="judged_again_once_a_cause")
        ]


class TaskDone(models.Model):
    """Index: when a person last did a task in a mounting; *work* where the step asks for no competence."""

    mounting = models.ForeignKey(Mounting, on_delete=models.CASCADE, related_name="tasks_done")
    person = models.UUIDField(db_index=True)
    task = models.CharField(max_length=20)
    entry = models.UUIDField()
    at = models.DateTimeField()

    class Meta:
        constraints = [
            models.UniqueConstraint(fields=["mounting", "person", "task"], name="one_task_of_a_person")
        ]


class NameRead(models.Model):
    """Index: what a step says in words of its own, as a batch, a heat number or a delivery note."""

    mounting = models.ForeignKey(Mounting, on_delete=models.CASCADE, related_name="names_read")
    entry = models.UUIDField()
    step = models.CharField(max_length=24)
    key = models.CharField(max_length=60)
    text = models.CharField(max_length=200)

    class Meta:
        constraints = [models.UniqueConstraint(fields=["mounting", "step", "key"], name="one_name_a_place")]


class PartUse(models.Model):
    """A part that went into a mounting. The id is the entry's."""

    id = models.UUIDField(primary_key=True)
    part = models.ForeignKey(Part, on_delete=models.PROTECT, related_name="uses")
    mounting = models.ForeignKey(Mounting, on_delete=models.PROTECT, related_name="parts_used")
    place = models.CharField(max_length=80, blank=True)


class BearingEvent(models.Model):
    """What became of a bearing besides its mountings (`steps.bearing_life.Event`). The id is the entry's."""

    id = models.UUIDField(primary_key=True)
    site = models.UUIDField(db_index=True)
    bearing = models.ForeignKey(Bearing, on_delete=models.PROTECT, related_name="events")
    what = models.CharField(max_length=12)
    on = models.DateField()
    at = models.DateTimeField()
    mounting = models.ForeignKey(Mounting, null=True, on_delete=models.PROTECT, related_name="endings")
    """The mounting that a removal ended, or that a failure is of; null where none is known here."""
    journal = models.ForeignKey(Journal, null=True, on_delete=models.PROTECT, related_name="bearing_events")
    for_mounting = models.ForeignKey(
        Mounting, null=True, on_delete=models.PROTECT, related_name="taken_off_for"
    )
    """The mounting that takes the place of what came off."""
    delivery = models.ForeignKey(Delivery, null=True, on_delete=models.PROTECT, related_name="bearings")
    damage = models.CharField(max_length=40, blank=True, db_index=True)
    document = models.JSONField()

    class Meta:
        ordering = ["at", "id"]

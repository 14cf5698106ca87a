"""The rows that registers are looked up by. What changes over time is versioned with valid-from."""

from django.db import models


class Site(models.Model):
    """One workshop; every root object and role belongs to one."""

    id = models.UUIDField(primary_key=True)
    code = models.CharField(max_length=8, unique=True)
    name = models.CharField(max_length=80)
    zone = models.CharField(max_length=40, default="UTC")


class Machine(models.Model):
    """What is overhauled. `mark` is the workshop mark on its plate."""

    id = models.UUIDField(primary_key=True)
    site = models.UUIDField(db_index=True)
    name = models.CharField(max_length=120)
    owner = models.CharField(max_length=120)
    scheme = models.CharField(max_length=40, default="none")
    released_by = models.CharField(max_length=120, default="", blank=True)
    """Who has to release it under that scheme, where it was said: the workshop's sign-off never is that."""
    mark = models.CharField(max_length=7, unique=True)


class Rebuild(models.Model):
    """One overhaul of a machine under one work order."""

    id = models.UUIDField(primary_key=True)
    site = models.UUIDField(db_index=True)
    machine = models.ForeignKey(Machine, on_delete=models.PROTECT, related_name="rebuilds")
    work_order = models.CharField(max_length=40, db_index=True)
    opened_at = models.DateTimeField()

    class Meta:
        constraints = [
            models.UniqueConstraint(fields=["machine", "work_order"], name="one_rebuild_an_order"),
        ]


class Journal(models.Model):
    """A place on a shaft where one bearing sits. Its drawing's requirements are versions of it."""

    id = models.UUIDField(primary_key=True)
    site = models.UUIDField(db_index=True)
    machine = models.ForeignKey(Machine, on_delete=models.PROTECT, related_name="journals")
    shaft = models.CharField(max_length=40)
    position = models.CharField(max_length=40)

    class Meta:
        constraints = [
            models.UniqueConstraint(fields=["machine", "shaft", "position"], name="one_journal_a_place"),
        ]


class JournalRequirement(models.Model):
    """What one drawing revision asks of a journal, from a moment on. The id is the entry's."""

    id = models.UUIDField(primary_key=True)
    journal = models.ForeignKey(Journal, on_delete=models.PROTECT, related_name="requirements")
    drawing = models.CharField(max_length=60)
    revision = models.CharField(max_length=20)
    document = models.JSONField()
    valid_from = models.DateTimeField()


class Bearing(models.Model):
    """One physical bearing. Serial, lot and date code are searched, never assumed unique."""

    id = models.UUIDField(primary_key=True)
    site = models.UUIDField(db_index=True)
    designation = models.CharField(max_length=60, db_index=True)
    serial = models.CharField(max_length=40, blank=True, db_index=True)
    lot = models.CharField(max_length=40, blank=True, db_index=True)
    date_code = models.CharField(max_length=20, blank=True, db_index=True)
    delivery = models.CharField(max_length=60, blank=True)


class Delivery(models.Model):
    """What came on one delivery note of one supplier. The id is the entry's."""

    id = models.UUIDField(primary_key=True)
    site = models.UUIDField(db_index=True)
    supplier = models.CharField(max_length=80)
    note = models.CharField(max_length=60, db_index=True)
    order = models.CharField(max_length=40, blank=True, db_index=True)
    on = models.DateField()
    lines = models.JSONField()
    """Each with designation, lot and quantity."""


class Part(models.Model):
    """What goes into a mounting beside the bearing, or was done to its seat, with the number by which it is
    found again: lot, heat, batch or job. The id is the entry's."""

    id = models.UUIDField(primary_key=True)
    site = models.UUIDField(db_index=True)
    kind = models.CharField(max_length=20)
    name = models.CharField(max_length=80)
    lot = models.CharField(max_length=60, db_index=True)
    supplier = models.CharField(max_length=80, blank=True)
    delivery = models.CharField(max_length=60, blank=True)
    use_by = models.DateField(null=True)


class Move(models.Model):
    """A machine that went elsewhere, or one of its shafts that went into another machine. The id is the
    entry's."""

    id = models.UUIDField(primary_key=True)
    site = models.UUIDField(db_index=True)
    machine = models.ForeignKey(Machine, on_delete=models.PROTECT, related_name="moves")
    shaft = models.CharField(max_length=40, blank=True)
    """The one shaft that moved; '' for the whole machine."""
    to_machine = models.ForeignKey(Machine, null=True, on_delete=models.PROTECT, related_name="arrivals")
    to_owner = models.CharField(max_length=120, blank=True)
    to_place = models.CharField(max_length=120, blank=True)
    on = models.DateField()
    at = models.DateTimeField()
    reason = models.CharField(max_length=400, blank=True)


class Equipment(models.Model):
    """A gauge, master, meter, feeler set or heater, by its mark."""

    id = models.UUIDField(primary_key=True)
    site = models.UUIDField(db_index=True)
    kind = models.CharField(max_length=30)
    mark = models.CharField(max_length=30)

    class Meta:
        constraints = [models.UniqueConstraint(fields=["site", "mark"], name="one_mark_per_site")]


class EquipmentVersion(models.Model):
    """Status, calibration and blades of a piece of equipment from a moment on. The id is the entry's."""

    id = models.UUIDField(primary_key=True)
    equipment = models.ForeignKey(Equipment, on_delete=models.PROTECT, related_name="versions")
    document = models.JSONField()
    due = models.DateField(null=True)
    valid_from = models.DateTimeField()


class ProcedureDraft(models.Model):
    """A procedure as somebody drafted it; nobody works by it yet. The id is the entry's. A newer draft of the
    same `dossier` (the id of its first draft) takes the place of an older one, which stays."""

    id = models.UUIDField(primary_key=True)
    site = models.UUIDField(db_index=True)
    dossier = models.UUIDField(db_index=True)
    nth = models.PositiveIntegerField()
    name = models.CharField(max_length=40)
    revision = models.CharField(max_length=20)
    contract = models.CharField(max_length=80, blank=True)
    digest = models.CharField(max_length=64)
    document = models.JSONField()
    wanted_from = models.DateTimeField(null=True)
    """From when it is to be in force; None: as soon as it is approved."""
    reason = models.CharField(max_length=400)
    by = models.UUIDField()
    at = models.DateTimeField()

    class Meta:
        constraints = [models.UniqueConstraint(fields=["dossier", "nth"], name="one_draft_a_place")]


class ProcedureVersion(models.Model):
    """One revision of a procedure that came in force, pinned by the digest of its document. The id is the
    entry's. The first one of a site has no draft: one person put it in force at the installation."""

    id = models.UUIDField(primary_key=True)
    site = models.UUIDField(db_index=True)
    name = models.CharField(max_length=40)
    revision = models.CharField(max_length=20)
    contract = models.CharField(max_length=80, default="", db_default="", blank=True)
    """For which contract it is chosen; '' for the workshop's own."""
    digest = models.CharField(max_length=64, db_index=True)
    document = models.JSONField()
    valid_from = models.DateTimeField()
    draft = models.OneToOneField(ProcedureDraft, null=True, on_delete=models.PROTECT, related_name="version")


class ProcedureAct(models.Model):
    """What became of a draft: approved (by two), refused, withdrawn. The id is the entry's."""

    id = models.UUIDField(primary_key=True)
    site = models.UUIDField(db_index=True)
    draft = models.ForeignKey(ProcedureDraft, on_delete=models.PROTECT, related_name="acts")
    what = models.CharField(max_length=12)
    by = models.UUIDField()
    by_hash = models.CharField(max_length=64)
    """Hash of the version of the person, as the entry pins it: whose name is printed."""
    at = models.DateTimeField()
    reason = models.CharField(max_length=400, blank=True)

    class Meta:
        ordering = ["at", "id"]


class TableRow(models.Model):
    """A row that somebody proposes from the site's own copy of a standard. The id is the entry's."""

    id = models.UUIDField(primary_key=True)
    site = models.UUIDField(db_index=True)
    document = models.JSONField()
    """As `engineering.own_rows` reads it."""
    reason = models.CharField(max_length=400)
    proposed_by = models.UUIDField()
    proposed_at = models.DateTimeField()


class TableRowAct(models.Model):
    """What became of a proposed row: approved, refused or withdrawn. The id is the entry's; `nth` its
    place within the site, by which the tables that were in force at any time are found again."""

    id = models.UUIDField(primary_key=True)
    site = models.UUIDField()
    nth = models.PositiveIntegerField()
    row = models.ForeignKey(TableRow, on_delete=models.PROTECT, related_name="acts")
    what = models.CharField(max_length=12)
    by = models.UUIDField()
    by_hash = models.CharField(max_length=64)
    """Hash of the version of the person, as the entry pins it: whose name is printed."""
    on = models.CharField(max_length=10)
    """The day by the site's zone."""
    at = models.DateTimeField()
    reason = models.CharField(max_length=400, blank=True)

    class Meta:
        constraints = [models.UniqueConstraint(fields=["site", "nth"], name="one_table_act_a_place")]
        ordering = ["nth"]


class LookBack(models.Model):
    """What an error found later puts in doubt, from a moment to another. The id is the entry's."""

    id = models.UUIDField(primary_key=True)
    site = models.UUIDField(db_index=True)
    subject = models.CharField(max_length=24)
    of = models.CharField(max_length=80)
    """Which one: id of the piece or person, else lot, batch or drawing as it is written."""
    equipment = models.ForeignKey(Equipment, null=True, on_delete=models.PROTECT, related_name="look_backs")
    person = models.UUIDField(null=True)
    document = models.JSONField()
    """As `steps.new_look_back` reads it."""
    since = models.DateTimeField()
    until = models.DateTimeField()
    why = models.CharField(max_length=400)
    opened_by = models.UUIDField()
    opened_at = models.DateTimeField()


class LookBackAction(models.Model):
    """What is to be done about one mounting that a look-back puts in doubt, by whom and until when. The id is
    the entry's."""

    id = models.UUIDField(primary_key=True)
    look_back = models.ForeignKey(LookBack, on_delete=models.PROTECT, related_name="actions")
    mounting = models.UUIDField(db_index=True)
    owner = models.UUIDField()
    due = models.DateField()
    what = models.CharField(max_length=400)
    by = models.UUIDField()
    at = models.DateTimeField()


class LookBackAnswer(models.Model):
    """How an action was closed. The id is the entry's."""

    id = models.UUIDField(primary_key=True)
    action = models.OneToOneField(LookBackAction, on_delete=models.PROTECT, related_name="answer")
    how = models.CharField(max_length=400)
    by = models.UUIDField()
    at = models.DateTimeField()


class LookBackEnd(models.Model):
    """That a look-back is closed, and what it came to. The id is the entry's."""

    id = models.UUIDField(primary_key=True)
    look_back = models.OneToOneField(LookBack, on_delete=models.PROTECT, related_name="end")
    reason = models.CharField(max_length=400)
    by = models.UUIDField()
    at = models.DateTimeField()


class ShiftStart(models.Model):
    """What one person had at hand at the start of a shift. The id is the entry's."""

    id = models.UUIDField(primary_key=True)
    site = models.UUIDField()
    person = models.UUIDField()
    at = models.DateTimeField()
    document = models.JSONField()

    class Meta:
        indexes = [models.Index(fields=["person", "site", "at"], name="shift_start_of_a_person")]


class MasterCheck(models.Model):
    """One reading of a gauge on its master, before a shift or after it. The id is the entry's."""

    id = models.UUIDField(primary_key=True)
    equipment = models.ForeignKey(Equipment, on_delete=models.PROTECT, related_name="checks")
    master = models.ForeignKey(Equipment, on_delete=models.PROTECT, related_name="checked_on")
    when = models.CharField(max_length=8)
    """Of the shift: *before* or *after*."""
    off = models.BigIntegerField()
    limit = models.BigIntegerField()
    """Both in the base unit of what the gauge measures."""
    at = models.DateTimeField()
    by = models.UUIDField()

    class Meta:
        ordering = ["-at", "-id"]

    @property
    def within(self) -> bool:
        return abs(self.off) <= self.limit


class Damage(models.Model):
    """That something happened to a piece. The id is the entry's; the version that took it out of use follows
    from it."""

    id = models.UUIDField(primary_key=True)
    equipment = models.ForeignKey(Equipment, on_delete=models.PROTECT, related_name="damages")
    what = models.CharField(max_length=16)
    note = models.CharField(max_length=400)
    at = models.DateTimeField()
    by = models.UUIDField()

    class Meta:
        ordering = ["-at", "-id"]

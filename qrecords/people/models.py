"""Who signs in, under which name, with which roles and competence, each from a date on.

Rows here are versioned and never overwritten; names and salts live only here, so that erasing them after
retention leaves the ledger whole and the person unknown.
"""

from datetime import datetime
from typing import ClassVar

from django.contrib.auth.base_user import AbstractBaseUser, BaseUserManager
from django.db import models


class PersonManager(BaseUserManager["Person"]):
    """What Django's sign-in asks for; people are made by `actions.enrol` alone."""

    def get_by_natural_key(self, sign_in: str | None) -> "Person":
        return self.get(sign_in=sign_in)


class Person(AbstractBaseUser):
    """One human being; the id is the pseudonym that the ledger knows. Never reused, never deleted."""

    id = models.UUIDField(primary_key=True)
    sign_in = models.CharField(max_length=60, unique=True)
    is_active = models.BooleanField(default=True)
    first_password = models.BooleanField(default=False)
    """Somebody else gave the password and knows it: nothing is done with it but choosing another."""

    USERNAME_FIELD = "sign_in"
    REQUIRED_FIELDS: ClassVar[list[str]] = []  # nothing else is asked at a prompt
    objects = PersonManager()

    class Meta:
        db_table = "people_person"


class PersonVersion(models.Model):
    """The printed name from a moment on, with the salt that makes its hash unguessable."""

    id = models.UUIDField(primary_key=True)
    person = models.ForeignKey(Person, on_delete=models.PROTECT, related_name="versions")
    name = models.CharField(max_length=80)
    salt = models.BinaryField(max_length=32)
    hash = models.CharField(max_length=64)
    valid_from = models.DateTimeField()

    class Meta:
        db_table = "people_version"
        ordering = ["valid_from"]


class RoleGrant(models.Model):
    """A role at one site from a moment on; taken back by an end, never by deletion."""

    id = models.UUIDField(primary_key=True)
    person = models.ForeignKey(Person, on_delete=models.PROTECT, related_name="grants")
    role = models.CharField(max_length=20)
    site = models.UUIDField(db_index=True)
    valid_from = models.DateTimeField()
    valid_to = models.DateTimeField(null=True)

    class Meta:
        db_table = "people_role_grant"

    def covers(self, at: datetime) -> bool:
        return self.valid_from <= at and (self.valid_to is None or at < self.valid_to)


class Competence(models.Model):
    """Proof that a person can do a task on a range of sizes, assessed by somebody, until a day (included)."""

    id = models.UUIDField(primary_key=True)
    person = models.ForeignKey(Person, on_delete=models.PROTECT, related_name="competences")
    site = models.UUIDField()
    task = models.CharField(max_length=20)
    basis = models.CharField(max_length=200)
    assessor = models.UUIDField()
    from_mm = models.DecimalField(max_digits=9, decimal_places=3)
    to_mm = models.DecimalField(max_digits=9, decimal_places=3)
    valid_from = models.DateField()
    valid_to = models.DateField()
    kinds = models.JSONField(default=list)
    """The kinds of bearing it is for; empty for every kind."""
    positions = models.JSONField(default=list)
    """The positions it is for; empty for every position."""
    jobs = models.PositiveSmallIntegerField(null=True)
    """How many supervised jobs it rests on, where it rests on such."""
    recorded_at = models.DateTimeField(null=True)
    """When the assessor vouched for it here; not known of rows from before this was kept."""

    class Meta:
        db_table = "people_competence"


class Eyesight(models.Model):
    """That an inspector's eyesight was tested to the employer's requirement, and until when that holds
    (included). Nothing of what was found: health is no part of the record. The id is the entry's."""

    id = models.UUIDField(primary_key=True)
    person = models.ForeignKey(Person, on_delete=models.PROTECT, related_name="eyesight")
    site = models.UUIDField()
    tested_on = models.DateField()
    valid_to = models.DateField()

    class Meta:
        db_table = "people_eyesight"


class Token(models.Model):
    """A key for a program or a device, held as a hash, with the few actions it may do."""

    id = models.UUIDField(primary_key=True)
    person = models.ForeignKey(Person, on_delete=models.PROTECT, related_name="tokens")
    label = models.CharField(max_length=80)
    secret_hash = models.CharField(max_length=64, unique=True)
    actions = models.JSONField()
    made_at = models.DateTimeField()
    valid_to = models.DateTimeField()
    revoked_at = models.DateTimeField(null=True)

    class Meta:
        db_table = "people_token"

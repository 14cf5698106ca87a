"""The rows of the log. Entries are the truth; leaves order them; nodes are a cache of the tree."""

from django.db import models
from django.db.models.functions import Length
from django.db.models.lookups import Exact, LessThanOrEqual

PAYLOAD_LIMIT = 65_535  # bytes: the length of an entry fits into 16 bits in every exchange format


class AppendOnly(models.Model):
    """A table whose rows are never changed or removed: the database itself refuses it (see `triggers`)."""

    class Meta:
        abstract = True


class Entry(AppendOnly):
    """One immutable thing said by one person at one moment. `payload` is it; the rest is for finding it."""

    id = models.UUIDField(primary_key=True)
    kind = models.CharField(max_length=64)
    site = models.UUIDField()
    subject = models.UUIDField(db_index=True)
    payload = models.BinaryField()
    signature = models.BinaryField()

    class Meta:
        constraints = [
            models.CheckConstraint(
                name="ledger_entry_payload_length",
                condition=LessThanOrEqual(Length("payload"), PAYLOAD_LIMIT),
            ),
        ]


class Leaf(AppendOnly):
    """The place of an entry in the log: gap-free from 0, with the hash of its payload."""

    index = models.BigIntegerField(primary_key=True)
    entry = models.OneToOneField(Entry, on_delete=models.PROTECT, related_name="leaf")
    hash = models.BinaryField()

    class Meta:
        constraints = [
            models.CheckConstraint(name="ledger_leaf_hash_length", condition=Exact(Length("hash"), 32)),
        ]


class Node(models.Model):
    """A complete subtree of two leaves or more. A cache: `nodes.rebuild` makes it again from the leaves."""

    pk = models.CompositePrimaryKey("level", "index")
    level = models.SmallIntegerField()
    index = models.BigIntegerField()
    hash = models.BinaryField()


class Head(models.Model):
    """One row: how many leaves the log has. Its lock is what puts writers in line."""

    id = models.SmallIntegerField(primary_key=True, default=1)
    size = models.BigIntegerField(default=0)

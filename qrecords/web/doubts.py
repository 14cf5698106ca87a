"""What a figure rests on that nobody confirmed, and what it has from the site's own copy: one wording.

A finding keeps each as one text, a row of a table by the names of the table and its key; old judgements hold
the same texts, so they are put into words here and nowhere changed.
"""

import re
from collections.abc import Iterable, Mapping
from datetime import date

from django.utils.translation import gettext
from django.utils.translation import gettext_noop as _

from qrecords.engineering.tables import OwnCopy, Tables, own_copies_of, unconfirmed_of
from qrecords.people.queries import names_by_hash
from qrecords.web.moments import calendar_day
from qrecords.wording.figures import ELLIPSIS

ROW = re.compile(
    r"(?P<standard>[^:;]+:\S+) (?P<table>\w+) (?P<key>.*) over (?P<over>\S+) to (?P<upto>\S+) mm"
)
TABLES: Mapping[str, str] = {
    "it_grades": _("standard tolerance, grade %(key)s"),
    "hole_delta": _("addition for holes, grade %(key)s"),
    "shaft_fundamental_deviations": _("fundamental deviation of shafts, %(key)s"),
    "hole_fundamental_deviations": _("fundamental deviation of holes, %(key)s"),
    "bearing_bore_tolerance": _("bore of bearings, class %(key)s"),
    "bearing_od_tolerance": _("outside diameter of bearings, class %(key)s"),
    "radial_internal_clearance": _("radial clearance, %(key)s"),
    "boundary_dimensions": _("boundary dimensions, series and bore code %(key)s"),
}
KINDS: Mapping[str, str] = {
    "deep_groove_ball_cyl_bore": _("deep groove ball bearing"),
    "self_aligning_ball_cyl_bore": _("self-aligning ball bearing, cylindrical bore"),
    "self_aligning_ball_tapered_bore": _("self-aligning ball bearing, tapered bore"),
    "spherical_roller_cyl_bore": _("spherical roller bearing, cylindrical bore"),
    "spherical_roller_tapered_bore": _("spherical roller bearing, tapered bore"),
    "cylindrical_roller_cyl_bore": _("cylindrical roller bearing"),
}
COMPARE = _("unconfirmed: compare with your copy of the standard")
"""Said wherever something rests on a cell that nobody confirmed."""
OWN = _("from this site's own copy of %(standard)s, %(place)s, approved by %(who)s on %(day)s: %(what)s")


class OfOwnCopy(str):
    """A sentence that tells of the site's own copy and doubts nothing: no page marks it as unconfirmed."""

    __slots__ = ()
    own = True


def told(texts: Iterable[str], *, rows_only: bool = False) -> tuple[str, ...]:
    """Everything that has to be said of what a figure rests on, a sentence a kind: rows to compare, what else
    nobody confirms (not where `rows_only`), and each row of the site's own copy."""
    texts = tuple(dict.fromkeys(texts))
    doubts = unconfirmed_of(texts)
    rows = [row_in_words(text) for text in doubts if is_row(text)]
    others = [] if rows_only else [text for text in doubts if not is_row(text)]
    found = [f"{gettext(COMPARE)}: {'; '.join(rows)}"] if rows else []
    if others:
        found.append(gettext("unconfirmed, in no table: %(what)s") % {"what": "; ".join(others)})
    return (*found, *(_own(copy) for copy in own_copies_of(texts)))


def is_row(text: str) -> bool:
    """Whether this is a row of a table, as the tables name it."""
    row = ROW.fullmatch(text)
    return row is not None and row["table"] in TABLES


def row_in_words(text: str) -> str:
    """`ISO 5753-1:2009 radial_internal_clearance … 3 over 50 to 65 mm` → *radial clearance, deep groove ball
    bearing, group C3, 50…65 mm (ISO 5753-1:2009)*. What is no row of a table stays as it is."""
    row = ROW.fullmatch(text)
    if row is None or row["table"] not in TABLES:
        return text
    size = row["upto"] if row["over"] == row["upto"] else row["over"] + ELLIPSIS + row["upto"]
    what = named(row["table"], row["key"].split())
    return f"{what}, {size} mm ({row['standard']})"


def named(table: str, key: list[str]) -> str:
    """*radial clearance, deep groove ball bearing, group C3*."""
    return gettext(TABLES[table]) % {"key": key_in_words(key)}


def key_in_words(parts: list[str]) -> str:
    """*deep groove ball bearing, group C3*; *m all ei*."""
    if parts[0] not in KINDS:
        return " ".join(parts)
    group = parts[1] if parts[1] == "N" else f"C{parts[1]}"
    return gettext("%(kind)s, group %(group)s") % {"kind": gettext(KINDS[parts[0]]), "group": group}


def _own(copy: OwnCopy) -> OfOwnCopy:
    """Where the site read it and who approved it, by the name of exactly the version that the entry pins."""
    row = ROW.fullmatch(copy.row)
    facts = {
        "standard": row["standard"] if row else "",
        "place": copy.sources.replace("; ", ", "),
        "who": approver(copy.by),
        "day": calendar_day(date.fromisoformat(copy.on)),
        "what": row_in_words(copy.row),
    }
    return OfOwnCopy(gettext(OWN) % facts)


_NAMES: dict[str, str] = {}
"""Names of approvers by hash, few and read on every page of a site with rows of its own: the version that a
hash names never changes. A process forgets them when it ends."""


def approver(by: str) -> str:
    """The printed name of this version of a person; of an erased one the beginning of the hash."""
    if by not in _NAMES:
        _NAMES.update(names_by_hash([by]))
    return _NAMES.get(by, gettext("person %(id)s") % {"id": by[:8]})


def other_tables(tables: Tables) -> str:
    """Said where the tables pinned at the opening are not known to this program any more; else empty."""
    if not tables.stands_for:
        return ""
    return gettext(
        "Judged by the tables of today: this program does not know those pinned at the opening, %(digest)s…, "
        "any more."
    ) % {"digest": tables.stands_for[:12]}

"""What a release of a rebuild said, and what came after it."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from django.utils.translation import gettext

from qrecords.ledger.queries import entries_named, said_of
from qrecords.signoff.models import RebuildRelease
from qrecords.signoff.rebuild_queries import entries_beyond
from qrecords.steps.shown import Extent
from qrecords.tracing.record import lines_of
from qrecords.web.inspector.entries import Line, lines
from qrecords.web.moments import moment

MOST_LATE = 50


@dataclass(frozen=True)
class Released:
    """Who released, when, with which remark; the places left out with why; `late` are the first entries that
    came afterwards, of `late_count`."""

    who: str
    at: str
    remark: str
    leaf: str
    left_out: tuple[tuple[str, str], ...]
    late: tuple[Line, ...]
    late_count: int
    seen: Mapping[str, Any]


def released_of(release: RebuildRelease, zone: str) -> Released:
    """From its entry alone, but for what came later. Five queries."""
    said = said_of(release.entry)
    (line,) = lines_of([said])
    shown = Extent(line.said["shown"]["entries"], line.said["shown"]["root"])
    new = entries_beyond(release.rebuild, shown)
    places = {p["journal"]: f"{p['shaft']}, {p['position']}" for p in line.seen["places"]}
    return Released(
        who=line.author,
        at=moment(line.received, zone),
        remark=line.said["remark"],
        leaf=said.leaf,
        left_out=tuple(
            (gettext("shaft %(place)s") % {"place": places[left["journal"]]}, left["reason"])
            for left in line.said["left_out"]
        ),
        late=tuple(lines(entries_named(new[:MOST_LATE]), zone)),
        late_count=len(new),
        seen=line.seen,
    )

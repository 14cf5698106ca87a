"""The form of a row from the site's own copy of a standard: what is asked, and the document it gives."""

import re
from collections.abc import Mapping
from typing import Any

from django.utils.translation import gettext

from qrecords.engineering.own_rows import SHAPES, document_of
from qrecords.engineering.tables import Row
from qrecords.web.doubts import KINDS
from qrecords.web.registers.asking import Ask
from qrecords.web.registers.tables import PARTS, VALUES

KEY, VALUE, SURE = "key-", "value-", "sure"


def asks_of(table: str, there: Row | None, *, sure: bool = False) -> list[Ask]:
    """What a row of this table is asked; it begins as the row that stands there, without its values
    where nobody confirmed them. `sure` is asked once a value
    lies far from that."""
    known = document_of(there) if there is not None else {}
    shape = SHAPES[table]
    key = known.get("key") or [""] * len(shape.key)
    # What nobody confirmed is typed from the copy, not nodded at.
    values = known["values"] if there is not None and there.confirmed else [""] * len(shape.values)
    asks = [_part(name, may, given) for (name, may), given in zip(shape.key, key, strict=True)]
    for name, caption in (("over_mm", gettext("sizes over")), ("upto_mm", gettext("up to and including"))):
        asks.append(Ask(name, caption, unit="mm", numeric=True, value=known.get(name, "")))
    for name, given in zip(shape.values, values, strict=True):
        unit = "" if name == "add_delta" else shape.unit
        hint = "" if given else (gettext("empty: not known") if name == "chamfer" else shape.allowed)
        caption = gettext(VALUES[name])
        asks.append(Ask(f"{VALUE}{name}", caption, unit=unit, numeric=True, value=given, hint=hint))
    asks += [
        Ask("standard", gettext("standard"), value=known.get("standard", ""), hint=gettext("as ISO 5753-1")),
        Ask("edition", gettext("edition"), value=known.get("edition", ""), hint=gettext("its year")),
        Ask("place", gettext("where in your copy"), hint=gettext("table and page, e.g. table 2, page 7")),
        Ask("copy", gettext("which copy"), hint=gettext("its number, or how it was bought")),
        Ask("reason", gettext("why"), hint=gettext("e.g. compared with our copy")),
    ]
    if sure:
        asks.append(Ask(SURE, gettext("read again: it stands so in our copy"), "checkbox"))
    return asks


def _part(name: str, may: Any, given: str) -> Ask:
    caption = gettext(PARTS[name])
    if isinstance(may, re.Pattern):
        if name != "kind":
            return Ask(f"{KEY}{name}", caption, value=given)
        options = [(kind, gettext(words)) for kind, words in KINDS.items()]
        return Ask(f"{KEY}{name}", caption, "select", options, value=given)
    return Ask(f"{KEY}{name}", caption, "select", [(each, each) for each in may], value=given)


def document_typed(table: str, given: Mapping[str, str]) -> dict[str, Any]:
    """The document of the row as typed; nobody has read it yet."""
    shape = SHAPES[table]
    plain = ("over_mm", "upto_mm", "standard", "edition", "place", "copy")
    return {
        "table": table,
        "key": [given[f"{KEY}{name}"] for name, _may in shape.key],
        "values": [given[f"{VALUE}{name}"] for name in shape.values],
        **{name: given[name] for name in plain},
    }


def input_of(table: str, field: str) -> str:
    """The input of the form that a wrong field belongs to."""
    shape = SHAPES[table]
    if field in shape.values:
        return f"{VALUE}{field}"
    return f"{KEY}{field}" if field in dict(shape.key) else field

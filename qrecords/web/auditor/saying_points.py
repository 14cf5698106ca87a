"""What an entry says that was made at a point of the contract."""

from collections.abc import Iterable, Mapping

from django.utils.translation import gettext
from django.utils.translation import gettext_noop as _

from qrecords.steps.point_acts import (
    CAME,
    LOOKED_AT,
    LOOKED_IN,
    NOTIFIED,
    STAYED_AWAY,
    TAKEN_BACK,
    WAIVED,
)
from qrecords.tracing.record import Line
from qrecords.web.auditor.told import Told

ACTS: Mapping[str, str] = {
    NOTIFIED: _("told"),
    CAME: _("came"),
    STAYED_AWAY: _("did not come"),
    WAIVED: _("waived by"),
    LOOKED_AT: _("documents looked at by"),
    LOOKED_IN: _("looked in"),
    TAKEN_BACK: _("taken back"),
}


def act_name(what: str) -> str:
    return gettext(ACTS.get(what, what))


def point_act(line: Line) -> tuple[str, Iterable[Told]]:
    said = line.said
    told = [Told(act_name(said["what"]), said.get("who", "") or "–")]
    for name, caption in (("how", gettext("how, or what")), ("at", gettext("when"))):
        told += [Told(caption, said[name])] if said.get(name) else []
    return gettext("point of the contract: %(point)s") % {"point": said["point"]}, told

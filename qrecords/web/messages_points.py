"""What the rules say of the points of a contract."""

from collections.abc import Mapping

from django.utils.translation import gettext_noop as _

POINT_FINDINGS: Mapping[str, str] = {
    "hold-released.conforming": _("Released|before work went on."),
    "hold-released.not-entered": _("A hold point:|released by the inspector before work goes on."),
    "hold-released.waits.not-entered": _("Waits for its release.|Work may not pass without it."),
    "hold-released.passed": _("Work went on|without the release of this hold point."),
    "hold-released.later": _("Work went on before:|the release came later, and proves nothing of then."),
    "hold-released.voided": _("Its release is void:|what it rests on changed since. Release it again."),
    "hold-released.own-work": _("Released by who worked on it:|nobody releases his own work."),
    "witness-told.not-entered": _("{party} is told {notice} before.|Say here whom you told, and how."),
    "witness-told.told.not-entered": _(
        "{who} was told.|Work may begin when {notice} have gone by, or once somebody is here."
    ),
    "witness-told.not-told": _("{party} was not told before|the work this point is about was begun."),
    "witness-told.told-after": _("That {who} was told before|was written down after the work was begun."),
    "witness-told.too-soon": _("{who} was told {waited} before,|{notice} are to be waited."),
    "witness-told.came.not-entered": _(
        "{who} was told in time.|Did anybody come? Say so, or that nobody did."
    ),
    "witness-told.nobody-came": _("Told in time, nobody came:|work may go on."),
    "witness-told.came": _("{who} came|and saw it."),
    "witness-told.waived": _("Waived|by {who}."),
    "documents-reviewed.conforming": _("Looked at|by {who}."),
    "documents-reviewed.not-entered": _("{party} looks at the documents.|Nobody has yet."),
    "documents-reviewed.changed": _("{who} looked before:|what stands now came later. Look again."),
    "documents-reviewed.own-work": _("Looked at by who worked on it:|nobody reviews his own work."),
}

"""Refused acts of authority in words: what is missing, and who could do it."""

from collections.abc import Mapping

from django.utils.translation import gettext
from django.utils.translation import gettext_noop as _

from qrecords.mountings.errors import RefusedError
from qrecords.people.errors import NotAllowedError
from qrecords.web.deciding_words import FIRST, STATES
from qrecords.web.names import name

WORDS: Mapping[str, str] = {
    "not-independent": _(
        "Who worked on this mounting neither releases nor decides, returns or signs it: somebody else does."
    ),
    "own-reading": _("Who took a reading grants no concession that rests on it: another engineer does."),
    "not-ready": _("The fitter has not said that it is ready for inspection."),
    "worked-since-ready": _("Work was added since the fitter said ready: return it, he says it again."),
    "own-reading-missing": _("Not released: the inspector has not read the marking off the ring himself."),
    "closed": _("This mounting is closed."),
    "same-drawing": _("It is judged by this revision already."),
    "not-open": _("This mounting is not open."),
    "heated": _("It was heated: it is not withdrawn any more, the ring has to be decided about."),
    "nothing-to-review": _("Nothing here waits for somebody to look at it again."),
    "not-signed-off": _("Only a record that is signed off is amended: this one is not."),
    "nothing-recorded": _("Nothing is recorded yet."),
    "nothing-mounted": _("Nothing of this rebuild is signed off yet: there is nothing to release."),
    "worked-on-rebuild": _(
        "Who worked on a mounting of this rebuild does not release it: another inspector does."
    ),
    "rebuild-released": _("This rebuild is released. What comes later is shown as after release."),
    "not-in-doubt": _("The look-back does not touch this mounting, or it has no class yet."),
    "already-answered": _("This action is closed already."),
    "look-back-closed": _("This look-back is closed."),
    "not-judged-yet": _("Not closed yet: its mountings are still being judged."),
    "not-performed": _("Who signs that the work was performed has recorded a part of it: you have not."),
}

OF_REBUILD: Mapping[str, tuple[str, str]] = {
    "mountings-open": ("mountings", _("Not released while these mountings are not closed: {what}.")),
    "places-without-mounting": (
        "places",
        _("Not released while no signed mounting carries this, and nobody says why it is left out: {what}."),
    ),
    "bearing-not-on": (
        "places",
        _("Not released: since its sign-off the bearing came off or is in quarantine: {what}."),
    ),
    "left-out-but-mounted": ("places", _("Something was mounted there, so it is not left out: {what}.")),
}
"""Refusals of the release of a rebuild: which fact is named, and in which words."""

BY_TABLE = ("not-yours", "not-proven-first", "not-stated", "customer-agrees", "expired", "remeasure")
HEARD: Mapping[str, str] = {
    "code": _("code"),
    "lowest": _("lowest reading"),
    "highest": _("highest reading"),
}


def by_table(error: RefusedError) -> str:
    """What the table of findings and decisions asks first."""
    facts = error.refusal.facts
    about = name(str(facts.get("finding", "")))

    def told(key: str, words: Mapping[str, str]) -> str:
        return "; ".join(gettext(words[each]) for each in facts[key])

    match error.code:
        case "not-yours":
            roles = gettext(" or ").join(gettext(role) for role in facts["may"]) or gettext("nobody here")
            return gettext("{about}: this is decided by {roles}.").format(about=about, roles=roles)
        case "not-proven-first":
            return gettext("{about}: first has to be there {what}.").format(
                about=about, what=told("first", FIRST)
            )
        case "not-stated":
            return gettext("{about}: state that you saw it yourself – {what}.").format(
                about=about, what=told("states", STATES)
            )
        case "customer-agrees":
            words = gettext("{about}: the customer agrees first. Hand in his letter, then name it here.")
            return words.format(about=about)
        case "remeasure":
            return gettext("The journal was reworked: first the inspector measures it himself.")
    over = "; ".join(name(each) for each in facts["findings"])
    return gettext("What was accepted of this is over, decide it anew: {what}.").format(what=over)


def refusal_sentence(error: RefusedError | NotAllowedError) -> str:
    if isinstance(error, NotAllowedError):
        return gettext("This needs {roles} of this site.").format(
            roles=gettext(" or ").join(gettext(role) for role in error.roles)
        )
    if error.code in BY_TABLE:
        return by_table(error)
    if error.code == "open-findings":
        open_ = "; ".join(name(each) for each in error.refusal.facts["findings"])
        if error.act == "sign-off":
            return gettext("Not signed while this is open: {what}.").format(what=open_)
        return gettext("Not released while this is open: {what}.").format(what=open_)
    if error.code in OF_REBUILD:
        named, words = OF_REBUILD[error.code]
        return gettext(words).format(what="; ".join(error.refusal.facts[named]))
    if error.code == "engineer-withdraws":
        open_ = "; ".join(name(each) for each in error.refusal.facts["findings"])
        return gettext(
            "Who opened it or worked on it does not withdraw it while this is undecided: {what}. "
            "An engineer who did not work on it may."
        ).format(what=open_)
    if error.code == "ring-undecided":
        open_ = "; ".join(name(each) for each in error.refusal.facts["findings"])
        return gettext(
            "Rework would close this mounting: first decide what the ring went through ({what})."
        ).format(what=open_)
    if error.code == "doubts-open":
        waiting = ", ".join(error.refusal.facts["mountings"])
        words = gettext("Not closed while these mountings have no action that is closed: {mountings}.")
        return words.format(mountings=waiting)
    if error.code == "telephone-differs":
        wrong = ", ".join(gettext(HEARD[each]) for each in error.refusal.facts["differs"])
        return gettext("The readings here have another {what}: have it read out again.").format(what=wrong)
    return gettext(WORDS[error.code])

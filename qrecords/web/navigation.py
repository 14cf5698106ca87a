"""The bar on top of every desktop page: the words a person's rights open, and which of them is here."""

from dataclasses import dataclass
from datetime import UTC, datetime

from django.http import HttpRequest
from django.urls import NoReverseMatch, reverse
from django.utils.functional import SimpleLazyObject
from django.utils.translation import gettext
from django.utils.translation import gettext_noop as _

from qrecords.people.models import Person
from qrecords.people.permissions import Action
from qrecords.people.queries import Rights, names, rights_of
from qrecords.web.parts import Bar, NavItem


@dataclass(frozen=True)
class Page:
    """One word of the bar: the address it leads to, the right it needs, and the addresses it stands over."""

    word: str
    address: str
    action: Action
    over: frozenset[str] = frozenset()


PAGES = (
    Page(_("My mountings"), "my-mountings", Action.RECORD),
    Page(_("Waiting for you"), "waiting", Action.CHECK),
    Page(
        _("Search"),
        "search",
        Action.TRACE,
        frozenset(
            {"bearing-life", "mounting-trace", "entry", "equipment-uses", "shared"}
            | {"damages", "damage", "mounting-damage", "suspects"}
        ),
    ),
    Page(
        _("Look-backs"),
        "look-backs",
        Action.TRACE,
        frozenset(
            {"look-back", "look-back-new", "look-back-mounting", "look-back-action", "look-back-answer"}
        )
        | {"look-back-end"},
    ),
    Page(_("Mountings"), "all-mountings", Action.READ),
    Page(
        _("Registers"),
        "registers",
        Action.READ,
        frozenset(
            {
                "machines",
                "machine-new",
                "rebuilds",
                "rebuild",
                "rebuild-release",
                "bearings",
                "bearing",
                "bearing-event",
                "bearing-clear",
                "bearing-scrap",
                "deliveries",
                "delivery-new",
                "parts",
                "part-new",
                "moves",
                "machine-moved",
                "shaft-moved",
                "equipment",
                "equipment-new",
            }
            | {"calibration-new", "procedure", "gauge-check", "gauge-damage", "due"}
        ),
    ),
    Page(_("Planner"), "planner", Action.READ),
    Page(_("Competence"), "competence", Action.ASSESS, frozenset({"competence-new", "eyesight-new"})),
    Page(
        _("People"),
        "people",
        Action.PEOPLE,
        frozenset({"person-new", "person", "role-end", "account-end", "password-anew"}),
    ),
    Page(_("Verify"), "verify", Action.VERIFY, frozenset({"export-everything"})),
    Page(_("Tokens"), "tokens", Action.TOKENS, frozenset({"token-revoke"})),
)


def bar(request: HttpRequest) -> dict[str, object]:
    """Context processor: `bar` for whoever is signed in, made where a page shows it; else nothing."""
    person = getattr(request, "user", None)
    if not isinstance(person, Person):
        return {}
    here = getattr(request.resolver_match, "url_name", "") or ""
    return {"bar": SimpleLazyObject(lambda: bar_of(person, here))}


def bar_of(person: Person, here: str, at: datetime | None = None) -> Bar:
    """The bar of a person on the page named `here`. Two queries. Under a first password no word leads on."""
    rights = rights_of(person.id, at or datetime.now(UTC))
    return Bar(
        person=names([person.id])[str(person.id)],
        role=", ".join(gettext(role.value) for role in rights.roles),
        items=()
        if person.first_password
        else tuple(item for page in PAGES if (item := _item(page, rights, here))),
        sign_out=reverse("sign-out"),
        own_password=reverse("own-password"),
    )


def _item(page: Page, rights: Rights, here: str) -> NavItem | None:
    if not rights.somewhere(page.action):
        return None
    try:
        address = reverse(page.address)
    except NoReverseMatch:  # a page this installation does not have
        return None
    return NavItem(gettext(page.word), address, here == page.address or here in page.over)

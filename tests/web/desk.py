"""A desk in the tests: one of the cast signed in, with the pages of one job by name."""

from dataclasses import dataclass
from typing import Any

from django.http import HttpResponse
from django.test import Client
from django.urls import reverse

from qrecords.evidence import derivatives
from qrecords.evidence.models import StoredFile
from qrecords.ledger.identifiers import new_id
from tests.cast import PASSWORD, SEEN_BEFORE_HEAT, SEEN_COLD, Job, Workshop
from tests.kept import kept

CLOSE_CALL = {"A": ("18", "17", "18"), "B": ("17", "17", "18"), "C": ("17", "12", "17")}
"""One reading that no micrometer here tells from the lower limit of 60 m6."""
LOW = {"A": ("18", "17", "18"), "B": ("17", "17", "18"), "C": ("17", "6", "17")}
"""A journal that is out at C."""


@dataclass
class Desk:
    """`see` reads a page, `do` sends a form; both give the response."""

    client: Client
    job: Job

    def at(self, page: str) -> str:
        return reverse(page, kwargs={"mounting": self.job.mounting.id})

    def see(self, page: str = "inspect", **query: Any) -> HttpResponse:
        return self.client.get(self.at(page), query)

    def read(self, page: str = "inspect", **query: Any) -> str:
        answer = self.see(page, **query)
        assert answer.status_code == 200
        return answer.content.decode()

    def do(self, page: str, **fields: Any) -> HttpResponse:
        return self.client.post(self.at(page), {"entry_id": str(new_id()), **fields})

    def sign(self, shown: str, password: str = PASSWORD) -> HttpResponse:
        return self.do("sign", shown=shown, password=password)


def sit(shop: Workshop, who: str, job: Job) -> Desk:
    """Somebody of the cast at a desk of their own."""
    client = Client()
    client.force_login(shop.people[who], backend="django.contrib.auth.backends.ModelBackend")
    return Desk(client, job)


def hidden(page: str, name: str) -> str:
    """The value of a hidden field of a form."""
    return page.split(f'name="{name}" value="', 1)[1].split('"', 1)[0]


def beside(page: str, field: str) -> str:
    """The words beside a field that is asked back."""
    return page.split(f'id="{field}-wrong"', 1)[1].split(">", 1)[1].split("<", 1)[0]


def main(page: str) -> str:
    """What stands in the middle of a page, without the bar."""
    return page.split("<main", 1)[1]


def make_pictures() -> None:
    """What the worker does with each photo after it came."""
    for file in StoredFile.objects.all():
        derivatives.make(file.sha256)
    StoredFile.objects.update(recipe=derivatives.RECIPE)


@kept
def make_ready(job: Job, peak_c: str = "95", *, by_telephone: bool = False) -> None:
    """From the release before heat to the fitter's signature; by telephone no inspector reads the ring."""
    named = (
        {"code": job.release_by_telephone()} if by_telephone else {"release": job.leaf(job.release("fit"))}
    )
    job.photograph(*SEEN_BEFORE_HEAT)
    job.heat(peak_c=peak_c, **named)
    job.check_cold()
    job.photograph(*SEEN_COLD)
    job.release("cold")
    job.close()
    job.ready()

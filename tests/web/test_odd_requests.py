"""What a page is asked with that no page of ours sends: cookies and queries of any text break nothing and are
shown as text."""

import pytest

from qrecords.people.permissions import Role
from tests.kept import once
from tests.rights.scenes import Hand, finished, given
from tests.web.test_every_address import PAGES, filled

pytestmark = pytest.mark.django_db
COOKIES = ("zone", "theme", "known", "recorded", "messages", "csrftoken")
QUERIES = (
    "q", "part", "page", "after", "about", "number", "sort", "mounting", "try", "as", "kind", "hold", "next",
    "bearing", "shaft_class", "journal_low", "lengths", "ceiling_source",
)  # fmt: skip


@pytest.mark.parametrize("odd", ["../../etc/passwd", "9" * 400, '"><script>', "\x01"])
def test_odd_cookies_and_queries_break_no_page(odd: str) -> None:
    job = once(finished)
    given(job, "second_fitter", *Role)
    client = Hand(job, "second_fitter").client
    for name in COOKIES:
        client.cookies[name] = odd
    wrong = []
    for page in PAGES:
        answer = client.get(filled(page, job), dict.fromkeys(QUERIES, odd))
        content = b"".join(answer.streaming_content) if answer.streaming else answer.content  # type: ignore[attr-defined]
        if answer.status_code >= 500 or b'"><script>' in content:
            wrong.append((page.name, answer.status_code))
    assert wrong == []

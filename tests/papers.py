"""Papers of the tests: whole PDFs of one empty page, handed in with a record."""

from qrecords.evidence.intake import take_in_paper
from qrecords.ledger.identifiers import new_id
from qrecords.mountings.actions.attaching import hand_in_paper, receive_file
from tests.cast import Job


def pdf(words: str) -> bytes:
    """A whole PDF of one empty page, as ISO 32000-1 wants it, that says something in a comment."""
    parts = [
        b"%PDF-1.4\n%" + words.encode() + b"\n",
        b"1 0 obj\n<< /Type /Catalog /Pages 2 0 R >>\nendobj\n",
        b"2 0 obj\n<< /Type /Pages /Kids [3 0 R] /Count 1 >>\nendobj\n",
        b"3 0 obj\n<< /Type /Page /Parent 2 0 R /MediaBox [0 0 595 842] >>\nendobj\n",
    ]
    body = b"".join(parts)
    places = [len(b"".join(parts[:n])) for n in (1, 2, 3)]
    table = b"xref\n0 4\n0000000000 65535 f \n" + b"".join(b"%010d 00000 n \n" % place for place in places)
    tail = b"trailer\n<< /Size 4 /Root 1 0 R >>\nstartxref\n%d\n%%%%EOF\n" % len(body)
    return body + table + tail


def paper(job: Job, kind: str, who: str = "engineer") -> str:
    """Hand in a paper; its hash. Papers of different kinds have different bytes."""
    taken = take_in_paper([pdf(kind)])
    receive_file(acting=job.shop.acting(who), mounting=job.mounting, taken=taken)
    hand_in_paper(
        acting=job.shop.acting(who), mounting=job.mounting, entry_id=new_id(), kind=kind,
        sha256=taken.sha256, size=taken.size, media=taken.photo.media,
    )  # fmt: skip
    return taken.sha256

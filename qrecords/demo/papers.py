"""Papers of the demonstration: a sheet with a few lines and a drawn curve, as PDF (ISO 32000-1)."""

from collections.abc import Sequence

from qrecords.demo.walking import Walk
from qrecords.evidence.intake import take_in_paper
from qrecords.ledger.identifiers import new_id
from qrecords.mountings.actions.attaching import hand_in_paper, receive_file

A4 = (595, 842)


def sheet(lines: Sequence[str], curve: Sequence[tuple[float, float]] = ()) -> bytes:
    """One page: `lines` from the top, `curve` as (seconds, °C) below them."""
    text = "".join(f"({line}) Tj T* " for line in lines)
    drawn = f"BT /F1 11 Tf 15 TL 60 780 Td {text}ET {_line(curve)}".encode("cp1252")
    font = b"<< /Type /Font /Subtype /Type1 /BaseFont /Helvetica /Encoding /WinAnsiEncoding >>"
    fonts = b"<< /Font << /F1 " + font + b" >> >>"
    parts = [
        b"<< /Type /Catalog /Pages 2 0 R >>",
        b"<< /Type /Pages /Kids [3 0 R] /Count 1 >>",
        b"<< /Type /Page /Parent 2 0 R /MediaBox [0 0 %d %d] /Contents 4 0 R /Resources " % A4
        + fonts
        + b" >>",
        b"<< /Length %d >>\nstream\n" % len(drawn) + drawn + b"\nendstream",
    ]
    body, places = b"%PDF-1.4\n", []
    for number, part in enumerate(parts, start=1):
        places.append(len(body))
        body += b"%d 0 obj\n" % number + part + b"\nendobj\n"
    size = len(parts) + 1
    table = b"xref\n0 %d\n0000000000 65535 f \n" % size + b"".join(b"%010d 00000 n \n" % at for at in places)
    ends = b"trailer\n<< /Size %d /Root 1 0 R >>\nstartxref\n%d\n%%%%EOF\n" % (size, len(body))
    return body + table + ends


def _line(curve: Sequence[tuple[float, float]]) -> str:
    """The curve on a field of 475 × 300 points, time along, temperature up from 0 to 150 °C."""
    if not curve:
        return ""
    last = max(seconds for seconds, _ in curve) or 1
    points = [(60 + 475 * seconds / last, 300 + 2 * celsius) for seconds, celsius in curve]
    frame = "0.5 w 60 300 m 60 600 l 535 600 l 535 300 l s 60 540 m 535 540 l S 1.4 w "
    first, *rest = points
    return frame + f"{first[0]:.1f} {first[1]:.1f} m " + "".join(f"{x:.1f} {y:.1f} l " for x, y in rest) + "S"


def hand_in(walk: Walk, kind: str, who: str, content: bytes) -> str:
    """Hand a paper in with a record; its hash."""
    taken = take_in_paper([content])
    acting = walk.acting(who)
    hand_in_paper(
        acting=acting,
        mounting=walk.mounting,
        entry_id=new_id(),
        kind=kind,
        sha256=taken.sha256,
        size=taken.size,
        media=taken.photo.media,
    )
    receive_file(acting=acting, mounting=walk.mounting, taken=taken)
    return taken.sha256

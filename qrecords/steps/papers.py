"""Papers handed in with a record: what an act of authority rests on besides the readings."""

from dataclasses import dataclass
from datetime import datetime

LETTER, REPORT, CURVE = "customer-letter", "laboratory-report", "heating-curve"
CERTIFICATE, ARGUMENT = "calibration-certificate", "engineers-argument"
PAPERS = (LETTER, REPORT, CURVE, CERTIFICATE, ARGUMENT)
"""The shots of attachments that are papers: a PDF, or a photograph of the sheet."""


@dataclass(frozen=True)
class Enclosure:
    """One paper, known by its hash; `received` once its bytes are here and could be read."""

    kind: str
    sha256: str
    entry: str
    author: str
    at: datetime
    received: bool
    after_signature: bool

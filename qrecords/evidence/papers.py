"""Is this file a paper that can be read in years: a PDF that is whole, or a photograph of the sheet? Decided
by its content, never by its name. A PDF is only handed out, never opened here."""

import re
from pathlib import Path

from qrecords.evidence.errors import FileRefusedError
from qrecords.evidence.examine import Photo, examine
from qrecords.evidence.foreign import seems_to_be

PDF = "application/pdf"
MOST_BYTES = 10_000_000
HEAD = re.compile(rb"^%PDF-(1\.[0-7]|2\.0)[\r\n ]")
# ISO 32000-1:2008, 7.5.5: the last lines are startxref, the byte offset of the last table, and %%EOF.
TAIL = re.compile(rb"startxref\s+([0-9]{1,10})\s+%%EOF")
TAIL_BYTES = 2048


def examine_paper(path: Path) -> Photo:
    """What a paper says of itself. Raises FileRefusedError `not-a-paper`, `damaged` or `locked`, or what a
    photograph is refused for."""
    with path.open("rb") as file:
        head = file.read(512)
    if not head.startswith(b"%PDF"):
        if seems_to_be(head) not in ("unknown", "video"):
            raise FileRefusedError("not-a-paper", found=seems_to_be(head))
        return examine(path)
    content = path.read_bytes()
    ends = TAIL.findall(content[-TAIL_BYTES:])
    whole = HEAD.match(head) and ends and int(ends[-1]) < len(content)
    if not whole:
        raise FileRefusedError("damaged", size_bytes=len(content))
    if re.search(rb"/Encrypt\b", content):
        raise FileRefusedError("locked")
    return Photo(PDF, 0, 0, None, None)

"""What a refused file seems to be, so that the refusal can say it. Nothing is ever accepted by this guess."""

_BEGINNINGS = (
    (b"%PDF", "PDF"),
    (b"PK\x03\x04", "ZIP"),
    (b"GIF8", "GIF"),
    (b"II*\x00", "TIFF"),
    (b"MM\x00*", "TIFF"),
    (b"BM", "BMP"),
    (b"\x1aE\xdf\xa3", "video"),
)
_MARKUP = ((b"<svg", "SVG"), (b"<html", "HTML"), (b"<!doctype html", "HTML"), (b"<script", "HTML"))


def seems_to_be(head: bytes) -> str:
    """Name the kind of file that begins with `head` (its first few hundred bytes), or `unknown`."""
    for beginning, name in _BEGINNINGS:
        if head.startswith(beginning):
            return name
    lowered = head.lower()
    for mark, name in _MARKUP:
        if mark in lowered:
            return name
    if head[4:8] == b"ftyp":
        return "video"
    try:
        text = head.decode("utf-8", errors="strict" if len(head) < 4 else "ignore")
    except UnicodeDecodeError:
        return "unknown"
    # A sliced character at the end is forgiven, control characters are not.
    kept = sum(character.isprintable() or character in "\r\n\t" for character in text)
    return "text" if text and kept == len(text) and len(text.encode()) >= len(head) - 3 else "unknown"

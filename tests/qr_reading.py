"""Reading a QR code (ISO/IEC 18004, model 2, versions 1 to 10, level M, byte mode) by another way than it was
made: module by module from its picture. It mends no error; a wrong module spoils what is read."""

import re
from collections.abc import Iterator

Matrix = list[list[bool]]
BLOCKS_M: dict[int, tuple[tuple[int, int], ...]] = {
    1: ((1, 16),), 2: ((1, 28),), 3: ((1, 44),), 4: ((2, 32),), 5: ((2, 43),), 6: ((4, 27),),
    7: ((4, 31),), 8: ((2, 38), (2, 39)), 9: ((3, 36), (2, 37)), 10: ((4, 43), (1, 44)),
}  # fmt: skip
"""Version → (how many blocks, data codewords in each), level M: table 9 of the standard, from memory."""
ALIGNED = {1: (), 2: (6, 18), 3: (6, 22), 4: (6, 26), 5: (6, 30), 6: (6, 34), 7: (6, 22, 38),
           8: (6, 24, 42), 9: (6, 26, 46), 10: (6, 28, 50)}  # fmt: skip
MASKS = (
    lambda r, c: (r + c) % 2 == 0,
    lambda r, c: r % 2 == 0,
    lambda r, c: c % 3 == 0,
    lambda r, c: (r + c) % 3 == 0,
    lambda r, c: (r // 2 + c // 3) % 2 == 0,
    lambda r, c: (r * c) % 2 + (r * c) % 3 == 0,
    lambda r, c: ((r * c) % 2 + (r * c) % 3) % 2 == 0,
    lambda r, c: ((r + c) % 2 + (r * c) % 3) % 2 == 0,
)
FORMAT_MASK = 0b101010000010010
LEVEL_M = 0b00


def of_svg(svg: str) -> Matrix:
    """The modules of a code drawn as horizontal strokes half a module below each row's edge."""
    size = int(re.search(r'viewBox="0 0 (\d+) (\d+)"', svg)[1])  # type: ignore[index]
    path = re.search(r' d="([^"]+)"', svg)[1]  # type: ignore[index]
    found = [[False] * size for _ in range(size)]
    x = y = 0.0
    for command, numbers in re.findall(r"([Mmh])([-\d. ]+)", path):
        values = [float(each) for each in re.findall(r"-?\d*\.?\d+", numbers)]
        if command == "h":
            for step in range(int(values[0])):
                found[int(y)][int(x) + step] = True
            x += values[0]
        else:
            x, y = (values[0], values[1]) if command == "M" else (x + values[0], y + values[1])
    return found


def read(matrix: Matrix) -> str:
    size = len(matrix)
    version = (size - 17) // 4
    told = _format(matrix)
    assert told >> 13 == LEVEL_M
    mask = MASKS[told >> 10 & 0b111]
    bits = [matrix[r][c] ^ mask(r, c) for r, c in _data_places(size, version)]
    words = [int("".join("01"[b] for b in bits[i : i + 8]), 2) for i in range(0, len(bits) - 7, 8)]
    data = "".join(f"{word:08b}" for word in _put_together(words, version))
    assert data[:4] == "0100", "byte mode"
    counted = 16 if version > 9 else 8
    length = int(data[4 : 4 + counted], 2)
    text = data[4 + counted : 4 + counted + 8 * length]
    return bytes(int(text[i : i + 8], 2) for i in range(0, len(text), 8)).decode()


def _format(matrix: Matrix) -> int:
    places = [(8, c) for c in (0, 1, 2, 3, 4, 5, 7, 8)] + [(r, 8) for r in (7, 5, 4, 3, 2, 1, 0)]
    return int("".join("01"[matrix[r][c]] for r, c in places), 2) ^ FORMAT_MASK


def _is_function(r: int, c: int, size: int, version: int) -> bool:
    """Finders with their formats, timing, alignment and version."""
    if (r < 9 and c < 9) or (r < 9 and c >= size - 8) or (r >= size - 8 and c < 9) or 6 in (r, c):
        return True
    if version >= 7 and ((r < 6 and c >= size - 11) or (c < 6 and r >= size - 11)):
        return True
    corners = {(6, 6), (6, size - 7), (size - 7, 6)}
    centres = [(a, b) for a in ALIGNED[version] for b in ALIGNED[version] if (a, b) not in corners]
    return any(abs(r - a) <= 2 and abs(c - b) <= 2 for a, b in centres)


def _data_places(size: int, version: int) -> Iterator[tuple[int, int]]:
    """Two columns at a time from the right, upwards and downwards in turn."""
    up, right = True, size - 1
    while right > 0:
        right -= right == 6
        for step in range(size):
            r = size - 1 - step if up else step
            for c in (right, right - 1):
                if not _is_function(r, c, size, version):
                    yield r, c
        up, right = not up, right - 2


def _put_together(words: list[int], version: int) -> list[int]:
    lengths = [length for count, length in BLOCKS_M[version] for _ in range(count)]
    blocks: list[list[int]] = [[] for _ in lengths]
    stream = iter(words)
    for place in range(max(lengths)):
        for block, length in zip(blocks, lengths, strict=True):
            if place < length:
                block.append(next(stream))
    return [word for block in blocks for word in block]

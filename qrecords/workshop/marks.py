"""The workshop mark: six characters and a check character, for plate and label, easy to read aloud.

No 0/O, 1/I/L, U or vowels that make words; the check character catches every single wrong character and
every swap of neighbours (a weighted sum modulo the prime 23 over the alphabet's places).
"""

import secrets

ALPHABET = "2346789BCDFGHJKMNPQRTWX"
assert len(ALPHABET) == 23  # noqa: S101 - the check needs a prime


def check_character(six: str) -> str:
    total = sum((place + 2) * ALPHABET.index(character) for place, character in enumerate(six))
    return ALPHABET[total % 23]


def new_mark() -> str:
    six = "".join(secrets.choice(ALPHABET) for _ in range(6))
    return six + check_character(six)


def is_mark(text: str) -> bool:
    """Whether a text is a whole mark with the right check character."""
    text = text.strip().upper()
    if len(text) != 7 or any(character not in ALPHABET for character in text):
        return False
    return check_character(text[:6]) == text[6]

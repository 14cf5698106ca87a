"""What a reader saw on the photographed display: remembered in the session, recorded nowhere."""

import uuid
from collections.abc import Mapping
from typing import Any

DISPLAYS = "displays read"
"""Session key: mounting id → what the reader saw on the display of its photo."""
MOST = 200


def heard(session: Mapping[str, Any], mounting: uuid.UUID) -> str:
    """What was read off the display in this session; '' if not yet."""
    return str(session.get(DISPLAYS, {}).get(str(mounting), ""))


def with_heard(session: Mapping[str, Any], mounting: uuid.UUID, said: str) -> dict[str, str]:
    """What the session remembers then, the oldest forgotten."""
    read = {**session.get(DISPLAYS, {}), str(mounting): said}
    return dict(list(read.items())[-MOST:])

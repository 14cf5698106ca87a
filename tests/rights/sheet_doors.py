"""How a sheet is taken in at the pages and at the API, each naming the site."""

import base64
import hashlib
from collections.abc import Callable

from qrecords.people.permissions import Action
from tests.rights.scenes import Came, Door, Hand
from tests.workshop.sheets import BEARINGS, GAUGES, ORDERS, PEOPLE


def _said(text: str) -> dict[str, str]:
    raw = text.encode()
    return {"content": base64.b64encode(raw).decode(), "sha256": hashlib.sha256(raw).hexdigest()}


def _page(name: str, text: str) -> Callable[[Hand], Came]:
    return lambda hand: hand.form(name, site=hand.job.shop.site, **_said(text))


def _address(address: str, text: str) -> Callable[[Hand], Came]:
    return lambda hand: hand.post(address, site=str(hand.job.shop.site), **_said(text))


SHEET_DOORS = (
    Door(Action.REGISTER, "import-orders", _page("import-orders", ORDERS), leaves="import"),
    Door(Action.REGISTER, "import-bearings", _page("import-bearings", BEARINGS), leaves="import"),
    Door(Action.EQUIP, "import-gauges", _page("import-gauges", GAUGES), leaves="import"),
    Door(Action.PEOPLE, "import-people", _page("import-people", PEOPLE), leaves="import"),
)
SHEETS = {
    "work-orders": (Action.REGISTER, ORDERS),
    "bearings": (Action.REGISTER, BEARINGS),
    "gauges": (Action.EQUIP, GAUGES),
}
SHEET_DOORS_OF_API = tuple(
    Door(right, f"POST imports/{name}/", _address(f"imports/{name}/", text), leaves="import")
    for name, (right, text) in SHEETS.items()
)
NO_ACTS_OF_API = {
    f"POST imports/{name}/dry-run/": "it tells what rows would do; nothing is written" for name in SHEETS
}

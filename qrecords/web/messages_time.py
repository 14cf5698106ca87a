"""Sentences for what the times of a record say beside each other."""

from collections.abc import Mapping

from django.utils.translation import gettext_noop as _

TIME_FINDINGS: Mapping[str, str] = {
    "order-in-time.told-late": _(
        "{count} first told when the ring was already on.|Measured before and typed after, or from memory?"
    ),
    "order-in-time.told-early": _("{count} told before the ring was on.|Of which ring, and of which day?"),
    "heat-time.conforming": _("{rise_mk:k} in {took_ms:s},|at least ({least_ms:s}) with {power_w} W."),
    "heat-time.query": _(
        "{rise_mk:k} in {took_ms:s}:|with {power_w} W at least ({least_ms:s}). Another heating, "
        "or another ring?"
    ),
}

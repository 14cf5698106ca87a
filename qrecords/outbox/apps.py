"""Wiring of the outbox into Django."""

from django.apps import AppConfig


class OutboxConfig(AppConfig):
    name = "qrecords.outbox"

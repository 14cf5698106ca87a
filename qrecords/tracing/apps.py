from django.apps import AppConfig


class TracingConfig(AppConfig):
    name = "qrecords.tracing"
    label = "tracing"

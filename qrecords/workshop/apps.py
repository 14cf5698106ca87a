from django.apps import AppConfig


class WorkshopConfig(AppConfig):
    name = "qrecords.workshop"
    label = "workshop"

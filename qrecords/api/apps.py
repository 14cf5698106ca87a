from django.apps import AppConfig


class ApiConfig(AppConfig):
    name = "qrecords.api"
    label = "api"

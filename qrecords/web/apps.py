from django.apps import AppConfig


class WebConfig(AppConfig):
    name = "qrecords.web"
    label = "web"

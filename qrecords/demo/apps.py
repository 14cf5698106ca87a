from django.apps import AppConfig


class DemoConfig(AppConfig):
    name = "qrecords.demo"
    label = "demo"

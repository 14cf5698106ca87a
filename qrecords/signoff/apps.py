from django.apps import AppConfig


class SignoffConfig(AppConfig):
    name = "qrecords.signoff"
    label = "signoff"

from django.apps import AppConfig


class MountingsConfig(AppConfig):
    name = "qrecords.mountings"
    label = "mountings"

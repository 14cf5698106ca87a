from django.apps import AppConfig


class PeopleConfig(AppConfig):
    name = "qrecords.people"
    label = "people"

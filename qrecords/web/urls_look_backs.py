"""Addresses of look-backs."""

from django.urls import URLPattern, URLResolver, path

from qrecords.web.views import look_backs

ONE = "look-backs/<uuid:id>/"
urlpatterns: list[URLPattern | URLResolver] = [
    path("look-backs/", look_backs.look_backs, name="look-backs"),
    path("look-backs/new/", look_backs.look_back_new, name="look-back-new"),
    path(ONE, look_backs.look_back, name="look-back"),
    path(f"{ONE}end/", look_backs.look_back_end, name="look-back-end"),
    path(f"{ONE}<uuid:mounting>/", look_backs.look_back_mounting, name="look-back-mounting"),
    path(f"{ONE}<uuid:mounting>/action/", look_backs.look_back_action, name="look-back-action"),
    path(f"{ONE}<uuid:mounting>/answer/", look_backs.look_back_answer, name="look-back-answer"),
]

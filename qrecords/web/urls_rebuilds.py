"""Addresses of work orders and their rebuilds."""

from django.urls import URLPattern, URLResolver, path

from qrecords.web.views import rebuilds

urlpatterns: list[URLPattern | URLResolver] = [
    path("rebuilds/<uuid:id>/", rebuilds.rebuild, name="rebuild"),
    path("rebuilds/<uuid:id>/release/", rebuilds.rebuild_release, name="rebuild-release"),
]

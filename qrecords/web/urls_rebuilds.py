"""Addresses of work orders and their rebuilds, and of what goes out whole."""

from django.urls import URLPattern, URLResolver, path

from qrecords.web.views import exports, rebuilds

urlpatterns: list[URLPattern | URLResolver] = [
    path("rebuilds/<uuid:id>/", rebuilds.rebuild, name="rebuild"),
    path("rebuilds/<uuid:id>/release/", rebuilds.rebuild_release, name="rebuild-release"),
    path("export/", exports.export_everything, name="export-everything"),
    path("export/<uuid:id>/", exports.export_file, name="export-file"),
]

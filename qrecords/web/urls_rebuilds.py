"""Addresses of work orders and their rebuilds, and of what goes out whole or comes in as a sheet."""

from django.urls import URLPattern, URLResolver, path

from qrecords.web.views import exports, imports, rebuilds

urlpatterns: list[URLPattern | URLResolver] = [
    path("rebuilds/<uuid:id>/", rebuilds.rebuild, name="rebuild"),
    path("rebuilds/<uuid:id>/release/", rebuilds.rebuild_release, name="rebuild-release"),
    path("rebuilds/<uuid:id>/certificate/", rebuilds.rebuild_certificate, name="rebuild-certificate"),
    path("import/work-orders/", imports.import_orders, name="import-orders"),
    path("import/bearings/", imports.import_bearings, name="import-bearings"),
    path("import/gauges/", imports.import_gauges, name="import-gauges"),
    path("import/people/", imports.import_people, name="import-people"),
    path("export/", exports.export_everything, name="export-everything"),
    path("export/<uuid:id>/", exports.export_file, name="export-file"),
]

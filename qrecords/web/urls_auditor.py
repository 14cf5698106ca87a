"""Addresses of the auditor's pages."""

from django.urls import URLPattern, URLResolver, path

from qrecords.web.views import auditor, auditor_damage, auditor_proof

urlpatterns: list[URLPattern | URLResolver] = [
    path("search/", auditor.search, name="search"),
    path("bearings/<uuid:id>/", auditor.bearing_life, name="bearing-life"),
    path("damage/", auditor_damage.damages, name="damages"),
    path("damage/<slug:damage>/", auditor_damage.damage, name="damage"),
    path("mountings/<uuid:id>/damage/", auditor_damage.choose, name="mounting-damage"),
    path("mountings/<uuid:id>/damage/<slug:damage>/", auditor_damage.suspected, name="suspects"),
    path("shared/<slug:what>/<path:of>/", auditor_damage.shared_by, name="shared"),
    path("mountings/<uuid:id>/trace/", auditor.mounting_trace, name="mounting-trace"),
    path("entries/<uuid:id>/", auditor_proof.entry, name="entry"),
    path("equipment/<uuid:id>/", auditor_proof.equipment_uses, name="equipment-uses"),
    path("verify/", auditor_proof.verify, name="verify"),
]

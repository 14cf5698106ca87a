"""Every address of qrecords, by part."""

from django.conf import settings
from django.urls import URLPattern, URLResolver, include, path

from qrecords.web.lookbook import lookbook

urlpatterns: list[URLPattern | URLResolver] = [
    path("api/v1/", include("qrecords.api.urls")),
    path("", include("qrecords.web.urls")),
]
if settings.DEBUG:
    urlpatterns += [path("look/", lookbook), path("look/<str:name>/", lookbook)]

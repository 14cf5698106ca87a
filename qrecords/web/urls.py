"""Every page, by role. An address without a door fails a test."""

from django.urls import include, path, re_path

from qrecords.web.views import entrance, own_password, photo, planner, planner_readings

ID = "[0-9a-f]{8}(-[0-9a-f]{4}){3}-[0-9a-f]{12}"
PHOTO = rf"^mountings/(?P<mounting_id>{ID})/photos/(?P<sha256>[0-9a-f]{{64}})/(?P<size>1600|320|original)/$"

urlpatterns = [
    path("", entrance.start, name="start"),
    path("healthz", entrance.healthz, name="healthz"),
    path("sign-in/", entrance.sign_in, name="sign-in"),
    path("sign-out/", entrance.sign_out, name="sign-out"),
    path("own-password/", own_password.own_password, name="own-password"),
    path("planner/", planner.planner, name="planner"),
    path("planner/series/", planner_readings.readings_in_series, name="series"),
    path("planner/gauge-study/", planner_readings.gauge_study, name="gauge-study"),
    re_path(PHOTO, photo.photo, name="photo"),
    path("", include("qrecords.web.urls_inspector")),
    path("", include("qrecords.web.urls_auditor")),
    path("", include("qrecords.web.urls_registers")),
    path("", include("qrecords.web.urls_rebuilds")),
    path("", include("qrecords.web.urls_look_backs")),
    # Last, because it takes any step's name as the end of a mounting's address.
    path("", include("qrecords.web.urls_fitter")),
]

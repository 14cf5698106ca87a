"""Every page, by role. An address without a door fails a test."""

from django.urls import include, path

from qrecords.web.views import entrance, own_password

urlpatterns = [
    path("", entrance.start, name="start"),
    path("healthz", entrance.healthz, name="healthz"),
    path("sign-in/", entrance.sign_in, name="sign-in"),
    path("sign-out/", entrance.sign_out, name="sign-out"),
    path("own-password/", own_password.own_password, name="own-password"),
    path("", include("qrecords.web.urls_inspector")),
    path("", include("qrecords.web.urls_auditor")),
    path("", include("qrecords.web.urls_registers")),
    # Last, because it takes any step's name as the end of a mounting's address.
    path("", include("qrecords.web.urls_fitter")),
]

"""Addresses of the inspector's and engineer's pages and of the certificate."""

from django.urls import URLPattern, URLResolver, path

from qrecords.web.views import (
    certificate,
    inspector,
    inspector_acts,
    inspector_answers,
    inspector_measuring,
    inspector_papers,
    inspector_telephone,
    journals,
)

RECORD = "mountings/<uuid:mounting>/"

urlpatterns: list[URLPattern | URLResolver] = [
    path("waiting/", inspector.waiting, name="waiting"),
    path(RECORD + "inspect/", inspector.record, name="inspect"),
    path(RECORD + "display/", inspector.read_display, name="read-display"),
    path(RECORD + "own-reading/", inspector_acts.own_reading, name="own-reading"),
    path(RECORD + "release/", inspector_acts.release, name="release"),
    path(RECORD + "look/", inspector_acts.look, name="look"),
    path(RECORD + "sign/", inspector_acts.sign, name="sign"),
    path(RECORD + "re-review/", inspector_acts.review_again, name="re-review"),
    path(RECORD + "decide/", inspector_answers.decide, name="decide"),
    path(RECORD + "note/", inspector_answers.note, name="note"),
    path(RECORD + "own-measurement/", inspector_measuring.own_measurement, name="own-measurement"),
    path(RECORD + "right-drawing/", journals.right_drawing, name="right-drawing"),
    path("journals/<uuid:id>/", journals.journal, name="journal"),
    path(RECORD + "papers/", inspector_papers.papers, name="papers"),
    path(RECORD + "return/", inspector_answers.give_back, name="return"),
    path("release-by-telephone/", inspector_telephone.release_by_telephone, name="release-by-telephone"),
    path(RECORD + "telephone/<uuid:entry>/", inspector_telephone.answer, name="telephone-answer"),
    path(RECORD + "amend/", inspector_answers.amend_record, name="amend"),
    path(RECORD + "certificate/", certificate.certificate, name="certificate"),
    path(RECORD + "certificate/<int:version>/", certificate.certificate, name="certificate-version"),
]

"""Addresses of the fitter pages."""

from django.urls import URLPattern, URLResolver, path, re_path

from qrecords.web.fitter.screens import SCREENS
from qrecords.web.views import (
    fitter_capture,
    fitter_handing,
    fitter_hold,
    fitter_hot,
    fitter_list,
    fitter_log,
    fitter_open,
    fitter_paper,
    fitter_photos,
    fitter_sheet,
    fitter_shift,
    fitter_withdraw,
    label,
    photo_marks,
    points,
)

ONE = "mountings/<uuid:mounting_id>/"

urlpatterns: list[URLPattern | URLResolver] = [
    path("mountings/", fitter_list.my_mountings, name="my-mountings"),
    path("mountings/new/", fitter_open.new_mounting, name="new-mounting"),
    path(ONE, fitter_list.mounting, name="mounting"),
    path(f"{ONE}again/", fitter_list.start_again, name="start-again"),
    *(
        path(f"{ONE}{name}/", fitter_capture.capture, {"screen_name": name}, name=f"fit-{name}")
        for name in SCREENS
    ),
    path(f"{ONE}hot/", fitter_hot.hot_page, name="hot"),
    path(f"{ONE}after-heat/", fitter_hot.after_heat, name="after-heat"),
    path(f"{ONE}release/<str:hold>/", fitter_hold.release_here, name="release-here"),
    path(f"{ONE}ready/", fitter_hold.ready_here, name="ready-here"),
    path(f"{ONE}label/", label.label, name="label"),
    path(f"{ONE}hand-over/", fitter_handing.hand_over_here, name="hand-over"),
    path(f"{ONE}withdraw/", fitter_withdraw.withdraw_here, name="withdraw"),
    path(f"{ONE}sheet/", fitter_sheet.sheet, name="sheet"),
    path(f"{ONE}heating-log/", fitter_log.heating_log, name="heating-log"),
    path(f"{ONE}heating-log/<str:sha256>/", fitter_log.say_of_log, name="say-of-log"),
    path("shift-start/", fitter_shift.shift_start, name="shift-start"),
    path("paper-sheet/", fitter_paper.blank_paper, name="blank-paper"),
    path(f"{ONE}paper/", fitter_paper.print_paper, name="print-paper"),
    path(f"{ONE}from-paper/", fitter_paper.from_paper, name="from-paper"),
    path(f"{ONE}from-paper/taps/", fitter_paper.paper_taps, name="paper-taps"),
    re_path(
        r"^mountings/(?P<mounting_id>[0-9a-f-]{36})/photos/(?P<sha256>[0-9a-f]{64})/marks/$",
        photo_marks.photo_marks,
        name="photo-marks",
    ),
    path(f"{ONE}points/", points.points, name="points"),
    path(f"{ONE}points/say/", points.point_say, name="point-say"),
    path(f"{ONE}points/waive/", points.point_waive, name="point-waive"),
    path(f"{ONE}photos/", fitter_photos.photos, name="photos"),
    path(f"{ONE}<slug:step_id>/", fitter_list.step, name="step"),
]

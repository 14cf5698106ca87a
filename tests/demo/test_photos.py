"""The drawn photographs are photographs to the rest of the house, and differ where their claims do."""

import io
from collections.abc import Callable
from datetime import datetime, timedelta, timezone
from functools import partial
from pathlib import Path

import pytest
from PIL import Image, ImageChops
from pytest_django import Settings

from qrecords.demo import photos
from qrecords.evidence.intake import take_in

TAKEN_AT = datetime(2026, 6, 4, 10, 12, 40, tzinfo=timezone(timedelta(hours=2)))
Drawn = Callable[..., bytes]
EVERY_KIND: dict[str, Drawn] = {
    "micrometer": partial(photos.micrometer, "130.055", mark="B 60°"),
    "ring marking": partial(photos.ring_marking, "22326 C4 S1", inside="rollers"),
    "box label": partial(photos.box_label, "6312 C3", "L-7741"),
    "seat": partial(photos.seat, journal="journal DE"),
    "feeler that enters": partial(photos.feeler, "0.05", angle_deg=90, enters=True),
    "feeler that does not": partial(photos.feeler, "0.03", angle_deg=0, enters=False),
    "probe": partial(photos.probe, "104.2", inside="seal"),
    "field meter": partial(photos.field_meter, "-6.4", inside="inner ring"),
    "pair": partial(photos.pair, arrangement="back to back"),
    "nut": photos.held_by_nut,
    "wrapped": partial(photos.wrapped_shaft, "WO 26-0198"),
}


@pytest.mark.parametrize("name", EVERY_KIND)
def test_every_drawn_photo_passes_intake_with_its_time_and_camera(
    name: str, tmp_path: Path, settings: Settings
) -> None:
    settings.EVIDENCE_DIR = tmp_path
    photo = take_in([EVERY_KIND[name](taken_at=TAKEN_AT)]).photo
    assert (photo.media, photo.width_px, photo.height_px) == ("image/jpeg", 1600, 1200)
    assert photo.taken_at == "2026:06:04 10:12:40 +02:00"
    assert photo.camera == "Fenmark shop tablet 3"


def test_the_same_claim_is_drawn_to_the_same_bytes() -> None:
    draw = partial(photos.micrometer, "80.009", taken_at=TAKEN_AT, mark="A 0°")
    assert draw() == draw()


# Where each picture must change when its claim changes: left, top, right, bottom in px.
@pytest.mark.parametrize(
    ("one", "other", "where"),
    [
        (partial(photos.micrometer, "80.009"), partial(photos.micrometer, "80.012"), (1000, 390, 1525, 575)),
        (
            partial(photos.pair, arrangement="back to back"),
            partial(photos.pair, arrangement="face to face"),
            (400, 140, 1170, 1060),
        ),
        (partial(photos.probe, "134"), partial(photos.probe, "114"), (1110, 310, 1500, 530)),
        (partial(photos.field_meter, "6.4"), partial(photos.field_meter, "1.2"), (1110, 350, 1500, 570)),
        (
            partial(photos.ring_marking, "6312 C3"),
            partial(photos.ring_marking, "6312 C2"),
            (300, 130, 1300, 460),
        ),
        (
            partial(photos.feeler, "0.05", angle_deg=90, enters=True),
            partial(photos.feeler, "0.08", angle_deg=90, enters=True),
            (1000, 620, 1400, 860),
        ),
    ],
)  # fmt: skip
def test_another_value_changes_the_display_and_little_else(
    one: Drawn, other: Drawn, where: tuple[int, int, int, int]
) -> None:
    inside, outside = changed(one(taken_at=TAKEN_AT), other(taken_at=TAKEN_AT), where)
    assert inside > 300
    assert outside == 0


def changed(one: bytes, other: bytes, where: tuple[int, int, int, int]) -> tuple[int, int]:
    """Pixels that clearly differ inside and outside an area; camera noise and JPEG are far below."""
    pictures = [Image.open(io.BytesIO(content)).convert("L") for content in (one, other)]
    clear = ImageChops.difference(*pictures).point(lambda value: 255 if value > 40 else 0)
    whole, inside = clear.histogram()[255], clear.crop(where).histogram()[255]
    return inside, whole - inside


def test_the_probe_is_drawn_on_the_ring_it_is_said_to_be_on() -> None:
    """Brass, the colour of the probe's magnet, appears nowhere else in the picture."""
    on_inner = brass(photos.probe("134", taken_at=TAKEN_AT, on_inner_ring=True))
    on_outer = brass(photos.probe("114", taken_at=TAKEN_AT, on_inner_ring=False))
    centre, outer = (520, 640), 500
    assert 0.48 * outer < distance(on_inner, centre) < 0.66 * outer
    assert 0.84 * outer < distance(on_outer, centre) < outer


def brass(content: bytes) -> tuple[float, float]:
    picture = Image.open(io.BytesIO(content)).convert("RGB").reduce(4)
    places = [
        (x * 4 + 2, y * 4 + 2)
        for y in range(picture.height)
        for x in range(picture.width)
        if is_brass(picture.getpixel((x, y)))
    ]
    xs, ys = [x for x, _ in places], [y for _, y in places]
    return (min(xs) + max(xs)) / 2, (min(ys) + max(ys)) / 2


def is_brass(pixel: object) -> bool:
    assert isinstance(pixel, tuple)
    red, green, blue = pixel
    return bool(red > 120 and red - blue > 70 and green - blue > 40)


def distance(a: tuple[float, float], b: tuple[float, float]) -> float:
    return float(((a[0] - b[0]) ** 2 + (a[1] - b[1]) ** 2) ** 0.5)


def test_a_feeler_that_enters_stands_in_an_open_seam_and_another_before_a_closed_one() -> None:
    def seam_px(content: bytes) -> int:
        row = Image.open(io.BytesIO(content)).convert("L").crop((600, 900, 700, 901))
        return sum(value < 40 for value in row.tobytes())

    entering = photos.feeler("0.05", taken_at=TAKEN_AT, angle_deg=90, enters=True)
    stopping = photos.feeler("0.05", taken_at=TAKEN_AT, angle_deg=90, enters=False)
    assert seam_px(entering) >= 8
    assert seam_px(stopping) <= 5


def test_a_long_marking_is_stamped_smaller_and_stays_whole() -> None:
    """What is cut at the edge of the picture cannot be compared with the drawing, letter by letter."""
    stamped, plain = (
        Image.open(io.BytesIO(photos.ring_marking(text, taken_at=TAKEN_AT))).convert("L")
        for text in ("NU 1024 C4 S1 matched pair A", " ")
    )
    difference = ImageChops.difference(stamped, plain).point(lambda value: 255 if value > 40 else 0)
    left, _, right, _ = difference.getbbox() or (0, 0, 0, 0)
    assert 60 < left < 300
    assert 1300 < right < 1540


def test_long_texts_and_numbers_are_drawn_without_fail() -> None:
    long = "NU 1024 C4 S1 matched pair A"
    for draw in (
        partial(photos.box_label, long, "lot " * 6),
        partial(photos.wrapped_shaft, long),
        partial(photos.micrometer, "-1234.5678"),
    ):
        assert Image.open(io.BytesIO(draw(taken_at=TAKEN_AT))).size == (1600, 1200)

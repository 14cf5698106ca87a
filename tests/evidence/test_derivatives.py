"""What is shown: upright, in sRGB, small, and without anything that tells the place."""

import io
from collections.abc import Callable

import pytest
from PIL import Image, ImageCms

from qrecords.evidence import derivatives, storage
from qrecords.evidence.intake import take_in
from tests.evidence.conftest import located_exif, memory_rise, scene

Encoded = Callable[..., bytes]
FORMATS = ["JPEG", "PNG", "WEBP", "HEIF"]


def shown(content: bytes, edge_px: int = 320) -> Image.Image:
    return Image.open(io.BytesIO(shown_bytes(content, edge_px)))


def shown_bytes(content: bytes, edge_px: int = 320) -> bytes:
    sha256 = take_in([content]).sha256
    derivatives.make(sha256)
    return storage.derived(sha256, edge_px, derivatives.RECIPE).read_bytes()


def near(pixel: object, colour: tuple[int, int, int]) -> bool:
    assert isinstance(pixel, tuple)
    return all(abs(a - b) < 30 for a, b in zip(pixel, colour, strict=True))


@pytest.mark.parametrize("kind", FORMATS)
def test_the_longer_edge_is_1600_and_320_px(kind: str, encoded: Encoded) -> None:
    content = encoded(kind, scene(2000, 1500))
    assert shown(content, 1600).size == (1600, 1200)
    assert shown(content, 320).size == (320, 240)
    assert shown(content, 320).format == "JPEG"


@pytest.mark.parametrize("kind", ["MPO", "PNG", "WEBP", "HEIF"])
def test_of_several_pictures_in_one_file_the_first_is_shown(kind: str, encoded: Encoded) -> None:
    second = Image.new("RGB", (600, 450), "white")
    content = encoded(kind, scene(600, 450), save_all=True, append_images=[second])
    assert near(shown(content).getpixel((10, 10)), (200, 20, 20))


def test_a_small_photo_is_not_enlarged(encoded: Encoded) -> None:
    assert shown(encoded("JPEG", scene(200, 150)), 1600).size == (200, 150)


def test_a_photo_one_pixel_high_has_a_picture(encoded: Encoded) -> None:
    assert shown(encoded("PNG", scene(3000, 1)), 320).size == (320, 1)


@pytest.mark.parametrize("kind", FORMATS)
@pytest.mark.parametrize("orientation", range(1, 9))
def test_the_picture_stands_upright(kind: str, orientation: int, encoded: Encoded) -> None:
    """The scene is red above left when upright; the file holds it turned, as EXIF 274 says (CIPA DC-008)."""
    turn = {
        2: Image.Transpose.FLIP_LEFT_RIGHT,
        3: Image.Transpose.ROTATE_180,
        4: Image.Transpose.FLIP_TOP_BOTTOM,
        5: Image.Transpose.TRANSPOSE,
        6: Image.Transpose.ROTATE_90,
        7: Image.Transpose.TRANSVERSE,
        8: Image.Transpose.ROTATE_270,
    }
    upright = scene(1200, 900)
    if kind == "HEIF":  # its container turns the picture itself
        content = encoded(kind, upright, exif=located_exif())
    else:
        stored = upright.transpose(turn[orientation]) if orientation > 1 else upright
        content = encoded(kind, stored, exif=located_exif(orientation))
    picture = shown(content)
    assert picture.size == (320, 240)
    assert near(picture.getpixel((10, 10)), (200, 20, 20))
    assert near(picture.getpixel((310, 230)), (20, 20, 200))


@pytest.mark.parametrize("kind", FORMATS)
@pytest.mark.parametrize("edge_px", derivatives.EDGES_PX)
def test_no_byte_of_place_time_camera_or_comment_is_left(kind: str, edge_px: int, encoded: Encoded) -> None:
    xmp = b"<x:xmpmeta xmlns:x='adobe:ns:meta/'><exif:GPSLatitude>47,31.2N</exif:GPSLatitude></x:xmpmeta>"
    options: dict[str, object] = {"exif": located_exif(6)}
    if kind == "JPEG":
        options |= {"comment": b"at the <script>alert(1)</script> mill", "xmp": xmp}
    elif kind != "PNG":
        options["xmp"] = xmp
    content = encoded(kind, scene(2000, 1500), **options)
    original = Image.open(io.BytesIO(content))
    assert 0x8825 in original.getexif()  # the place is in what was sent
    left = shown_bytes(content, edge_px)
    for trace in (b"Exif", b"GPS", b"2026:06:04", b"Kestrel", b"script", b"xmp", b"http://ns.", b"\xff\xfe"):
        assert trace not in left.split(b"\xff\xda")[0], trace
    with Image.open(io.BytesIO(left)) as picture:
        assert not picture.getexif()
        assert set(picture.info) <= {"jfif", "jfif_version", "jfif_unit", "jfif_density"}


def test_what_hides_behind_the_picture_is_not_in_what_is_shown(encoded: Encoded) -> None:
    """A JPEG may carry a page or an archive behind its end. It decodes, so it is evidence and is kept as
    sent; what is shown is painted anew and holds none of it."""
    page = b"<html><script>fetch('/steal')</script></html>PK\x03\x04"
    content = encoded("JPEG") + page
    assert page not in shown_bytes(content)
    assert storage.original(take_in([content]).sha256).read_bytes().endswith(page)


def test_a_colour_profile_is_converted_and_not_merely_dropped(encoded: Encoded) -> None:
    """A profile with swapped primaries turns stored red into shown blue; without conversion red stays."""
    profile = swapped_primaries()
    content = encoded("PNG", Image.new("RGB", (400, 300), (220, 10, 10)), icc_profile=profile)
    red, _, blue = shown(content).getpixel((100, 100))
    assert blue > 180
    assert red < 60


def swapped_primaries() -> bytes:
    """The sRGB profile with its red and blue colourants exchanged (ICC.1 tags rXYZ and bXYZ)."""
    profile = ImageCms.ImageCmsProfile(ImageCms.createProfile("sRGB")).tobytes()
    return profile.replace(b"rXYZ", b"tmp!").replace(b"bXYZ", b"rXYZ").replace(b"tmp!", b"bXYZ")


def test_a_broken_profile_does_not_cost_the_picture(encoded: Encoded) -> None:
    picture = shown(encoded("JPEG", icc_profile=b"no profile at all"))
    assert near(picture.getpixel((10, 10)), (200, 20, 20))


@pytest.mark.parametrize("mode", ["L", "1", "P", "LA", "RGBA", "I;16"])
def test_every_kind_of_pixel_becomes_a_picture(mode: str, encoded: Encoded) -> None:
    if mode == "I;16":
        image = Image.new("I;16", (400, 300), 0x8000)
        assert near(shown(encoded("PNG", image)).getpixel((9, 9)), (128, 128, 128))
    else:
        image = Image.new("L", (400, 300), 255).convert(mode)
        assert near(shown(encoded("PNG", image)).getpixel((9, 9)), (255, 255, 255))


def test_a_photo_in_printing_colours_becomes_a_picture(encoded: Encoded) -> None:
    picture = shown(encoded("JPEG", scene(800, 600, "CMYK")))
    assert near(picture.getpixel((10, 10)), (200, 20, 20))


def test_transparent_parts_are_white_as_on_paper(encoded: Encoded) -> None:
    picture = shown(encoded("PNG", Image.new("RGBA", (400, 300), (0, 0, 0, 0))))
    assert picture.getpixel((100, 100)) == (255, 255, 255)


def test_a_12_megapixel_photo_is_reduced_while_it_is_decoded(encoded: Encoded) -> None:
    """Pillow holds four bytes a pixel: whole 48 MB and the smaller copies on top, at half size 12 MB."""
    sha256 = take_in([encoded("JPEG", scene(4000, 3000))]).sha256
    with memory_rise() as rise:
        derivatives.make(sha256)
    assert rise.kb < 40_000

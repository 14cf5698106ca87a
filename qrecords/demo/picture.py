"""A photograph being drawn: parts laid one on another, lit from the upper left, then seen by a camera."""

import io
from datetime import datetime
from functools import lru_cache

from PIL import Image, ImageChops, ImageFilter

from qrecords.demo.surfaces import SIZE, Colour, grain, tinted

Area = tuple[int, int, int, int]


class Picture:
    """Begins with what lies behind and ends as the bytes of a JPEG."""

    def __init__(self, behind: Image.Image) -> None:
        self._image = behind.copy()

    def again(self) -> "Picture":
        """The same picture, to be gone on with; this one stays as it is."""
        return Picture(self._image)

    def lay(
        self, shape: Image.Image, surface: Image.Image | Colour, *, bevel_px: int = 0, shadow_px: int = 0
    ) -> None:
        """Lay a part on: its shadow below and to the right, then the part, then light on its edges."""
        if shadow_px:
            area, near = _close_up(shape, 4 * shadow_px)
            fallen = ImageChops.offset(near, shadow_px, shadow_px).filter(ImageFilter.GaussianBlur(shadow_px))
            self._paint((8, 10, 14), fallen, area, 0.55)
        area, near = _close_up(shape, 4 * bevel_px)
        filling = surface.crop(area) if isinstance(surface, Image.Image) else surface
        self._image.paste(filling, area, near)
        if bevel_px:
            soft = near.filter(ImageFilter.GaussianBlur(bevel_px))
            below, above = (
                ImageChops.offset(soft, bevel_px, bevel_px),
                ImageChops.offset(soft, -bevel_px, -bevel_px),
            )
            self._paint(
                (255, 255, 250), ImageChops.multiply(ImageChops.subtract(above, below), near), area, 0.55
            )
            self._paint((8, 10, 14), ImageChops.multiply(ImageChops.subtract(below, above), near), area, 0.6)

    def cut(self, shape: Image.Image, depth_px: int = 2) -> None:
        """Cut a shape into what is there: a dark floor and, under raking light, a lit lower edge."""
        self.shade(shape, 0.62)
        self.light(ImageChops.subtract(ImageChops.offset(shape, depth_px, depth_px), shape), 0.45)

    def light(self, shape: Image.Image, share: float) -> None:
        """Mix white into a shape: chalk, print on dark plastic, a gleam."""
        area, near = _close_up(shape, 0)
        self._paint((255, 255, 250), near, area, share)

    def shade(self, shape: Image.Image, share: float) -> None:
        """Mix black into a shape: ink, a gap, a shadow."""
        area, near = _close_up(shape, 0)
        self._paint((8, 10, 14), near, area, share)

    def as_jpeg(self, taken_at: datetime, seed: str) -> bytes:
        """The photograph a camera would have made of it, with the time it was taken in its EXIF data."""
        whole = ImageChops.multiply(self._image, _vignette())
        noisy = Image.blend(whole, Image.merge("RGB", [grain(SIZE, seed, 0.6)] * 3), 0.035)
        return photographed(noisy, taken_at)

    def _paint(self, colour: Colour, near: Image.Image, area: Area, share: float) -> None:
        self._image.paste(colour, area, near.point([round(value * share) for value in range(256)]))


def photographed(image: Image.Image, taken_at: datetime) -> bytes:
    """The file a camera writes, with itself and the time in its EXIF data."""
    exif = Image.Exif()
    exif[271], exif[272], exif[274] = "Fenmark", "shop tablet 3", 1
    zone = taken_at.strftime("%z") or "+0000"
    exif.get_ifd(0x8769).update(
        {36867: taken_at.strftime("%Y:%m:%d %H:%M:%S"), 36881: f"{zone[:3]}:{zone[3:5]}"}
    )
    file = io.BytesIO()
    image.save(file, "JPEG", quality=88, exif=exif)
    return file.getvalue()


def _close_up(shape: Image.Image, margin: int) -> tuple[Area, Image.Image]:
    """The part of a mask that is not empty, with a margin, and where it is; it may reach outside."""
    left, top, right, bottom = shape.getbbox() or (0, 0, 1, 1)
    area = (left - margin, top - margin, right + margin, bottom + margin)
    return area, shape.crop(area)


@lru_cache(maxsize=1)
def _vignette() -> Image.Image:
    fall = Image.radial_gradient("L").resize((SIZE[0] * 3 // 2, SIZE[1] * 3 // 2))
    left, top = SIZE[0] // 4, SIZE[1] // 4
    middle = fall.crop((left, top, left + SIZE[0], top + SIZE[1]))
    return tinted(middle.point([255 - value * value // 520 for value in range(256)]), (255, 253, 248))

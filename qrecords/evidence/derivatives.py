"""Pictures to show: upright, sRGB, without place, comment or any other metadata, 1600 and 320 px.

Version 1 of the recipe: JPEG of quality 80, the longer edge at most 1600 and 320 px, never enlarged.
"""

import io
from pathlib import Path

from PIL import Image, ImageCms, ImageOps

from qrecords.evidence import storage
from qrecords.evidence.examine import open_photo

RECIPE = 1
EDGES_PX = (1600, 320)
# Makes smaller as well as the bicubic default, as fast as the linear one (Pillow, Concepts: Filters).
_FILTER = Image.Resampling.HAMMING
_SRGB = ImageCms.createProfile("sRGB")


def make(sha256: str) -> None:
    """Make the derivatives of a kept original, those that are already there too."""
    with open_photo(storage.original(sha256)) as original:
        picture = _shown(original, EDGES_PX[0])
    for edge_px in EDGES_PX:
        picture.thumbnail((edge_px, edge_px), _FILTER)
        with storage.arriving() as file:
            picture.save(file, "JPEG", quality=80, exif=b"", icc_profile=None)
            storage.keep(file, storage.derived(sha256, edge_px, RECIPE), can_be_made_again=True)


def are_made(sha256: str) -> bool:
    """Whether every derivative of the present recipe lies in its place."""
    return all(storage.derived(sha256, edge_px, RECIPE).exists() for edge_px in EDGES_PX)


def _shown(original: Image.Image, edge_px: int) -> Image.Image:
    profile = original.info.get("icc_profile")
    # The size asked of the JPEG decoder must have the picture's own aspect, or it does not shrink at all.
    scale = edge_px / max(original.size)
    if scale < 1:
        original.draft("RGB", (int(original.width * scale), int(original.height * scale)))
    original.thumbnail((edge_px, edge_px), _FILTER)
    ImageOps.exif_transpose(original, in_place=True)
    picture = _opaque(_srgb(original, profile))
    picture.info.clear()
    return picture


def _srgb(picture: Image.Image, profile: bytes | None) -> Image.Image:
    """The picture in sRGB if it carries a profile that fits its pixels, else as it is."""
    if not profile:
        return picture
    if picture.mode == "P":
        picture = picture.convert("RGBA")
    try:
        source = ImageCms.ImageCmsProfile(io.BytesIO(profile))
        mode = "RGBA" if picture.mode == "RGBA" else "RGB"
        return ImageCms.profileToProfile(picture, source, _SRGB, outputMode=mode) or picture
    except (ImageCms.PyCMSError, OSError, ValueError):
        return picture  # a broken profile must not cost the picture


def _opaque(picture: Image.Image) -> Image.Image:
    """RGB of eight bits; what is transparent becomes white, as on paper."""
    if picture.mode.startswith("I"):
        picture = picture.convert("I").point(lambda value: value * (1 / 256)).convert("L")
    if picture.mode in ("RGBA", "LA", "PA", "La", "RGBa") or "transparency" in picture.info:
        picture = picture.convert("RGBA")
        paper = Image.new("RGB", picture.size, "white")
        paper.paste(picture, mask=picture.getchannel("A"))
        return paper
    return picture if picture.mode == "RGB" else picture.convert("RGB")


def path_of(sha256: str, edge_px: int) -> Path | None:
    """The place of a derivative of the present recipe, or None while it is not made."""
    place = storage.derived(sha256, edge_px, RECIPE)
    return place if place.exists() else None

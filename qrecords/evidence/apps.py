"""What Pillow must know before the first file is opened."""

import warnings

import pillow_heif
from django.apps import AppConfig
from PIL import Image

from qrecords.evidence.examine import MAX_PIXELS


class EvidenceConfig(AppConfig):
    name = "qrecords.evidence"

    def ready(self) -> None:
        """Teach Pillow HEIF and make its own bomb check as strict as ours, for the whole process."""
        pillow_heif.register_heif_opener(thumbnails=False)
        Image.MAX_IMAGE_PIXELS = MAX_PIXELS
        warnings.simplefilter("error", Image.DecompressionBombWarning)

"""Thin marks that are nowhere black: what a copy in black and white may lose."""

from __future__ import annotations

from collections.abc import Sequence

import cv2
import numpy as np

from preflight.facts import Faint, Picture
from preflight.reading.pages.ink import Mask, find_marks
from preflight.reading.pages.pdfium import Raster
from preflight.reading.pages.pixels import Scale

FAINT = 85
"""A mark is looked at if nothing within `NEAR` is darker than this grey, of 255."""
NEAR = 0.034
"""In cm: the soft edge of a stroke lies so close to its dark middle."""
ROUND = 0.25
"""In cm: a thin mark has paper so close by; a shadow on the paper has none."""
CONTRAST = 40
"""Levels of grey by which a mark differs from that paper; the grain of a scan differs less."""
SHORT = 0.3
"""In cm: shorter clusters are specks and parts of letters."""
LEAST = 0.003
"""In square cm: a hairline of 0.3 cm has about so much."""
FEW = 15
"""Pixels in a cluster, at 150 dpi, that are still the joints of letters."""
MOST = 200


def find_faint(grey: Raster, ink: Mask, solid: Mask, pictures: Sequence[Picture], scale: Scale) -> tuple[Faint, ...]:
    """The clusters in reading order. `solid` is what `find_fills` found; a picture of one bit has no greys to lose."""
    darkest = np.asarray(cv2.erode(grey, _square(NEAR, scale)), dtype=np.uint8)
    mask = ink & _above(darkest, FAINT)
    for picture in pictures:
        if picture.bits == 1:
            mask[scale.window(picture.box)] = 0
    if not _gathered(mask, scale):
        return ()
    brightest = cv2.dilate(grey, _square(ROUND, scale))
    mask &= _above(np.asarray(cv2.subtract(brightest, darkest), dtype=np.uint8), CONTRAST)
    if solid.any():
        mask[np.asarray(cv2.dilate(solid, _square(NEAR, scale))) > 0] = 0
    pixel = scale.across * scale.down
    found = []
    for box in find_marks(mask, scale):
        window = scale.window(box)
        here = mask[window] > 0
        if max(box.width, box.height) >= SHORT and here.sum() * pixel >= LEAST:
            tone = round(float(np.median(darkest[window][here])) / 255, 3)
            found.append(Faint(box, tone, round(float(here.sum()) * pixel, 4)))
    return tuple(found[:MOST])


def _above(grey: Raster, level: int) -> Mask:
    return np.asarray(cv2.threshold(grey, level, 1, cv2.THRESH_BINARY)[1], dtype=np.uint8)


def _gathered(mask: Mask, scale: Scale) -> bool:
    """Whether anywhere more of it stands together than the soft joints of letters: most pages are done here."""
    step = max(1, round(ROUND / max(scale.across, scale.down)))
    columns, rows = max(1, mask.shape[1] // step), max(1, mask.shape[0] // step)
    counts = np.asarray(cv2.resize(mask * np.uint8(255), (columns, rows), interpolation=cv2.INTER_AREA))
    return bool(counts.max(initial=0) > 255 * FEW * SHORT / (4 * ROUND) / step**2)


def _square(reach: float, scale: Scale) -> Mask:
    """A kernel that reaches so many cm to each side."""
    side = 2 * max(1, round(reach / max(scale.across, scale.down))) + 1
    return np.ones((side, side), dtype=np.uint8)

"""A made-up photograph: a shaded roller on grass, computed, in continuous tones and colours."""

import io
from pathlib import Path
from typing import Final

import numpy as np
import pikepdf
from normalising import save
from numpy.typing import NDArray
from pen import PAGE_CM, POINTS_A_CM, Pen
from PIL import Image
from reportlab.pdfgen.canvas import Canvas

Field = NDArray[np.float64]

PIXELS: Final = (1860, 2160)
"""Width and height; with `DPI` 15.75 x 18.29 cm, which is 48 % of a Letter sheet."""
DPI: Final = 300
TOP_CM: Final = 4.6
"""Distance of the picture from the top edge."""
CENTER_CM: Final = 11.2
"""Middle of the picture from the left edge."""
GRAIN_PIXELS: Final = 6
"""Side of one grain of the noise; smaller grains would make the lossless file too long."""


def photograph() -> Image.Image:
    """The picture, the same in every build."""
    down, right = np.mgrid[0 : PIXELS[1], 0 : PIXELS[0]].astype(np.float64)
    x, y = right / PIXELS[0], down / PIXELS[1]
    picture = _meadow(x, y)
    for cover, colour in (_stake(x, y), _roller(x, y)):
        picture = picture * (1 - cover[..., None]) + colour * cover[..., None]
    picture += _grain()[..., None]
    levels = np.clip(np.round(picture / 2) * 2, 0, 255)
    return Image.fromarray(levels.astype(np.uint8), mode="RGB")


def _meadow(x: Field, y: Field) -> Field:
    """Sky above, grass with soft stripes below, 0-255."""
    haze = 1 / (1 + np.exp(-(y - 0.42) * 40))
    sky = np.stack([150 + 70 * y, 190 + 40 * y, 235 - 10 * y], axis=-1)
    wave = np.sin(46 * x + 9 * np.sin(7 * y)) * np.sin(31 * y + 4 * x) * 16 * y
    grass = np.stack([70 + 50 * y + wave, 130 + 40 * y + wave, 50 + 20 * y + wave / 2], axis=-1)
    return sky * (1 - haze[..., None]) + grass * haze[..., None]


def _edge(distance: Field) -> Field:
    """1 inside (negative distance), 0 outside, soft over a few pixels."""
    return np.asarray(1 / (1 + np.exp(np.clip(distance * 900, -60, 60))))


def _stake(x: Field, y: Field) -> tuple[Field, Field]:
    """A grey metal post below the roller, lit from the left."""
    across = (x - 0.5) / 0.035
    cover = _edge(np.maximum(np.abs(x - 0.5) - 0.035, np.maximum(0.40 - y, y - 0.93)))
    light = 175 - 75 * across - 40 * across**2
    return cover, np.stack([light, light + 4, light + 10], axis=-1)


def _roller(x: Field, y: Field) -> tuple[Field, Field]:
    """A red spool with a narrow middle, seen from the front, lit from the upper left."""
    along = np.clip(np.abs(x - 0.5) / 0.30, 0, 1)
    radius = 0.11 + 0.10 * along**2
    cover = _edge(np.maximum(np.abs(y - 0.36) - radius, np.abs(x - 0.5) - 0.30))
    turn = np.clip((y - 0.36) / radius, -1, 1)
    light = np.clip(0.45 + 0.5 * np.sqrt(1 - turn**2) - 0.35 * turn - 0.25 * (x - 0.5), 0.08, 1.1)
    gloss = 70 * np.exp(-(((turn + 0.45) / 0.13) ** 2))
    return cover, np.stack([205 * light + gloss, 62 * light + gloss, 40 * light + gloss], axis=-1)


def _grain() -> Field:
    """Fixed grain of a few levels: a sine of the place, scrambled."""
    down, right = np.mgrid[0 : PIXELS[1] // GRAIN_PIXELS, 0 : PIXELS[0] // GRAIN_PIXELS]
    mixed = np.sin(right * 12.9898 + down * 78.233) * 43758.5453
    noise = (mixed - np.floor(mixed) - 0.5) * 14
    return np.asarray(noise.repeat(GRAIN_PIXELS, axis=0).repeat(GRAIN_PIXELS, axis=1))


def draw_photograph_label(canvas: Canvas, shift: float) -> None:
    """The label of sheet 2, below the place of the photograph; `shift` in cm to the right."""
    Pen(canvas, (CENTER_CM + shift, 25.2), 1).label("FIG. 2", (0, 0))


def place_photograph(path: Path) -> None:
    """Put the photograph, lossless, on page 2 of the PDF."""
    width, height = (side / DPI * 72 for side in PIXELS)
    left = CENTER_CM * POINTS_A_CM - width / 2
    low = (PAGE_CM[1] - TOP_CM) * POINTS_A_CM - height
    with pikepdf.open(path, allow_overwriting_input=True) as pdf:
        page = pdf.pages[1]
        name = page.add_resource(image_stream(pdf), pikepdf.Name.XObject, pikepdf.Name.Photograph)
        draw = f"q {width:.4f} 0 0 {height:.4f} {left:.4f} {low:.4f} cm {name} Do Q"
        page.contents_add(draw.encode("ascii"))
        save(pdf, path)


def image_stream(pdf: pikepdf.Pdf) -> pikepdf.Object:
    """The picture as an image of the PDF, with the row filters of PNG, which keep it short."""
    buffer = io.BytesIO()
    photograph().save(buffer, format="PNG", optimize=True)
    stream = pikepdf.Stream(pdf, png_data(buffer.getvalue()))
    columns, height = PIXELS
    stream.Type, stream.Subtype = pikepdf.Name.XObject, pikepdf.Name.Image
    stream.Width, stream.Height, stream.BitsPerComponent = columns, height, 8
    stream.ColorSpace = pikepdf.Name.DeviceRGB
    stream.Filter = pikepdf.Name.FlateDecode
    stream.DecodeParms = pikepdf.Dictionary(Predictor=15, Colors=3, BitsPerComponent=8, Columns=columns)
    return stream


def png_data(png: bytes) -> bytes:
    """The compressed rows of a PNG file: its IDAT chunks joined."""
    rows, place = b"", 8
    while place < len(png):
        length = int.from_bytes(png[place : place + 4], "big")
        if png[place + 4 : place + 8] == b"IDAT":
            rows += png[place + 8 : place + 8 + length]
        place += 12 + length
    return rows

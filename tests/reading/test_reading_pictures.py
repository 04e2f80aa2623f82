"""Images as placed: box, pixels, resolution, filters."""

from __future__ import annotations

import io

import pikepdf
import pytest
from PIL import Image
from reportlab.lib.utils import ImageReader

from preflight.facts import PT_PER_CM

CM = PT_PER_CM


def _image(mode: str = "L", kind: str = "PNG") -> ImageReader:
    out = io.BytesIO()
    Image.new(mode, (300, 150), 1).save(out, kind)
    return ImageReader(io.BytesIO(out.getvalue()))


def test_a_picture_has_its_place_and_the_smaller_resolution(draw, page_of):
    (picture,) = page_of(draw(lambda c: c.drawImage(_image(), 3 * CM, 4 * CM, 5.08 * CM, 5.08 * CM))).pictures
    assert (picture.width, picture.height, picture.dpi, picture.bits) == (300, 150, 75, 8)
    box = picture.box
    assert (box.left, box.top, box.right, box.bottom) == pytest.approx((3, 20.62, 8.08, 25.7), abs=0.001)


@pytest.mark.parametrize(("mode", "bits"), [("L", 8), ("RGB", 8), ("1", 1), ("CMYK", 8)])
def test_bits_are_those_of_a_component(page_of, mode: str, bits: int):
    components = {"L": 1, "1": 1, "RGB": 3, "CMYK": 4}[mode]
    space = {1: "/DeviceGray", 3: "/DeviceRGB", 4: "/DeviceCMYK"}[components]
    pdf = pikepdf.new()
    page = pdf.add_blank_page(page_size=(300, 300))
    image = pdf.make_stream(b"\x55" * (16 * 16 * components * bits // 8))
    image.Type, image.Subtype, image.ColorSpace = pikepdf.Name.XObject, pikepdf.Name.Image, pikepdf.Name(space)
    image.Width = image.Height = 16
    image.BitsPerComponent = bits
    page.Resources = pikepdf.Dictionary(XObject=pikepdf.Dictionary(I=image))
    page.Contents = pdf.make_stream(b"q 72 0 0 72 50 50 cm /I Do Q")
    out = io.BytesIO()
    pdf.save(out)
    (picture,) = page_of(out.getvalue()).pictures
    assert (picture.bits, picture.dpi) == (bits, 16)


def test_the_filter_is_named(draw, page_of):
    out = io.BytesIO()
    Image.new("RGB", (60, 60), 9).save(out, "JPEG")
    reader = ImageReader(io.BytesIO(out.getvalue()))
    (picture,) = page_of(draw(lambda c: c.drawImage(reader, 100, 100, 60, 60))).pictures
    assert picture.filters[-1] == "DCTDecode"


@pytest.mark.parametrize("matrix", [(1, 0, 0, 1, 0, 0), (2, 0, 0, 2, 10, 20)])
def test_a_picture_inside_a_form_is_found_where_it_shows(page_of, matrix):
    pdf = pikepdf.new()
    page = pdf.add_blank_page(page_size=(600, 600))
    form = pdf.make_stream(b"q 72 0 0 72 50 50 cm BI /W 1 /H 1 /BPC 8 /CS /G ID \x10 EI Q")
    form.Subtype, form.BBox = pikepdf.Name.Form, pikepdf.Array([0, 0, 600, 600])
    form.Matrix = pikepdf.Array(matrix)
    page.Resources = pikepdf.Dictionary(XObject=pikepdf.Dictionary(X=form))
    page.Contents = pdf.make_stream(b"q 1 0 0 1 100 0 cm /X Do Q")
    out = io.BytesIO()
    pdf.save(out)
    read = page_of(out.getvalue())
    (picture,) = read.pictures
    for side in ("left", "top", "right", "bottom"):
        assert getattr(picture.box, side) == pytest.approx(getattr(read.ink, side), abs=2 * read.blur)


def test_a_picture_beside_the_page_is_not_on_it(draw, page_of):
    assert page_of(draw(lambda c: c.drawImage(_image(), -900, 0, 100, 100))).pictures == ()

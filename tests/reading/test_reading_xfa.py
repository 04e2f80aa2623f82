"""Values of a static XFA form that stand in its data packet only (ISO 32000-1, 12.7.8), beside its form fields."""

from __future__ import annotations

import io
from collections.abc import Callable

import pikepdf
import pytest
from reportlab.pdfgen.canvas import Canvas

from preflight.facts import FileFacts

DATA = """<xfa:datasets xmlns:xfa="http://www.xfa.org/schema/xfa-data/1.0/"><xfa:data><form1>
<head><title>Hose guide</title><docket/></head><person><city>Portland</city></person><small>1</small><micro>0</micro>
</form1></xfa:data></xfa:datasets>"""


def _form(data: str) -> bytes:
    out = io.BytesIO()
    canvas = Canvas(out, pagesize=(612, 792), invariant=True)
    names = ("form1[0].head[0].title[0]", "form1[0].head[0].docket[0]", "form1[0].city[0]")
    for down, name in enumerate(names):
        canvas.acroForm.textfield(name=name, value="", x=100, y=700 - 30 * down, width=200)
    for down, name in enumerate(("small[0]", "micro[0]")):
        canvas.acroForm.checkbox(name=name, checked=False, x=100, y=500 - 30 * down)
    canvas.acroForm.textfield(name="typed", value="as typed", x=100, y=300, width=200)
    canvas.showPage()
    canvas.save()
    with pikepdf.open(io.BytesIO(out.getvalue())) as pdf:
        packet = pdf.make_stream(data.encode())
        pdf.Root.AcroForm.XFA = pikepdf.Array([pikepdf.String("datasets"), packet])
        out = io.BytesIO()
        pdf.save(out)
    return out.getvalue()


def test_values_that_only_the_data_holds_are_read(facts_of: Callable[..., FileFacts]) -> None:
    structure = facts_of(_form(DATA)).structure
    assert structure is not None
    assert structure.has_xfa
    assert {field.name: field.value for field in structure.fields} == {
        "form1[0].head[0].title[0]": "Hose guide",
        "form1[0].head[0].docket[0]": None,
        "form1[0].city[0]": "Portland",
        "small[0]": "1",
        "micro[0]": None,
        "typed": "as typed",
    }


@pytest.mark.parametrize(
    "data",
    [
        "no XML",
        '<!DOCTYPE a [<!ENTITY b "c">]><a><title>&b;</title></a>',
        "<a><title>one</title><other><title>two</title></other></a>",
    ],
)
def test_data_that_cannot_be_told_gives_no_value(data: str, facts_of: Callable[..., FileFacts]) -> None:
    structure = facts_of(_form(data)).structure
    assert structure is not None
    assert [field.value for field in structure.fields if field.name != "typed"] == [None] * 5

"""Forms: what kind, whether what is filled in shows, certificates (clauses of ISO 32000-1)."""

from __future__ import annotations

import io
from collections.abc import Callable

import pikepdf
import pytest
from pikepdf import Array, Dictionary, Name, Pdf, String

from preflight.facts import Inside

Change = Callable[[Pdf], None]


def _form(canvas) -> None:
    form = canvas.acroForm
    form.textfield(name="title", value="Hinge", x=72, y=600, width=200, height=20)
    form.textfield(name="empty", value="", x=72, y=560, width=200, height=20)
    form.checkbox(name="small", checked=True, x=72, y=500, size=15)
    form.checkbox(name="micro", checked=False, x=72, y=470, size=15)
    form.choice(name="state", value="Ohio", options=["Ohio", "Iowa"], x=72, y=400, width=90, height=20)


@pytest.fixture
def inside(draw, facts_of) -> Callable[[Change], Inside]:
    """What is read inside of a filled-in form after a change to it."""

    def read(change: Change) -> Inside:
        out = io.BytesIO()
        with pikepdf.open(io.BytesIO(draw(_form))) as pdf:
            change(pdf)
            pdf.save(out)
        return facts_of(out.getvalue()).structure.inside

    return read


def _fields(pdf: Pdf) -> dict[str, pikepdf.Object]:
    return {str(field.T): field for field in pdf.Root.AcroForm.Fields}


def test_a_form_that_shows_its_fields(inside):
    held = inside(lambda pdf: pdf.Root.AcroForm.__setattr__("NeedAppearances", True))
    assert (held.unshown_fields, held.needs_appearances, held.xfa, held.unread) == ((), True, "", {})


def test_values_without_an_appearance(inside):
    """12.7.3.3: none at all; one that paints nothing; a tick whose state no widget is in."""

    def hide(pdf: Pdf) -> None:
        fields = _fields(pdf)
        del fields["title"]["/AP"]
        del fields["empty"]["/AP"]
        fields["state"].AP = Dictionary(N=pdf.make_stream(b"/Tx BMC q 0 0 5 5 re W n Q EMC"))
        fields["small"].AS = Name.Off
        fields["small"].V = Name.Yes

    assert set(inside(hide).unshown_fields) == {"title", "state", "small"}


def test_what_is_hidden_on_purpose_is_not_missed(inside):
    """12.5.3: hidden fields hold sums and numbers; buttons and passwords have nothing to show."""

    def hide(pdf: Pdf) -> None:
        title, state, empty = (_fields(pdf)[name] for name in ("title", "state", "empty"))
        for field in (title, state, empty):
            del field["/AP"]
        title.F = 2
        state.V = String(" ")
        empty.V, empty.Ff = String("x"), 1 << 13

    assert inside(hide).unshown_fields == ()


def test_a_dynamic_form_and_a_static_one(inside):
    """12.7.8; NeedsRendering: ISO 32000-2, 7.7.2."""

    def packets(config: bytes) -> Change:
        def add(pdf: Pdf) -> None:
            parts = [String("config"), pdf.make_stream(config), String("template"), pdf.make_stream(b"<template/>")]
            pdf.Root.AcroForm.XFA = Array(parts)

        return add

    def rendered(pdf: Pdf) -> None:
        pdf.Root.AcroForm.XFA = pdf.make_stream(b"<xdp/>")
        pdf.Root.NeedsRendering = True

    assert inside(packets(b"<config><dynamicRender>required</dynamicRender></config>")).xfa == "dynamic"
    assert inside(packets(b"<config><dynamicRender>forbidden</dynamicRender></config>")).xfa == "static"
    assert inside(rendered).xfa == "dynamic"


def _sign(pdf: Pdf, value: pikepdf.Object | None) -> pikepdf.Object:
    field = Dictionary(
        T=String("Signature"), FT=Name.Sig, Subtype=Name.Widget, Type=Name.Annot, Rect=Array([72, 100, 200, 130])
    )
    if value is not None:
        field.V = pdf.make_indirect(value)
    field = pdf.make_indirect(field)
    pdf.Root.AcroForm.Fields.append(field)
    pdf.pages[0].obj.Annots.append(field)
    return field


CERTIFICATE = {"Type": Name.Sig, "Contents": String(b"\x30\x82"), "ByteRange": Array([0, 10, 20, 30])}


def test_signed_and_empty_signature_fields(inside):
    """12.8.1; an entry that is only prepared is no signature."""
    empty = inside(lambda pdf: _sign(pdf, None)).signature_fields
    prepared = inside(lambda pdf: _sign(pdf, Dictionary(Type=Name.Sig, Contents=String(b"\0\0")))).signature_fields
    signed = inside(lambda pdf: _sign(pdf, Dictionary(**CERTIFICATE))).signature_fields
    assert [(f.name, f.signed, f.certifies, f.page) for f in (*empty, *prepared, *signed)] == [
        ("Signature", False, False, 1),
        ("Signature", False, False, 1),
        ("Signature", True, False, 1),
    ]
    assert signed[0].box.left == pytest.approx(2.54, abs=0.01)


def test_a_certificate_that_locks_the_file(inside):
    """12.8.2.2: by the permissions, or by what the signature refers to."""

    def permissions(pdf: Pdf) -> None:
        pdf.Root.Perms = Dictionary(DocMDP=_sign(pdf, Dictionary(**CERTIFICATE)).V)

    def reference(pdf: Pdf) -> None:
        _sign(pdf, Dictionary(**CERTIFICATE, Reference=Array([Dictionary(TransformMethod=Name.DocMDP)])))

    for change in (permissions, reference):
        held = inside(change)
        assert [field.certifies for field in held.signature_fields] == [True]
        assert not held.usage_rights


def test_usage_rights(inside):
    """12.8.2.3."""

    def grant(pdf: Pdf) -> None:
        pdf.Root.Perms = Dictionary(UR3=pdf.make_indirect(Dictionary(**CERTIFICATE)))

    held = inside(grant)
    assert held.usage_rights
    assert held.signature_fields == ()


def test_a_loop_of_fields_is_named(inside):
    def loop(pdf: Pdf) -> None:
        group = pdf.make_indirect(Dictionary(T=String("g")))
        group.Kids = Array([group])
        pdf.Root.AcroForm.Fields.append(group)

    why = "the tree of form fields loops or is too large"
    assert inside(loop).unread == dict.fromkeys(("actions", "external", "signature_fields", "unshown_fields"), why)

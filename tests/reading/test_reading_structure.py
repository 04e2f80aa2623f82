"""The file as a whole: versions, encryption, repairs, document information, fields."""

from __future__ import annotations

import io

import pikepdf
import pytest

from preflight.facts import PT_PER_CM
from preflight.reading import document


def _hello(canvas) -> None:
    canvas.drawString(100, 700, "A paper")


def _saved(data: bytes, change=lambda _pdf: None, **options: object) -> bytes:
    out = io.BytesIO()
    with pikepdf.open(io.BytesIO(data)) as pdf:
        change(pdf)
        pdf.save(out, **options)
    return out.getvalue()


def test_the_later_of_header_and_catalogue_is_the_version(draw, facts_of):
    def newer(pdf: pikepdf.Pdf) -> None:
        pdf.Root.Version = pikepdf.Name("/1.7")

    assert facts_of(draw(_hello, pdfVersion=(1, 4))).structure.version == "1.4"
    assert facts_of(_saved(draw(_hello), newer)).structure.version == "1.7"


def test_a_sound_file_has_nothing_to_say(draw, facts_of):
    structure = facts_of(draw(_hello)).structure
    assert (structure.encrypted, structure.repairs, structure.header_offset, structure.unread) == (False, (), 0, None)
    assert structure.opens_without_password


def test_owner_password_only_opens_and_names_what_is_forbidden(draw, facts_of):
    rights = pikepdf.Permissions(extract=False, print_lowres=False, print_highres=False)
    data = _saved(draw(_hello), encryption=pikepdf.Encryption(owner="o", user="", allow=rights))
    facts = facts_of(data)
    assert facts.unread is None
    assert facts.structure.encrypted
    assert {"printing", "copying"} <= {*facts.structure.restrictions}
    assert "changing" not in facts.structure.restrictions
    assert [line.text for line in facts.pages[0].lines] == ["A paper"]


@pytest.mark.parametrize("revision", [3, 4, 6])
def test_a_user_password_is_named_as_the_reason(draw, facts_of, revision: int):
    locks = pikepdf.Encryption(owner="o", user="u", R=revision, aes=revision > 3, metadata=revision > 3)
    facts = facts_of(_saved(draw(_hello), encryption=locks))
    assert facts.unread == "it needs a password to open"
    assert facts.structure.encrypted
    assert not facts.structure.opens_without_password
    assert facts.structure.version


def test_an_empty_password_of_the_owner_does_not_open_it_for_a_reader(draw, facts_of):
    locks = pikepdf.Encryption(owner="", user="u", R=5 + 1)
    assert facts_of(_saved(draw(_hello), encryption=locks)).unread == "it needs a password to open"


def test_bytes_before_the_header_are_counted(draw, facts_of):
    facts = facts_of(b"sent by scanner\n" + draw(_hello))
    assert facts.structure.header_offset == 16
    assert len(facts.pages) == 1


def test_a_lost_cross_reference_table_is_a_repair(draw, facts_of):
    data = draw(_hello)
    facts = facts_of(data[: data.rindex(b"startxref")] + b"startxref\n5\n%%EOF\n")
    assert facts.unread is None
    assert any("reconstruct" in repair for repair in facts.structure.repairs)
    assert all(len(repair) <= 200 for repair in facts.structure.repairs)


def test_a_file_cut_short_is_repaired_or_unread(draw, facts_of):
    data = draw(*[_hello] * 5)
    for share in (0.3, 0.6, 0.9):
        facts = facts_of(data[: int(len(data) * share)])
        assert facts.unread or facts.structure.repairs


def test_document_information(draw, facts_of):
    def titled(canvas) -> None:
        canvas.setTitle("Hinge für Türen")
        _hello(canvas)

    assert facts_of(draw(titled)).structure.info["Title"] == "Hinge für Türen"


def _form(canvas) -> None:
    form = canvas.acroForm
    form.textfield(name="title", value="Hinge", tooltip="Title of invention", x=72, y=600, width=200, height=20)
    form.textfield(name="empty", value="", x=72, y=560, width=200, height=20)
    form.checkbox(name="small", checked=True, x=72, y=500, size=15)
    form.checkbox(name="micro", checked=False, x=72, y=470, size=15)
    form.radio(name="kind", value="a", selected=False, x=72, y=440, size=15)
    form.radio(name="kind", value="b", selected=True, x=110, y=440, size=15)
    form.choice(name="state", value="Ohio", options=["Ohio", "Iowa"], x=72, y=400, width=90, height=20)


def test_fields_have_names_values_and_places(draw, facts_of):
    fields = {field.name: field for field in facts_of(draw(_form)).structure.fields}
    assert {name: (field.kind, field.value) for name, field in fields.items()} == {
        "title": ("text", "Hinge"),
        "empty": ("text", None),
        "small": ("tick", "Yes"),
        "micro": ("tick", None),
        "kind": ("tick", "b"),
        "state": ("choice", "Ohio"),
    }
    assert fields["title"].label == "Title of invention"
    box = fields["title"].box
    assert (box.left, box.bottom) == pytest.approx((72 / PT_PER_CM, 29.7 - 600 / PT_PER_CM), abs=0.05)
    assert fields["kind"].box.left == pytest.approx(110 / PT_PER_CM, abs=0.05)
    assert {field.page for field in fields.values()} == {1}


def test_a_tree_of_fields_inherits_and_may_not_loop(draw, facts_of):
    def nest(pdf: pikepdf.Pdf) -> None:
        group = pdf.make_indirect(pikepdf.Dictionary(T=pikepdf.String("group"), FT=pikepdf.Name.Tx, V="inherited"))
        leaf = pdf.make_indirect(pikepdf.Dictionary(T=pikepdf.String("leaf"), Parent=group))
        group.Kids = pikepdf.Array([leaf, group])
        pdf.Root.AcroForm = pikepdf.Dictionary(Fields=pikepdf.Array([group]))

    structure = facts_of(_saved(draw(_hello), nest)).structure
    assert [(f.name, f.kind, f.value) for f in structure.fields] == [("group.leaf", "text", "inherited")]
    assert structure.unread == "the tree of form fields loops or is too large"


@pytest.mark.filterwarnings("ignore::pikepdf.exceptions.PageCopyWarning")
def test_a_widget_that_the_form_does_not_list_is_a_field_all_the_same(draw, facts_of):
    def forget(pdf: pikepdf.Pdf) -> None:
        pdf.Root.AcroForm.Fields = pikepdf.Array()

    assert "title" in {field.name for field in facts_of(_saved(draw(_form), forget)).structure.fields}


def test_xfa_is_seen(draw, facts_of):
    def add(pdf: pikepdf.Pdf) -> None:
        pdf.Root.AcroForm = pikepdf.Dictionary(Fields=pikepdf.Array(), XFA=pdf.make_stream(b"<xdp/>"))

    assert facts_of(_saved(draw(_hello), add)).structure.has_xfa
    assert not facts_of(draw(_hello)).structure.has_xfa


def test_kinds_and_values_of_fields(draw, facts_of):
    def fill(pdf: pikepdf.Pdf) -> None:
        name, text = pikepdf.Name, pikepdf.String
        fields = [
            pikepdf.Dictionary(T=text("signed"), FT=name.Sig, V=pikepdf.Dictionary(Type=name.Sig)),
            pikepdf.Dictionary(T=text("button"), FT=name.Btn, Ff=1 << 16),
            pikepdf.Dictionary(T=text("several"), FT=name.Ch, V=pikepdf.Array([text("a"), text("b")])),
            pikepdf.Dictionary(T=text("long"), FT=name.Tx, V=pdf.make_stream(b"from a stream")),
            pikepdf.Dictionary(T=text("strange"), FT=name.Xx, V=5),
        ]
        pdf.Root.AcroForm = pikepdf.Dictionary(Fields=pikepdf.Array([pdf.make_indirect(f) for f in fields]))

    found = facts_of(_saved(draw(_hello), fill)).structure.fields
    assert [(field.name, field.kind, field.value) for field in found] == [
        ("signed", "signature", "signed"),
        ("button", "other", None),
        ("several", "choice", "a, b"),
        ("long", "text", "from a stream"),
        ("strange", "other", "5"),
    ]


def test_what_pdfium_refuses_though_qpdf_opens_it_is_unread(draw, facts_of, monkeypatch):
    def refuse(_data: bytes) -> None:
        raise document.PdfiumError("not a PDF or damaged")

    monkeypatch.setattr(document, "Document", refuse)
    facts = facts_of(draw(_hello))
    assert facts.unread == "its pages could not be drawn (PDFium: not a PDF or damaged)"
    assert facts.structure.fonts
    assert facts.pages == ()


def test_a_page_that_pdfium_refuses_is_unread_and_the_others_are_read(draw, facts_of, monkeypatch):
    whole = document.Document.page

    def refuse(self, number: int):
        if number == 2:
            raise document.PdfiumError("the page could not be loaded")
        return whole(self, number)

    monkeypatch.setattr(document.Document, "page", refuse)
    pages = facts_of(draw(_hello, _hello, _hello)).pages
    assert [page.unread for page in pages] == [None, "this page could not be drawn (PDFium)", None]


def test_a_page_that_pdfium_does_not_find_is_unread(draw, facts_of, monkeypatch):
    monkeypatch.setattr(document.Document, "__len__", lambda _self: 1)
    assert facts_of(draw(_hello, _hello)).pages[1].unread == "PDFium does not find this page"

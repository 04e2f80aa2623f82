"""Word processors' files: what they say, held against the libraries that write them, and what is refused."""

from __future__ import annotations

import datetime as dt
import io
import struct
import zipfile
from pathlib import PurePath

import docx
import odfdo
import pytest
from hypothesis import given
from hypothesis import strategies as st

from preflight.facts import Source, from_json, to_json
from preflight.reading.written import packed, read_source

W = "http://schemas.openxmlformats.org/wordprocessingml/2006/main"
R = "http://schemas.openxmlformats.org/officeDocument/2006/relationships"
OFFICE = "urn:oasis:names:tc:opendocument:xmlns:"
RELATIONS = (
    f'<Relationships xmlns="http://schemas.openxmlformats.org/package/2006/relationships">'
    f'<Relationship Id="a" Type="{R}/officeDocument" Target="word/document.xml"/></Relationships>'
)
DOCX = PurePath("specification.docx")
ODT = PurePath("specification.odt")


def pack(parts: dict[str, str | bytes]) -> bytes:
    out = io.BytesIO()
    with zipfile.ZipFile(out, "w", zipfile.ZIP_DEFLATED) as archive:
        for name, data in parts.items():
            archive.writestr(name, data)
    return out.getvalue()


def word(body: str, more: dict[str, str] | None = None) -> Source:
    document = f'<w:document xmlns:w="{W}" xmlns:r="{R}"><w:body>{body}</w:body></w:document>'
    return read_source(DOCX, pack({"_rels/.rels": RELATIONS, "word/document.xml": document, **(more or {})}))


def run(text: str) -> str:
    return f"<w:r><w:t>{text}</w:t></w:r>"


def open_text(body: str, styles: str = "") -> Source:
    names = " ".join(f'xmlns:{n}="{OFFICE}{n}:1.0"' for n in ("office", "text", "table", "draw", "style"))
    head = f"<office:automatic-styles>{styles}</office:automatic-styles>"
    content = f"<office:document-content {names}>{head}<office:body><office:text>{body}</office:text></office:body>"
    return read_source(ODT, pack({"content.xml": f"{content}</office:document-content>"}))


def texts(source: Source) -> list[str]:
    assert source.unread is None
    return [prose.text for prose in source.body]


def computed(source: Source) -> list[str]:
    return [prose.text[start:end] for prose in source.body for start, end in prose.computed]


def test_the_paragraphs_are_those_of_the_library_that_wrote_them():
    """Second reader: python-docx."""
    document = docx.Document()
    document.add_heading("BACKGROUND", 1)
    document.add_paragraph("Valves for gardens are known.", style="List Number")
    cells = document.add_table(1, 2).rows[0].cells
    cells[0].text, cells[1].text = "Body 12", "brass"
    document.add_paragraph("A valve 10 has a body\t12.")
    document.sections[0].header.paragraphs[0].text = "Docket No. DEMO-0500"
    out = io.BytesIO()
    document.save(out)
    read = read_source(DOCX, out.getvalue())
    outside = docx.Document(out)
    assert [prose.text for prose in read.body if not prose.cell] == [
        paragraph.text.replace("\t", " ") for paragraph in outside.paragraphs
    ]
    assert [prose.text for prose in read.body if prose.cell] == ["Body 12", "brass"]
    assert [prose.text for prose in read.aside] == ["Docket No. DEMO-0500"]
    assert read.saved.startswith("2013-12-23")  # the date of the library's own template


def test_an_open_document_says_what_its_library_put_in():
    """Second reader: odfdo."""
    document = odfdo.Document("text")
    document.body.clear()
    document.body.append(odfdo.Header(1, "BACKGROUND"))
    document.body.append(odfdo.Paragraph("Valves for   gardens are known."))
    items = odfdo.List(["A first step", "A second step"])
    document.body.append(items)
    document.meta.date = dt.datetime(2026, 11, 20, 10, 30)
    out = io.BytesIO()
    document.save(out)
    read = read_source(ODT, out.getvalue())
    assert [" ".join(text.split()) for text in texts(read)] == [
        "BACKGROUND", "Valves for gardens are known.", "A first step", "A second step",
    ]  # fmt: skip
    assert read.saved.startswith("2026-11-20T10:30")


def test_tracked_changes_are_read_as_accepted():
    gone = '<w:del w:id="1"><w:r><w:delText>never</w:delText></w:r></w:del>'
    moved = f'<w:moveFrom w:id="3">{run("wet ")}</w:moveFrom>'
    new = f'<w:ins w:id="2">{run("always ")}</w:ins>'
    assert texts(word(f"<w:p>{run('it is ')}{gone}{moved}{new}{run('dry')}</w:p>")) == ["it is always dry"]
    deletion = "<text:tracked-changes><text:changed-region><text:deletion><text:p>never</text:p></text:deletion>"
    body = f"{deletion}</text:changed-region></text:tracked-changes><text:p>it is always dry</text:p>"
    assert texts(open_text(body)) == ["it is always dry"]


def test_hidden_text_is_left_out():
    hidden = "<w:r><w:rPr><w:vanish/></w:rPr><w:t>note to self</w:t></w:r>"
    shown = '<w:r><w:rPr><w:vanish w:val="0"/></w:rPr><w:t>seen</w:t></w:r>'
    assert texts(word(f"<w:p>{hidden}{shown}</w:p>")) == ["seen"]
    style = '<style:style style:name="T1"><style:text-properties text:display="none"/></style:style>'
    spans = "".join(
        f'<text:span text:style-name="{name}">{text}</text:span>' for name, text in (("T1", "note"), ("T2", "seen"))
    )
    assert texts(open_text(f"<text:p>{spans}</text:p>", style)) == ["seen"]


def test_what_a_field_shows_is_known_to_be_worked_out():
    parts = [
        '<w:r><w:fldChar w:fldCharType="begin"/></w:r><w:r><w:instrText> REF fig1 </w:instrText></w:r>',
        f'<w:r><w:fldChar w:fldCharType="separate"/></w:r>{run("7")}<w:r><w:fldChar w:fldCharType="end"/></w:r>',
        f'<w:fldSimple w:instr=" SEQ fig ">{run("8")}</w:fldSimple>',
        f'<w:fldSimple w:instr=" HYPERLINK x ">{run(" a link")}</w:fldSimple>',
    ]
    read = word(f"<w:p>{run('FIG. ')}{''.join(parts)}</w:p>")
    assert (texts(read), computed(read)) == (["FIG. 78 a link"], ["78"])
    body = "<text:p>FIG. <text:bookmark-ref>7</text:bookmark-ref> and <text:a>a link</text:a></text:p>"
    read = open_text(body)
    assert (texts(read), computed(read)) == (["FIG. 7 and a link"], ["7"])


def test_notes_headers_and_text_boxes_stand_aside():
    box = f"<w:r><w:pict><w:txbxContent><w:p>{run('in the box')}</w:p></w:txbxContent></w:pict></w:r>"
    note = f'<w:footnotes xmlns:w="{W}"><w:footnote><w:p>{run("a note")}</w:p></w:footnote></w:footnotes>'
    read = word(
        f"<w:p>{run('text')}{box}<w:r><w:footnoteReference w:id='2'/></w:r></w:p>", {"word/footnotes.xml": note}
    )
    assert texts(read) == ["text"]
    assert [prose.text for prose in read.aside] == ["in the box", "a note"]
    assert read.body[0].computed == ((4, 4),)
    body = "<text:p>text<text:note><text:note-citation>1</text:note-citation><text:note-body><text:p>a note</text:p>"
    read = open_text(f"{body}</text:note-body></text:note> goes on</text:p>")
    assert (texts(read), [prose.text for prose in read.aside]) == (["text goes on"], ["a note"])


def test_both_forms_of_a_drawing_are_not_read_twice():
    forms = f"<mc:Choice>{run('once')}</mc:Choice><mc:Fallback>{run('once')}</mc:Fallback>"
    drawing = f'<mc:AlternateContent xmlns:mc="x">{forms}</mc:AlternateContent>'
    assert texts(word(f"<w:p>{drawing}</w:p>")) == ["once"]


ENTITIES = '<!DOCTYPE x [<!ENTITY a "aaaaaaaaaa"><!ENTITY b "&a;&a;&a;&a;">]>'
OUTSIDE = '<!DOCTYPE x [<!ENTITY a SYSTEM "file:///etc/hostname">]>'


def _document(inside: str, head: str = "") -> bytes:
    body = f'{head}<w:document xmlns:w="{W}"><w:body>{inside}</w:body></w:document>'
    return pack({"_rels/.rels": RELATIONS, "word/document.xml": body})


def _understated(real: bytes) -> bytes:
    """A package that says that its parts are small."""
    data = bytearray(real)
    at = data.find(b"PK\x01\x02")
    while at >= 0:
        data[at + 24 : at + 28] = struct.pack("<I", 10)
        at = data.find(b"PK\x01\x02", at + 1)
    return bytes(data)


EVIL = {
    "entities that grow": (_document("<w:p><w:r><w:t>&b;</w:t></w:r></w:p>", ENTITIES), "document type or entities"),
    "an entity outside": (_document("<w:p><w:r><w:t>&a;</w:t></w:r></w:p>", OUTSIDE), "document type or entities"),
    "nested without end": (_document("<w:p>" * 5000 + "</w:p>" * 5000), "nested too deep"),
    "no well-formed XML": (_document("<w:p>"), "no well-formed XML"),
    "no main part": (pack({"_rels/.rels": RELATIONS}), "no main part"),
    "no relations": (pack({"word/document.xml": "<x/>"}), "part _rels/.rels is missing"),
    "cut short": (_document("<w:p/>")[:200], "damaged or locked"),
    "a locked file is another kind of package": (b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1" + bytes(600), "damaged or locked"),
    "sizes that lie": (_understated(_document("<w:p/>" * 50)), "could not be"),
    "very many parts": (pack({f"part{n}": "" for n in range(packed.PARTS + 1)}), "too many parts"),
}


@pytest.mark.parametrize(("data", "why"), EVIL.values(), ids=EVIL.keys())
def test_what_is_evil_or_broken_is_unread_with_the_reason(data: bytes, why: str):
    read = read_source(DOCX, data)
    assert why in (read.unread or "")
    assert read.body == ()


def test_a_bomb_is_unpacked_only_so_far(monkeypatch):
    monkeypatch.setattr(packed, "LONGEST_PART", 100_000)
    bomb = _document(f"<!--{'x' * 3_000_000}-->")
    assert len(bomb) < 10_000
    assert read_source(DOCX, bomb).unread == (
        "the word processor's file could not be read (it is too long when unpacked)"
    )


def test_many_parts_may_not_grow_together(monkeypatch):
    monkeypatch.setattr(packed, "LONGEST", 1000)
    header = f'<w:hdr xmlns:w="{W}"><w:p/>{" " * 600}</w:hdr>'
    assert "too long" in (word("<w:p/>", {"word/header1.xml": header, "word/header2.xml": header}).unread or "")


@given(st.binary(max_size=400), st.sampled_from([DOCX, ODT]))
def test_any_bytes_give_an_answer(data: bytes, name: PurePath):
    assert read_source(name, data).unread


@given(st.integers(0, 600), st.binary(min_size=1, max_size=8))
def test_a_damaged_package_gives_an_answer(at: int, put: bytes):
    whole = _document(f"<w:p>{run('text')}</w:p>")
    at %= len(whole)
    read = read_source(DOCX, whole[:at] + put + whole[at + len(put) :])
    assert read.unread or [prose.text for prose in read.body] in (["text"], [])


def test_a_worker_reads_it_and_its_facts_are_one_json(facts_of):
    facts = facts_of(_document(f"<w:p>{run('A valve 10.')}</w:p>"), name="specification.docx")
    assert facts.unread is None
    assert facts.source == Source(body=facts.source.body)
    assert [prose.text for prose in facts.source.body] == ["A valve 10."]
    assert from_json(to_json(facts)) == facts


def test_a_pdf_or_nothing_under_such_a_name_is_no_source(facts_of, draw):
    assert facts_of(draw(lambda canvas: canvas.drawString(100, 100, "x")), name="specification.docx").source is None
    assert facts_of(b"", name="specification.docx").source is None

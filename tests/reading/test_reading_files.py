"""From a folder to facts: kinds of files, order, reasons, and that the same bytes give the same facts."""

from __future__ import annotations

import io
import zipfile
from pathlib import Path

import pytest

from preflight.facts import CM_PER_PT, Entry, from_json, to_json
from preflight.reading import Limits, images, read_files


def _hello(canvas) -> None:
    canvas.drawString(100, 700, "A paper")


def _word_file() -> bytes:
    out = io.BytesIO()
    with zipfile.ZipFile(out, "w") as archive:
        archive.writestr("[Content_Types].xml", "<Types/>")
        archive.writestr("_rels/.rels", "<Relationships/>")
        archive.writestr("word/document.xml", "<document/>")
    return out.getvalue()


def test_a_folder_is_read_in_the_order_of_its_entries(tmp_path: Path, draw, entry_of):
    (tmp_path / "a.pdf").write_bytes(draw(_hello, _hello))
    (tmp_path / "b.docx").write_bytes(_word_file())
    (tmp_path / "c.txt").write_text("claims")
    (tmp_path / "d.pdf").write_bytes(draw(_hello))
    entries = [entry_of(tmp_path / name) for name in ("d.pdf", "c.txt", "b.docx", "a.pdf")]
    d, c, b, a = read_files(tmp_path, [*entries[:3], entries[3]])
    assert [facts.unread for facts in (a, b, c, d)] == [None] * 4
    assert (len(a.pages), len(d.pages)) == (2, 1)
    assert b.media_type == "application/vnd.openxmlformats-officedocument.wordprocessingml.document"
    assert c.media_type == "text/plain"
    assert c.readers.keys() == {"libmagic"}
    pictures = images.versions() if images.installed() else {}
    assert a.readers.keys() == {"libmagic", "pikepdf", "qpdf", "pypdfium2", "pdfium", "pdfminer.six", *pictures}
    assert all(a.readers.values())


def test_files_in_sub_folders_are_found(tmp_path: Path, draw):
    (tmp_path / "papers").mkdir()
    (tmp_path / "papers" / "a.pdf").write_bytes(draw(_hello))
    (facts,) = read_files(tmp_path, [Entry("papers/a.pdf")])
    assert facts.unread is None


def test_the_same_bytes_give_the_same_facts_in_a_worker_and_here(tmp_path: Path, draw, entry_of, facts_of):
    data = draw(_hello, _hello)
    (tmp_path / "paper.pdf").write_bytes(data)
    entry = entry_of(tmp_path / "paper.pdf")
    first, second = (read_files(tmp_path, [entry])[0] for _ in range(2))
    assert to_json(first) == to_json(second) == to_json(facts_of(data))
    assert from_json(to_json(first)) == first


def test_nothing_to_read_starts_nothing(tmp_path: Path):
    assert read_files(tmp_path, []) == ()


def test_a_file_that_is_gone_is_unread(tmp_path: Path):
    (facts,) = read_files(tmp_path, [Entry("gone.pdf", 5)])
    assert facts.unread == "it could not be read (No such file or directory)"


def test_a_file_that_changed_after_it_was_listed_is_unread(facts_of, tmp_path: Path, draw, entry_of):
    path = tmp_path / "paper.pdf"
    path.write_bytes(draw(_hello))
    entry = entry_of(path)
    path.write_bytes(draw(_hello, _hello))
    (facts,) = read_files(tmp_path, [entry])
    assert facts.unread == "it was changed while it was being checked"
    assert facts.pages == ()


@pytest.mark.parametrize(
    ("data", "reason"),
    [
        (b"", "it is empty (0 bytes)"),
        (b"just words", "it is named .pdf but is no PDF (its bytes say text/plain)"),
        (b"%PDF-1.7\nnothing more", "it is damaged and could not be opened (qpdf: "),
    ],
)
def test_what_is_no_readable_pdf_says_so(facts_of, data: bytes, reason: str):
    assert facts_of(data).unread.startswith(reason)


def test_a_file_with_too_many_pages_is_unread(facts_of, draw):
    facts = facts_of(draw(*[_hello] * 3), limits=Limits(pages=2))
    assert facts.unread == "it has 3 pages; at most 2 are read"
    assert facts.structure is not None


def test_a_file_that_is_too_large_for_the_memory_allowed_is_unread(facts_of, draw):
    facts = facts_of(draw(_hello) + b" " * 1_000_000, limits=Limits(memory=4))
    assert facts.unread == "it is larger than 1 MB, more than this program reads"
    assert facts.reader_failed, "it is our limit, not the file's fault"


def test_sizes_are_in_cm(facts_of, draw):
    (page,) = facts_of(draw(_hello, size=(612, 792))).pages
    assert (page.width, page.height) == (21.59, 27.94)
    assert page.blur == pytest.approx(792 * CM_PER_PT / 1650, abs=1e-6)

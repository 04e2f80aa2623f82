"""Trees and lists that loop, lie about their size, or go very deep."""

from __future__ import annotations

from evil_files.raw import Paper, evil, heavy

DEEP = 50_000


@evil
def page_tree_shows_itself() -> bytes:
    paper = Paper()
    paper.pages = "/Type /Pages /Kids [2 0 R 3 0 R] /Count 2"
    return paper.bytes()


@evil
def page_tree_in_a_circle() -> bytes:
    paper = Paper()
    inner = paper.add("<< /Type /Pages /Kids [2 0 R] /Count 1 /Parent 2 0 R >>")
    paper.pages = f"/Type /Pages /Kids [{inner} 0 R] /Count 1"
    return paper.bytes()


@evil
def parents_in_a_circle() -> bytes:
    paper = Paper(b"BT /F 12 Tf (x) Tj ET")
    paper.media = ""
    paper.pages = "/Type /Pages /Kids [3 0 R] /Count 1 /Parent 3 0 R"
    return paper.bytes()


@evil
def a_million_pages_claimed() -> bytes:
    paper = Paper()
    paper.pages = "/Type /Pages /Kids [3 0 R] /Count 1000000"
    return paper.bytes()


@evil
def fewer_pages_than_none() -> bytes:
    paper = Paper()
    paper.pages = "/Type /Pages /Kids [3 0 R] /Count -2147483648"
    return paper.bytes()


@evil
def a_million_pages_from_seven_objects() -> bytes:
    paper = Paper()
    below = 3
    for level in range(6):
        below = paper.add(f"<< /Type /Pages /Kids [{f'{below} 0 R ' * 10}] /Count {10 ** (level + 1)} >>")
    paper.pages = f"/Type /Pages /Kids [{below} 0 R] /Count 1000000"
    return paper.bytes()


@evil
def one_page_ten_thousand_times() -> bytes:
    paper = Paper()
    paper.pages = f"/Type /Pages /Kids [{'3 0 R ' * 10_000}] /Count 10000"
    return paper.bytes()


@evil
def page_tree_five_thousand_deep() -> bytes:
    paper = Paper()
    below = 3
    for _ in range(5000):
        below = paper.add(f"<< /Type /Pages /Kids [{below} 0 R] /Count 1 >>")
    paper.pages = f"/Type /Pages /Kids [{below} 0 R] /Count 1"
    return paper.bytes()


@evil
def kids_that_are_no_pages() -> bytes:
    paper = Paper()
    paper.pages = "/Type /Pages /Kids [null 7 (x) [3 0 R] << >> 3 0 R 99 0 R] /Count 7"
    return paper.bytes()


@evil
def no_pages_at_all() -> bytes:
    paper = Paper()
    paper.pages = "/Type /Pages /Kids [] /Count 0"
    return paper.bytes()


@evil
def deep_arrays() -> bytes:
    paper = Paper()
    paper.page = f"/Annots {paper.add('[' * DEEP + ']' * DEEP)} 0 R"
    return paper.bytes()


@evil
def deep_dictionaries() -> bytes:
    paper = Paper()
    paper.page = f"/PieceInfo {paper.add('<</A ' * DEEP + '0' + '>>' * DEEP)} 0 R"
    return paper.bytes()


@evil
def deep_operands() -> bytes:
    return Paper(b"[" * DEEP + b"]" * DEEP + b" TJ " + b"<</A " * 500 + b"0" + b">>" * 500 + b" /X BDC EMC").bytes()


@heavy
def deep_graphics_states() -> bytes:
    return Paper(b"q " * 200_000 + b"1 0 0 RG 10 10 m 99 99 l S").bytes()


@evil
def fields_in_a_circle() -> bytes:
    paper = Paper(root="/AcroForm << /Fields [5 0 R 6 0 R] >>")
    paper.add("<< /T (above) /Kids [6 0 R 5 0 R] >>")
    paper.add("<< /T (below) /FT /Tx /V 6 0 R /Parent 5 0 R /Kids [5 0 R 6 0 R] >>")
    return paper.bytes()


@evil
def field_parents_in_a_circle() -> bytes:
    paper = Paper(page="/Annots [5 0 R 6 0 R]", root="/AcroForm << /Fields [] >>")
    paper.add("<< /Subtype /Widget /Rect [9 9 99 99] /T (a) /Parent 6 0 R >>")
    paper.add("<< /Subtype /Widget /Rect [9 9 99 99] /T (b) /FT /Tx /Parent 5 0 R >>")
    return paper.bytes()


@heavy
def twenty_thousand_fields() -> bytes:
    paper = Paper()
    widget = "/Subtype /Widget /FT /Tx /V (x) /Rect [9 9 99 99]"
    every = "".join(f"<<{widget}/T({n})>>" for n in range(15_000))
    paper.page = f"/Annots {paper.add(f'[{every}]')} 0 R"
    return paper.bytes()


@evil
def outlines_names_and_structure_in_circles() -> bytes:
    paper = Paper(root="/Outlines 5 0 R /Names << /Dests 6 0 R /EmbeddedFiles 6 0 R /JavaScript 6 0 R >>")
    paper.add("<< /First 5 0 R /Last 5 0 R /Next 5 0 R /Title (x) /Count 9 /A 7 0 R >>")
    paper.add("<< /Kids [6 0 R 6 0 R] /Limits [(a) (z)] >>")
    paper.add("<< /S /GoTo /D (a) /Next [7 0 R 7 0 R] >>")
    paper.add("<< /Type /StructTreeRoot /K [8 0 R 8 0 R] /ParentTree 6 0 R >>")
    paper.root += " /StructTreeRoot 8 0 R /OpenAction 7 0 R /PageLabels 6 0 R"
    return paper.bytes()


@evil
def objects_that_are_themselves() -> bytes:
    paper = Paper(page="/Annots 5 0 R /Rotate 5 0 R /UserUnit 5 0 R /CropBox 5 0 R", root="/AcroForm 5 0 R")
    paper.add("5 0 R")
    return paper.bytes()

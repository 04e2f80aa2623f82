"""Words that steer a terminal, turn the direction of text, hide, or pass for a program, wherever a PDF holds words."""

from __future__ import annotations

from evil_files.raw import Paper, evil

NASTY = {
    "escape": "\x1b[31mred\x1b]0;owned\x07\x1b[2J",
    "eight bit escape": "\x9b31mred\x9d0;owned\x9c",
    "direction": "invoice\u202efdp.exe\u2066\u2069\u200f",
    "hidden": "in\u200bvis\u2060ib\ufeffle\u00adtext\U000e0041",
    "script": "<script>alert(1)</script><img src=x onerror=alert(1)>&amp;\"'",
    "markup": "[bold red]PASS[/bold red] [link=http://example.invalid]x[/link] {measured}",
    "breaks": "one\r\nPASS, nothing to do\x0b\x0c\x85\u2028\u2029two\ttab\bback",
    "nul": "before\x00after",
    "lone surrogates": "\ud800 \udfff \udcff",
    "beyond": "\ufffe\uffff\U0010ffff\ue000",
    "formula": "=cmd|' /C calc'!A0",
}
"""What goes wrong in it, and the words."""


def utf16(words: str) -> str:
    """A string of a PDF in UTF-16, lone surrogates as they are."""
    return f"<FEFF{words.encode('utf-16-be', 'surrogatepass').hex()}>"


def escaped(words: str) -> str:
    """A literal string of a PDF in Latin-1."""
    return "(" + "".join(f"\\{ord(c) & 0xFF:03o}" for c in words) + ")"


EVERY = " ".join(NASTY.values())


def _paper_of(string: str, name: str) -> bytes:
    """A page with these words in every place that holds words."""
    paper = Paper(b"BT /F 12 Tf 99 700 Td (Title) Tj ET")
    paper.resources = f"/Font << /F << /Type /Font /Subtype /Type1 /BaseFont /{name} >> >>"
    info = paper.add(
        f"<< /Title {string} /Author {string} /Producer {string} /{name} {string} /CreationDate {string} >>"
    )
    paper.trailer = f"/Info {info} 0 R"
    script = f"<< /S /JavaScript /JS {string} >>"
    field = f"/Subtype /Widget /FT /Tx /T {string} /TU {string} /V {string} /Rect [99 99 199 120] /A {script}"
    note = f"/Subtype /Text /Contents {string} /T {string} /Rect [9 9 20 20]"
    link = f"/Subtype /Link /Rect [9 9 20 20] /A << /S /URI /URI {string} >>"
    paper.page = f"/Annots [<< {field} >> << {note} >> << {link} >>]"
    layer = paper.add(f"<< /Type /OCG /Name {string} >>")
    attached = f"<< /Names [{string} << /F {string} /UF {string} /EF << >> >>] >>"
    names = f"<< /EmbeddedFiles {attached} /JavaScript << /Names [{string} {script}] >> >>"
    paper.root = f"/AcroForm << /Fields [] >> /OpenAction {script} /Names {names} /Lang {string}"
    paper.root += f" /OCProperties << /OCGs [{layer} 0 R] /D << /Name {string} >> >> /Outlines << /Title {string} >>"
    return paper.bytes()


@evil
def nasty_words_in_utf_16() -> bytes:
    return _paper_of(utf16(EVERY), "Evil#1b#5b2J#e2#80#ae")


@evil
def nasty_words_in_latin_1() -> bytes:
    return _paper_of(escaped(EVERY), "Evil#0a#ff#fe#c3")


@evil
def half_a_character() -> bytes:
    return _paper_of("<FEFF00>", "#80#80")


@evil
def words_of_a_megabyte() -> bytes:
    paper = Paper(page="/Annots [6 0 R]", root="/AcroForm << /Fields [6 0 R] >>")
    paper.add(f"({'long ' * 40_000})")
    paper.add("<< /Subtype /Widget /FT /Tx /T 5 0 R /TU 5 0 R /V 5 0 R /Rect [9 9 99 99] >>")
    info = paper.add("<< /Title 5 0 R /Author 5 0 R /Subject 5 0 R >>")
    paper.trailer = f"/Info {info} 0 R"
    return paper.bytes()


@evil
def metadata_that_multiplies() -> bytes:
    """Entities that hold each other ten times."""
    entities = "".join(f'<!ENTITY e{n} "{f"&e{n - 1};" * 10}">' for n in range(1, 12))
    outside = '<!ENTITY file SYSTEM "file:///etc/passwd"><!ENTITY net SYSTEM "http://127.0.0.1:9/x">'
    packet = '<x:xmpmeta xmlns:x="adobe:ns:meta/">&e11;&file;&net;</x:xmpmeta>'
    body = f'<!DOCTYPE x [<!ENTITY e0 "lol">{entities}{outside}]>{packet}'
    paper = Paper()
    paper.root = f"/Metadata {paper.stream('/Type /Metadata /Subtype /XML', body.encode())} 0 R"
    return paper.bytes()


@evil
def reaches_out() -> bytes:
    """Everything by which a PDF names another file or place."""
    there = "/FS /URL /F (http://127.0.0.1:9/evil.pdf)"
    paper = Paper(b"/X Do /Y Do", resources="/XObject << /X 5 0 R /Y 6 0 R >>")
    paper.stream(f"/Type /XObject /Subtype /Form /BBox [0 0 9 9] /Ref << /F << {there} >> /Page 0 >>", b"")
    paper.stream("/Type /XObject /Subtype /Image /Width 1 /Height 1 /ColorSpace /DeviceGray /BitsPerComponent 8"
                 " /F (/tmp/evil-target) /FFilter /FlateDecode", b"")  # fmt: skip
    actions = "".join(f"<< /S /{kind} /F << {there} >> /URI (http://127.0.0.1:9/) /D [0 /Fit] >>"
                      for kind in ("URI", "GoToR", "GoToE", "Launch", "SubmitForm", "ImportData"))  # fmt: skip
    paper.page = f"/AA << /O << /S /URI /URI (http://127.0.0.1:9/) /Next [{actions}] >> >>"
    paper.root = (
        f"/URI << /Base (http://127.0.0.1:9/) >> /OpenAction << /S /Launch /F (/bin/true) >> /AF [<< {there} >>]"
    )
    return paper.bytes()


@evil
def page_of_nasty_words() -> bytes:
    """The words are shown on the page: a map gives its plain letters these meanings."""
    letters = {chr(0x41 + n): words for n, words in enumerate(NASTY.values())}
    meanings = "".join(
        f"<{ord(letter):02x}> <{words.encode('utf-16-be', 'surrogatepass').hex()}>\n"
        for letter, words in letters.items()
    )
    paper = Paper(resources="/Font << /F << /Type /Font /Subtype /Type1 /BaseFont /Helvetica /ToUnicode 5 0 R >> >>")
    paper.stream("", f"begincmap {len(letters)} beginbfchar\n{meanings}endbfchar endcmap".encode())
    lines = [f"1 0 0 1 99 {740 - 30 * n} Tm ({letter}) Tj" for n, letter in enumerate(letters)]
    paper.content = f"BT /F 12 Tf {' '.join(lines)} ET".encode()
    return paper.bytes()

"""Papers set with groff, and PDFs written by Ghostscript, as a printer driver or a merging tool leaves them."""

import re
import subprocess
from pathlib import Path
from typing import Final

import matter as m
from forms import INVENTOR_COLUMNS, TICKED, Cover, footer_words
from normalising import normalise

NEW_PAGE: Final = ("CLAIMS", "ABSTRACT")
TEXT_MACROS: Final = r"""
.pl 11i
.po 1i
.ll 6.5i
.lt 6.5i
.ps 12
.vs 19p
.nh
.de Hd
'sp 0.5i
.tl '''Docket No. @DOCKET@'
'sp |1i
.ns
..
.de Ft
'sp |10.35i
.tl ''%''
'bp
..
.wh 0 Hd
.wh -1.15i Ft
.br
"""
"""Page set-up and the two traps that print the docket number above and the page number below each page."""
FORM_MACROS: Final = r"""
.pl 11i
.po 0.9i
.ll 6.7i
.ps 11
.vs 14p
.nh
.na
"""


def set_text(text: str, matter: m.Matter, target: Path) -> None:
    """The specification with claims and abstract."""
    lines = [TEXT_MACROS.strip().replace("@DOCKET@", matter.docket), ".ce 1", matter.title]
    for block in re.split(r"\n\s*\n", text.strip()):
        first, *rest = block.splitlines()
        if first.startswith("# "):
            heading = first[2:]
            lines += [".bp"] if heading in NEW_PAGE else [".ne 4v", ".sp 0.4v"]
            lines += [".ce 1", heading]
            continue
        lines += [".ne 2v", ".ti +0.5i", first]
        for line in rest:
            lines += [".br", ".in +1i", line.removeprefix("+ "), ".br", ".in -1i"]
    typeset("\n".join(lines) + "\n", target)


def set_cover(cover: Cover, target: Path) -> None:
    """The cover sheet: tables with ruled cells, ticks typed between brackets."""
    lines = [FORM_MACROS.strip(), ".sp |0.9i", ".ps 15", ".ce 1", cover.heading, ".ps 11", ".sp 0.5v", cover.statement]
    lines += [*_head("Inventors"), *_table([INVENTOR_COLUMNS, *cover.inventors], "l l l l")]
    lines += [*_head("The filing"), *_table(cover.details(), "lw(2.2i) lw(4.1i)")]
    lines += _head("Entity status")
    for tick, words in cover.choices():
        lines += [".br", f"[{'X' if tick == TICKED else ' '}] {words}".replace("[ ]", r"[\ \ ]")]
    lines += [*_head("Fee"), f"Total fee (USD): {cover.fee}", *_head("Signature")]
    lines += _table(cover.closing(), "lw(2.2i) lw(4.1i)")
    lines += [".sp |10.2i", ".ps 9", ".ce 1", footer_words("PTO/SB/16")]
    typeset("\n".join(lines) + "\n", target)
    normalise(target, "Ghostscript", cover.matter.title)


def _head(words: str) -> list[str]:
    return [".br", ".sp 0.6v", rf"\fB{words}\fP", ".br", ".sp 0.2v"]


def _table(lines: list[tuple[str, ...]], columns: str) -> list[str]:
    """Each entry as a block of text, so that long ones wrap."""
    rows = ["\t".join(f"T{{\n{entry or chr(92) + '&'}\nT}}" for entry in line) for line in lines]
    return [".TS", "allbox tab(\t);", f"{columns}.", *rows, ".TE"]


def typeset(source: str, target: Path) -> None:
    """Set with groff and turn the PostScript into a PDF with all fonts inside."""
    command = ["groff", "-t", "-k", "-K", "utf8", "-T", "ps", "-P", "-pletter"]
    done = subprocess.run(command, input=source.encode(), check=True, capture_output=True, timeout=60)
    postscript = target.with_suffix(".ps")
    postscript.write_bytes(done.stdout)
    write_again([postscript], target)
    postscript.unlink()


def write_again(sources: list[Path], target: Path) -> None:
    """Let Ghostscript write one PDF of all sources, with all fonts embedded."""
    switches = ["-q", "-dNOPAUSE", "-dBATCH", "-dSAFER", "-sDEVICE=pdfwrite", "-dCompatibilityLevel=1.4"]
    fonts = ["-dPDFSETTINGS=/prepress", "-dEmbedAllFonts=true", "-sPAPERSIZE=letter"]
    embed = ["-c", "<< /NeverEmbed [ ] >> setdistillerparams", "-f"]
    subprocess.run(
        ["gs", *switches, *fonts, f"-sOutputFile={target}", *embed, *map(str, sources)],
        check=True,
        capture_output=True,
        timeout=120,
    )

"""What a PDF holds besides its pages: each kind, and what looks like it and is proper (clauses of ISO 32000-1)."""

from __future__ import annotations

import io
from collections.abc import Callable
from pathlib import Path

import pikepdf
import pytest
from pikepdf import Array, Dictionary, Name, Pdf, String

from preflight.facts import Inside
from preflight.reading.structure import OpenPdf, walking
from preflight.reading.structure.inside import read_inside

pytestmark = pytest.mark.filterwarnings("ignore::pikepdf.exceptions.PageCopyWarning")
"""A widget that the form does not list is what some of the tests are about."""

RECT = [72, 700, 172, 720]
Change = Callable[[Pdf], None]


@pytest.fixture
def inside(draw, facts_of) -> Callable[..., Inside]:
    """What is read inside of a PDF of so many pages after a change to it."""

    def read(change: Change, pages: int = 1) -> Inside:
        out = io.BytesIO()
        with pikepdf.open(io.BytesIO(draw(*[lambda canvas: canvas.drawString(100, 700, "A paper")] * pages))) as pdf:
            change(pdf)
            pdf.save(out)
        facts = facts_of(out.getvalue())
        assert facts.unread is None
        return facts.structure.inside

    return read


def lay(pdf: Pdf, page: int = 1, **entries: object) -> pikepdf.Object:
    """An annotation on a page."""
    annotation = pdf.make_indirect(Dictionary(Type=Name.Annot, Rect=Array(RECT), **entries))
    sheet = pdf.pages[page - 1].obj
    sheet.Annots = Array([*sheet.get("/Annots", []), annotation])
    return annotation


def script(words: str = "run();", **entries: object) -> pikepdf.Object:
    return Dictionary(S=Name.JavaScript, JS=String(words), **entries)


def attached(pdf: Pdf, name: str = "data.csv") -> pikepdf.Object:
    held = pdf.make_stream(b"a,b", Type=Name.EmbeddedFile)
    return pdf.make_indirect(Dictionary(Type=Name.Filespec, F=String(name), EF=Dictionary(F=held)))


def test_a_plain_paper_holds_nothing(inside):
    assert inside(lambda _pdf: None) == Inside()


def test_annotations_have_kind_place_author_and_first_words(inside):
    """12.5.6."""

    def mark(pdf: Pdf) -> None:
        lay(pdf, 2, Subtype=Name.Highlight, F=4, T=String("Ada"), Contents=String("check\nthis " + "x" * 500))
        lay(pdf, 2, Subtype=Name.FreeText, F=6, Contents=String("/Ada Example/"))

    first, second = inside(mark, pages=2).annotations
    assert (first.kind, first.page, first.author, first.prints) == ("Highlight", 2, "Ada", True)
    assert first.words.startswith("check this x")
    assert len(first.words) == walking.LONGEST
    assert first.box.left == pytest.approx(2.54, abs=0.01)
    assert (second.kind, second.words, second.prints) == ("FreeText", "/Ada Example/", False)


def test_a_window_counts_only_without_its_note(inside):
    """12.5.6.14."""

    def note(pdf: Pdf) -> None:
        parent = lay(pdf, Subtype=Name.Text)
        lay(pdf, Subtype=Name.Popup, Parent=parent)
        lay(pdf, Subtype=Name.Popup)

    assert [one.kind for one in inside(note).annotations] == ["Text", "Popup"]


def test_fields_are_no_annotations(inside):
    def field(pdf: Pdf) -> None:
        lay(pdf, Subtype=Name.Widget, FT=Name.Tx, T=String("title"))

    assert inside(field).annotations == ()


def test_links_within_the_file_are_nothing(inside):
    """12.5.6.5: by a place, by an action, by name; 12.6.4.11: to the next page."""

    def link(pdf: Pdf) -> None:
        there = Array([pdf.pages[1].obj, Name.Fit])
        lay(pdf, Subtype=Name.Link, Dest=there)
        lay(pdf, Subtype=Name.Link, A=Dictionary(S=Name.GoTo, D=there))
        lay(pdf, Subtype=Name.Link, A=Dictionary(S=Name.Named, N=Name.NextPage))
        pdf.Root.OpenAction = there

    assert inside(link, pages=2) == Inside()


def test_a_link_to_an_address_is_told_once(inside):
    """12.6.4.7."""

    def link(pdf: Pdf) -> None:
        lay(pdf, Subtype=Name.Link, A=Dictionary(S=Name.URI, URI=String("https://example.com/a")))

    held = inside(link)
    assert [(one.kind, one.words) for one in held.annotations] == [("Link", "https://example.com/a")]
    assert held.actions == ()


@pytest.mark.parametrize(
    ("place", "where", "page"),
    [
        (lambda pdf, do: pdf.Root.__setattr__("OpenAction", do), "on opening the file", None),
        (lambda pdf, do: pdf.Root.__setattr__("AA", Dictionary(WP=do)), "on printing the file", None),
        (lambda pdf, do: pdf.pages[1].obj.__setattr__("AA", Dictionary(O=do)), "on showing page 2", 2),
        (lambda pdf, do: lay(pdf, 2, Subtype=Name.Screen, AA=Dictionary(PO=do)), "page 2", 2),
        (lambda pdf, do: lay(pdf, 2, Subtype=Name.Widget, T=String("n"), AA=Dictionary(K=do)), "field n", 2),
    ],
)
def test_what_happens_without_a_click(place, where, page, inside):
    """12.6.3, 7.7.2."""
    (action,) = inside(lambda pdf: place(pdf, script()), pages=2).actions
    assert (action.kind, action.where, action.page, action.does, action.unasked) == (
        "JavaScript",
        where,
        page,
        "run();",
        True,
    )


def test_named_scripts(inside):
    """12.6.4.16, and an empty list of them."""

    def name(pdf: Pdf) -> None:
        text = pdf.make_stream(b"check();")
        kid = pdf.make_indirect(
            Dictionary(Names=Array([String("Check"), Dictionary(S=Name.JavaScript, JS=text)]), Limits=Array([]))
        )
        pdf.Root.Names = Dictionary(JavaScript=Dictionary(Kids=Array([kid])))

    (action,) = inside(name).actions
    assert (action.where, action.does) == ("named script Check", "check();")
    empty = inside(lambda pdf: pdf.Root.__setattr__("Names", Dictionary(JavaScript=Dictionary(Names=Array([])))))
    assert empty == Inside()


@pytest.mark.parametrize(
    ("action", "kind", "does"),
    [
        (Dictionary(S=Name.Launch, F=String("setup.exe")), "Launch", "setup.exe"),
        (Dictionary(S=Name.Launch, Win=Dictionary(F=String("cmd.exe"))), "Launch", "cmd.exe"),
        (Dictionary(S=Name.SubmitForm, F=Dictionary(FS=Name.URL, F=String("https://x.test"))), "SubmitForm", "https://x.test"),
        (Dictionary(S=Name.ImportData, F=String("in.fdf")), "ImportData", "in.fdf"),
        (Dictionary(S=Name.Named, N=Name.Print), "Named", "Print"),
        (Dictionary(S=Name.Movie), "Movie", ""),
        (Dictionary(S=Name.Sound), "Sound", ""),
        (Dictionary(S=Name.Rendition), "Rendition", ""),
        (Dictionary(S=Name.URI, URI=String("https://x.test")), "URI", "https://x.test"),
    ],
)  # fmt: skip
def test_actions_on_a_click(action, kind, does, inside):
    """12.6.4."""
    (found,) = inside(lambda pdf: lay(pdf, Subtype=Name.Widget, T=String("b"), A=action)).actions
    assert (found.kind, found.does, found.unasked, found.where, found.page) == (kind, does, False, "field b", 1)


def test_what_follows_an_action_is_one_too_also_in_circles(inside):
    """12.6.2."""

    def chain(pdf: Pdf) -> None:
        last = pdf.make_indirect(Dictionary(S=Name.Launch, F=String("b")))
        first = pdf.make_indirect(Dictionary(S=Name.GoTo, D=String("x"), Next=Array([script(), last])))
        last.Next = first
        pdf.Root.OpenAction = first

    held = inside(chain)
    assert [action.kind for action in held.actions] == ["JavaScript", "Launch"]
    assert held.unread == {}


def test_a_chain_without_end_is_named(inside):
    def chain(pdf: Pdf) -> None:
        step = pdf.make_indirect(Dictionary(S=Name.GoTo))
        for _ in range(200):
            step = pdf.make_indirect(Dictionary(S=Name.GoTo, Next=step))
        pdf.Root.OpenAction = step

    why = "on opening the file more than 50 actions follow each other"
    assert inside(chain).unread == {"actions": why, "external": why}


def test_a_widget_of_a_field_acts_once(inside):
    """12.7.3.1: groups, fields and their widgets; the calculation stands with the field."""

    def form(pdf: Pdf) -> None:
        group = pdf.make_indirect(Dictionary(T=String("fees")))
        field = pdf.make_indirect(
            Dictionary(T=String("total"), FT=Name.Tx, Parent=group, AA=Dictionary(C=script("sum();")))
        )
        field.Kids = Array([lay(pdf, 2, Subtype=Name.Widget, Parent=field, A=script("show();"))])
        group.Kids = Array([field])
        pdf.Root.AcroForm = Dictionary(Fields=Array([group]))

    told = [(a.does, a.where, a.page, a.unasked) for a in inside(form, pages=2).actions]
    assert told == [("sum();", "field fees.total", 2, True), ("show();", "field fees.total", 2, False)]


def test_bookmarks_act_too_and_may_loop(inside):
    """12.3.3."""

    def outline(pdf: Pdf) -> None:
        leaf = pdf.make_indirect(Dictionary(Title=String("Start"), A=Dictionary(S=Name.Launch, F=String("x"))))
        leaf.Next = leaf
        pdf.Root.Outlines = pdf.make_indirect(Dictionary(First=leaf, Last=leaf))

    assert [(a.kind, a.where) for a in inside(outline).actions] == [("Launch", "bookmark Start")]


def test_an_attached_file_is_told_once_with_its_page(inside):
    """7.11.4; 12.5.6.15: the list of files and the pin on the page name the same one."""

    def attach(pdf: Pdf) -> None:
        one, other = attached(pdf), attached(pdf, "table.xlsx")
        lay(pdf, 2, Subtype=Name.FileAttachment, FS=one)
        pdf.Root.Names = Dictionary(EmbeddedFiles=Dictionary(Names=Array([String("a"), one, String("b"), other])))
        pdf.Root.AF = Array([other])

    held = inside(attach, pages=2)
    assert [(file.name, file.page) for file in held.attachments] == [("data.csv", 2), ("table.xlsx", None)]
    assert not held.portfolio


def test_lists_of_files_without_a_file(inside):
    """An empty list; PDF/A-3 with an empty /AF; a specification that holds no file."""

    def empty(pdf: Pdf) -> None:
        bare = Dictionary(Type=Name.Filespec, F=String("elsewhere.csv"))
        pdf.Root.Names = Dictionary(EmbeddedFiles=Dictionary(Names=Array([String("a"), bare])), Dests=Dictionary())
        pdf.Root.AF = Array([])

    assert inside(empty) == Inside()


def test_a_portfolio(inside):
    """12.3.5."""
    assert inside(lambda pdf: pdf.Root.__setattr__("Collection", Dictionary(View=Name.D))).portfolio


def test_page_transitions_but_not_empty_ones(inside):
    """12.4.4: some libraries give every page an empty one; "replace" is none."""

    def show(pdf: Pdf) -> None:
        pdf.pages[0].obj.Trans = Dictionary(S=Name.Dissolve)
        pdf.pages[1].obj.Trans = Dictionary()
        pdf.pages[2].obj.Trans = Dictionary(S=Name.R)
        pdf.pages[3].obj.Dur = 5
        pdf.pages[4].obj.Dur = Name.Odd

    assert inside(show, pages=5).transitions == (1, 4)


def _layers(pdf: Pdf, **default: object) -> list[pikepdf.Object]:
    printed = Dictionary(Print=Dictionary(PrintState=Name.OFF))
    groups = [
        pdf.make_indirect(Dictionary(Type=Name.OCG, Name=String("Lines"))),
        pdf.make_indirect(Dictionary(Type=Name.OCG, Name=String("Notes"), Usage=printed)),
    ]
    pdf.Root.OCProperties = Dictionary(OCGs=Array(groups), D=Dictionary(**default))
    return groups


def test_layers_in_their_default_state(inside):
    """8.11.4.3: listed as off; base state off and listed as on."""

    def off(pdf: Pdf) -> None:
        _, notes = _layers(pdf)
        pdf.Root.OCProperties.D.OFF = Array([notes])

    def base(pdf: Pdf) -> None:
        lines, _ = _layers(pdf, BaseState=Name.OFF)
        pdf.Root.OCProperties.D.ON = Array([lines])

    for change in (off, base):
        assert [(one.name, one.shown, one.printed) for one in inside(change).layers] == [
            ("Lines", True, True),
            ("Notes", False, False),
        ]


def test_a_layer_that_printing_switches_off(inside):
    """8.11.4.4: the layer's own wish counts only where the configuration asks for it."""

    def switched(pdf: Pdf) -> None:
        groups = _layers(pdf)
        pdf.Root.OCProperties.D.AS = Array(
            [Dictionary(Event=Name.Print, Category=Array([Name.Print]), OCGs=Array(groups))]
        )

    def wish(pdf: Pdf) -> None:
        _layers(pdf)

    assert [(one.shown, one.printed) for one in inside(switched).layers] == [(True, True), (True, False)]
    assert all(one.shown and one.printed for one in inside(wish).layers)


def test_an_empty_list_of_layers_is_none(inside):
    assert (
        inside(lambda pdf: pdf.Root.__setattr__("OCProperties", Dictionary(OCGs=Array([]), D=Dictionary()))) == Inside()
    )


def test_data_kept_in_another_file(inside):
    """7.3.8.2; a stream that no page shows does no harm."""

    def elsewhere(pdf: Pdf) -> None:
        picture = pdf.make_stream(b"", Type=Name.XObject, Subtype=Name.Image, Width=1, Height=1, F=String("fig1.tif"))
        form = pdf.make_stream(
            b"", Subtype=Name.Form, BBox=Array([0, 0, 1, 1]), Resources=Dictionary(XObject=Dictionary(I=picture))
        )
        pdf.pages[1].obj.Resources.XObject = Dictionary(F=form)
        pdf.Root.Unused = pdf.make_stream(b"", F=String("unused.tif"))

    assert [(one.what, one.page) for one in inside(elsewhere, pages=2).external] == [("data kept in fig1.tif", 2)]


def test_a_page_of_another_file_in_place_of_a_form(inside):
    """8.10.4."""

    def proxy(pdf: Pdf) -> None:
        ref = Dictionary(F=Dictionary(F=String("plan.pdf")), Page=0)
        form = pdf.make_stream(b"", Subtype=Name.Form, BBox=Array([0, 0, 1, 1]), Ref=ref)
        pdf.pages[0].obj.Resources.XObject = Dictionary(F=form)

    assert [(one.what, one.page) for one in inside(proxy).external] == [("a page of plan.pdf", 1)]


def test_jumps_into_other_files(inside):
    """12.6.4.3 and 12.6.4.4; a jump into a file attached to this one leads nowhere outside."""

    def jump(pdf: Pdf) -> None:
        lay(pdf, Subtype=Name.Link, A=Dictionary(S=Name.GoToR, F=String("claims.pdf"), D=Array([0, Name.Fit])))
        lay(pdf, Subtype=Name.Link, A=Dictionary(S=Name.GoToE, T=Dictionary(R=Name.C, N=String("a"))))

    held = inside(jump)
    assert [(one.what, one.page) for one in held.external] == [("a jump into claims.pdf", 1)]
    assert [action.kind for action in held.actions] == ["GoToR", "GoToE"]


def test_broken_parts_are_passed_over_or_named(inside):
    """What has the wrong type is nothing; what loops is named, and the rest is read."""

    def wrong(pdf: Pdf) -> None:
        for key in ("OpenAction", "AA", "AF", "Collection", "OCProperties", "Perms", "AcroForm", "Outlines"):
            pdf.Root[f"/{key}"] = 7
        tree = pdf.make_indirect(Dictionary())
        tree.Kids = Array([tree, 5])
        pdf.Root.Names = Dictionary(EmbeddedFiles=tree, JavaScript=String("x"))
        pdf.pages[0].obj.Trans = String("x")
        lay(pdf, Subtype=Name.Stamp, A=5, AA=Array([]))
        pdf.pages[0].obj.Annots.append(9)
        lay(pdf)

    held = inside(wrong)
    assert held.unread == {"attachments": "the list of attached files loops or is too deep"}
    assert [one.kind for one in held.annotations] == ["Stamp", "unknown"]


def test_words_in_no_known_alphabet_cost_nothing(inside):
    """7.3.5: bytes of a name that are no UTF-8; half characters and false marks in strings."""

    def strange(pdf: Pdf) -> None:
        lay(
            pdf,
            Subtype=pikepdf.Object.parse(b"/St#ffmp"),
            T=String(b"\xfe\xff\xd8\x00\x00a"),
            Contents=String(b"\xef\xbb\xbf\xff!"),
        )

    held = inside(strange)
    assert held.unread == {}
    assert [(one.kind, one.author) for one in held.annotations] == [("St#ffmp", "a")]
    assert held.annotations[0].words.endswith("!")


def test_more_than_can_be_kept_is_named(inside, monkeypatch):
    monkeypatch.setattr(walking, "MOST", 3)

    def many(pdf: Pdf) -> None:
        for _ in range(5):
            lay(pdf, Subtype=Name.Text)

    held = inside(many)
    assert len(held.annotations) == 3
    assert held.unread == {"annotations": "the annotations are more than 3"}


def test_without_time_what_was_not_looked_at_is_named(draw):
    held = read_inside(OpenPdf(draw(lambda canvas: canvas.drawString(100, 700, "A paper"))), until=0.0)
    assert held.unread["annotations"] == "the annotations were not all looked at: it took too long"
    assert {"actions", "attachments", "external", "transitions", "unshown_fields"} <= held.unread.keys()


EXPORTED = Path(__file__).parent / "exported"
"""One text with a comment, a link to its own heading, one to an e-mail address and one to a web page."""


@pytest.mark.parametrize(
    ("name", "kinds", "attached"),
    [
        ("notes.pdf", ["Link", "Link", "Text"], []),  # LibreOffice, "comments as PDF annotations"
        ("hybrid.pdf", ["Link", "Link", "Text"], ["its own source (application/vnd.oasis.opendocument.text)"]),
        ("web_page.pdf", ["Link", "Link"], []),  # Chromium, printed without a window
    ],
)
def test_what_everyday_programs_export(name, kinds, attached, facts_of):
    held = facts_of((EXPORTED / name).read_bytes()).structure.inside
    assert sorted(one.kind for one in held.annotations) == kinds
    assert {one.words for one in held.annotations if one.kind == "Link"} == {
        "mailto:ada@example.com",
        "https://example.com/",
    }
    assert [one.name for one in held.attachments] == attached
    assert (held.actions, held.external, held.layers, held.unread) == ((), (), (), {})

"""The walk over the filing folder."""

import hashlib
import sys
from pathlib import Path

import pytest

from preflight.bundle import read_folder
from preflight.datafiles import DataMistakes


def test_files_come_sorted_with_size_and_digest(tmp_path: Path) -> None:
    (tmp_path / "b.pdf").write_bytes(b"two")
    (tmp_path / "a.pdf").write_bytes(b"one")
    manifest = read_folder(tmp_path)
    assert [e.name for e in manifest.files] == ["a.pdf", "b.pdf"]
    assert manifest.files[0].sha256 == hashlib.sha256(b"one").hexdigest()
    assert manifest.files[0].size == 3
    assert manifest.folder == tmp_path.name


@pytest.mark.parametrize(
    "name", [".DS_Store", "Thumbs.db", "desktop.ini", "~$spec.docx", ".~lock.spec.odt#", "._spec.pdf"]
)
def test_system_and_lock_files_are_left_out_without_a_word(tmp_path: Path, name: str) -> None:
    (tmp_path / name).write_bytes(b"x")
    (entry,) = read_folder(tmp_path).entries
    assert entry.left_out
    assert entry.harmless


def test_a_sub_folder_is_named_and_not_followed(tmp_path: Path) -> None:
    (tmp_path / "old").mkdir()
    (tmp_path / "old" / "spec.pdf").write_bytes(b"x")
    (entry,) = read_folder(tmp_path).entries
    assert (entry.name, entry.left_out, entry.harmless) == ("old", "a sub-folder", False)


@pytest.mark.skipif(sys.platform == "win32", reason="links need rights there")
def test_a_link_out_of_the_folder_is_not_followed_but_one_within_is(tmp_path: Path) -> None:
    outside = tmp_path / "outside.pdf"
    outside.write_bytes(b"secret")
    folder = tmp_path / "bundle"
    folder.mkdir()
    (folder / "inside.pdf").write_bytes(b"here")
    (folder / "link-in.pdf").symlink_to(folder / "inside.pdf")
    (folder / "link-out.pdf").symlink_to(outside)
    (folder / "dangling.pdf").symlink_to(folder / "nowhere.pdf")
    (folder / "loop.pdf").symlink_to(folder / "loop.pdf")
    by_name = {e.name: e for e in read_folder(folder).entries}
    assert by_name["link-out.pdf"].left_out == "a link out of the folder"
    assert by_name["link-out.pdf"].sha256 == ""
    assert by_name["link-in.pdf"].sha256 == by_name["inside.pdf"].sha256
    assert by_name["dangling.pdf"].unread
    assert by_name["loop.pdf"].unread or by_name["loop.pdf"].left_out


def test_no_such_folder_and_a_file_for_a_folder_are_one_clear_line(tmp_path: Path) -> None:
    with pytest.raises(DataMistakes) as none:
        read_folder(tmp_path / "nowhere")
    assert none.value.mistakes == (f"{tmp_path / 'nowhere'}: no such folder",)
    (tmp_path / "spec.pdf").write_bytes(b"x")
    with pytest.raises(DataMistakes) as file:
        read_folder(tmp_path / "spec.pdf")
    assert "name the folder" in file.value.mistakes[0]


@pytest.mark.parametrize(
    ("typed", "offered"),
    [("DEMO-O417", "DEMO-0417"), ("demo-0417", "DEMO-0417"), ("Matter", None), ("DEM0-0417/papers", "DEMO-0417")],
)
def test_a_folder_that_is_misspelt_gets_the_near_name_beside_it(tmp_path: Path, typed: str, offered: str) -> None:
    (tmp_path / "DEMO-0417").mkdir()
    (tmp_path / "DEMO-0418.pdf").write_bytes(b"no folder")
    if (tmp_path / typed).exists():
        pytest.skip("this disk does not tell capitals apart")
    with pytest.raises(DataMistakes) as told:
        read_folder(tmp_path / typed)
    (line,) = told.value.mistakes
    assert line.startswith(f"{tmp_path / typed}: no such folder")
    assert line.endswith(f'; did you mean "{tmp_path / offered}"?' if offered else "no such folder")


def test_the_declaration_is_no_paper(tmp_path: Path) -> None:
    (tmp_path / "filing.toml").write_text("")
    assert read_folder(tmp_path).entries == ()


@pytest.mark.skipif(sys.platform != "linux", reason="only there can a name be no text")
def test_a_name_that_is_no_text_keeps_its_bytes_visible(tmp_path: Path) -> None:
    (Path(str(tmp_path)) / b"sp\xe9c.pdf".decode("utf-8", "surrogateescape")).write_bytes(b"x")
    (entry,) = read_folder(tmp_path).entries
    entry.name.encode("utf-8")
    assert "xe9" in entry.name or "udce9" in entry.name


def test_names_in_any_script_are_kept(tmp_path: Path) -> None:
    for name in ("説明.pdf", "résumé.pdf", "опис.pdf"):
        (tmp_path / name).write_bytes(b"x")
    assert {e.name for e in read_folder(tmp_path).files} == {"説明.pdf", "résumé.pdf", "опис.pdf"}


@pytest.mark.hostile
@pytest.mark.skipif(sys.platform == "win32", reason="such a file takes its room on the disk there")
def test_a_file_of_terabytes_that_takes_no_room_is_not_digested(tmp_path: Path) -> None:
    with (tmp_path / "huge.pdf").open("wb") as stream:
        stream.truncate(1_000_000_000_000)
    (entry,) = read_folder(tmp_path).files
    assert (entry.size, entry.sha256) == (1_000_000_000_000, "")
    assert entry.unread == "it is larger than 4 GB, more than this program reads"

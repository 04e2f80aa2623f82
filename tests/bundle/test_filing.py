"""What the filer declares, and how it is weighed."""

import datetime as dt
import sys
from pathlib import Path

import pytest

from preflight.bundle import read_declared, read_folder, settle
from preflight.datafiles import DataMistakes
from preflight.facts.declared import Answer, Declared, SignOff

ROLES = ("specification", "drawings", "cover-sheet")
NOON = dt.datetime(2026, 11, 25, 12, tzinfo=dt.UTC)


def declare(folder: Path, text: str) -> Declared:
    (folder / "spec.pdf").write_bytes(b"x")
    (folder / "filing.toml").write_text(text, encoding="utf-8")
    return read_declared(folder, read_folder(folder), ROLES)


def test_nothing_declared_is_nothing(tmp_path: Path) -> None:
    assert read_declared(tmp_path, read_folder(tmp_path), ROLES) == Declared()


def test_everything_that_can_be_declared(tmp_path: Path) -> None:
    declared = declare(
        tmp_path,
        'office = "us"\nentity = "micro"\ntitle = "Hose guide"\ndocket = "DEMO-0417"\ninventors = ["Ada Example"]\n'
        'filing_date = 2026-11-30\nfee_paid = 65\n[papers]\n"spec.pdf" = "specification"\n',
    )
    assert declared.filing_date == dt.date(2026, 11, 30)
    assert declared.papers == {"spec.pdf": "specification"}
    assert declared.fee_paid == 65


def test_all_mistakes_are_shown_at_once_with_the_nearest_known_name(tmp_path: Path) -> None:
    with pytest.raises(DataMistakes) as error:
        declare(
            tmp_path,
            'entitty = "micro"\nready_for = "ever"\n[papers]\n"spec.pdf" = "drawing"\n"specs.pdf" = "drawings"\n',
        )
    lines = "\n".join(error.value.mistakes)
    assert '"entitty" is unknown; did you mean "entity"?' in lines
    assert '"ever" is unknown; known are filing, examination' in lines
    assert '"drawing" is unknown; did you mean "drawings"?' in lines
    assert '"specs.pdf" is not in the folder; did you mean "spec.pdf"?' in lines
    assert all(line.startswith("filing.toml: ") for line in error.value.mistakes)


def test_broken_toml_names_the_line(tmp_path: Path) -> None:
    with pytest.raises(DataMistakes, match="line 2"):
        declare(tmp_path, 'office = "us"\nentity = micro\n')


def test_the_command_line_beats_the_file_which_beats_the_default() -> None:
    settled = settle(
        Declared(entity="small"),
        Declared(entity="micro", filing_date=dt.date(2026, 12, 1)),
        timezone="America/New_York",
        now=NOON,
    )
    assert settled.declared.entity == "small"
    assert settled.filing_date == settled.payment_date == dt.date(2026, 12, 1)
    assert settled.how_known["entity"] == "given on the command line"
    assert settled.how_known["filing_date"] == "declared in filing.toml"
    assert settled.how_known["payment_date"] == "the day of filing"


def test_today_is_the_day_in_the_offices_time_zone() -> None:
    # 37 CFR 1.6(a)(4): the date in the Eastern time zone counts; 03:00 UTC is still the evening before there
    settled = settle(Declared(), Declared(), timezone="America/New_York", now=dt.datetime(2026, 7, 1, 3, tzinfo=dt.UTC))
    assert settled.filing_date == dt.date(2026, 6, 30)


@pytest.mark.hostile
@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("title = " + "[" * 100_000, "nested too deeply"),
        ("a." * 20_000 + "b = 1", "nested too deeply"),
        ("fee_paid = " + "9" * 5000, "a number in it is too large"),
        ("fee_paid = 0x" + "f" * 5000, "a number in it is too large"),
        ("fee_paid = 99999999999", "fee_paid: 99999999999 is greater than the maximum"),
        ("title = '" + "x" * 1_000_001 + "'", "longer than 1000000 bytes"),
    ],
    ids=["deep list", "deep table", "long number", "long hexadecimal number", "large number", "long"],
)
def test_a_declaration_that_is_made_to_break_the_program_is_a_mistake_in_it(
    tmp_path: Path, text: str, said: str
) -> None:
    with pytest.raises(DataMistakes, match=r"^filing\.toml: ") as error:
        declare(tmp_path, text)
    assert said in str(error.value)
    assert len(str(error.value)) < 200


@pytest.mark.hostile
@pytest.mark.skipif(sys.platform == "win32", reason="links need rights there")
def test_a_declaration_that_is_a_link_out_of_the_folder_is_not_read(tmp_path: Path) -> None:
    folder = tmp_path / "bundle"
    folder.mkdir()
    (tmp_path / "secret.toml").write_text("password = 'x'")
    (folder / "filing.toml").symlink_to(tmp_path / "secret.toml")
    with pytest.raises(DataMistakes, match="link out of the folder and was not read"):
        read_declared(folder, read_folder(folder), ROLES)


DIGEST = "0" * 64


def test_sign_offs_and_answers_are_read_with_the_files_that_they_speak_of(tmp_path: Path) -> None:
    declared = declare(
        tmp_path,
        f'[[signed_off]]\nfinding = "0123456789ab"\nby = "AE"\non = 2026-11-26\nreason = "fine"\n'
        f'files = {{"gone.pdf" = "{DIGEST}"}}\n'
        '[[answers]]\nquestion = "two-eyes"\nvalue = "does not apply"\nby = "PR"\non = 2026-11-26\n',
    )
    assert declared.signed_off == (
        SignOff("0123456789ab", "AE", dt.date(2026, 11, 26), "fine", "", "", {"gone.pdf": DIGEST}),
    )
    assert declared.answers == (Answer("two-eyes", "does not apply", "PR", dt.date(2026, 11, 26)),)


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ('[[signed_off]]\nfinding = "0123456789ab"\nby = "AE"\non = 2026-11-26\n', "reason is missing"),
        ('[[signed_off]]\nfinding = "us.x"\nby = "AE"\non = 2026-11-26\nreason = "x"\n', "does not match"),
        ('[[signed_off]]\nfinding = "0123456789ab"\nby = " "\non = 2026-11-26\nreason = "x"\n', "does not match"),
        ('[[answers]]\nquestion = "a"\nvalue = "perhaps"\nby = "AE"\non = 2026-11-26\n', "known are yes, no"),
        (
            '[[answers]]\nquestion = "a"\nvalue = "no"\nby = "AE"\non = 2026-11-26\n' * 2,
            "question a stands there 2 times",
        ),
    ],
)
def test_a_sign_off_that_is_none_stops_the_run(tmp_path: Path, text: str, said: str) -> None:
    with pytest.raises(DataMistakes, match=said):
        declare(tmp_path, text)

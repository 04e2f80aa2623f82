"""`preflight dates`: as a user runs it; the calendar file is read by a second library."""

from __future__ import annotations

import datetime as dt
import json
import re
import unicodedata
from pathlib import Path

import pytest
import vobject
from click.testing import CliRunner, Result
from hypothesis import given, settings
from hypothesis import strategies as st
from jsonschema import Draft202012Validator

from preflight.cli.commands import preflight
from preflight.datafiles import schema
from preflight.days import OfficeDays, ended
from preflight.reporting.calendar_file import calendar_file
from preflight.reporting.dates_told import Asked
from preflight.testing import rulebook

DAY = dt.date
NOW = dt.datetime(2026, 11, 25, 23, 40, 12, 345678, dt.timezone(dt.timedelta(hours=-5)))


def dates(*arguments: str | Path) -> Result:
    return CliRunner(env={"COLUMNS": "100"}).invoke(preflight, ["dates", *map(str, arguments)])


def as_json(*arguments: str) -> dict:
    result = dates(*arguments, "--json", "-")
    assert result.exit_code == 0, result.output
    data = json.loads(result.stdout)
    assert [e.message for e in Draft202012Validator(schema("dates")).iter_errors(data)] == []
    return data


def test_the_day_that_no_us_holiday_moves_comes_first() -> None:
    lines = dates("--filed", "2025-11-26").stdout.splitlines()
    assert lines[0] == "Filing date Wednesday 26 November 2025"
    shown = [line for line in lines if line.startswith("  ") and "2026" in line][:2]
    assert "Thursday 26 November 2026" in shown[0]
    assert "other countries" in shown[0]
    assert "Friday 27 November 2026" in shown[1]
    assert "US nonprovisional" in shown[1]


def test_how_it_was_counted_stands_in_words() -> None:
    text = " ".join(dates("--filed", "2025-11-26").stdout.split())
    assert (
        "12 months from the filing on Wednesday 26 November 2025; that day is not counted; ends on the corresponding"
        " day, Thursday 26 November 2026; no business on 26 November 2026 (Thanksgiving Day); moved to Friday 27"
        " November 2026"
    ) in text
    assert "35 USC 119(e)(3)" in text
    assert "Not legal advice" in text


def test_a_leap_day_says_why_it_ends_earlier() -> None:
    text = " ".join(dates("--filed", "2024-02-29").stdout.split())
    assert "that month has no day 29, so it ends on its last, Friday 28 February 2025" in text


def test_json_in_the_form_of_its_schema() -> None:
    data = as_json("--filed", "2020-12-31", "--disclosed", "2020-11-28", "--docket", "DEMO-001")
    days = {one["id"]: one["day"] for one in data["dates"]}
    assert days == {
        "elsewhere": "2021-12-31",
        "nonprovisional": "2022-01-03",  # K39, derived: New Year's Day kept on 31 December
        "licence": "2021-06-30",
        "grace": "2021-11-29",
        "restoration": "2022-02-28",
    }
    assert data["docket"] == "DEMO-001"
    assert data["dates"][1]["passed"][0]["why"] == "New Year's Day, kept for Saturday 2022-01-01"


def test_without_a_disclosure_no_year_of_grace_and_a_question() -> None:
    assert "grace" not in {one["id"] for one in as_json("--filed", "2026-11-25")["dates"]}
    assert "add --disclosed DAY" in dates("--filed", "2026-11-25").stdout


@pytest.mark.parametrize(
    ("disclosed", "said"),
    [
        ("2025-11-25", "is within the year"),
        ("2025-11-24", "is after the year"),
        ("2026-12-01", "later than the filing"),
    ],
)
def test_a_disclosure_against_the_filing(disclosed: str, said: str) -> None:
    (grace,) = [d for d in as_json("--filed", "2026-11-25", "--disclosed", disclosed)["dates"] if d["id"] == "grace"]
    assert said in grace["cautions"][0]


def test_a_closure_by_hearsay_is_told_with_the_earlier_day() -> None:
    # K38
    (later,) = [d for d in as_json("--filed", "2024-12-24")["dates"] if d["id"] == "nonprovisional"]
    assert (later["day"], later["without_hearsay"]) == ("2025-12-29", "2025-12-24")
    assert "third party" in later["cautions"][0]


@pytest.mark.parametrize(
    ("filed", "day", "another"),
    [
        (["2026-06-30T21:30-07:00"], "2026-07-01", True),  # K51, derived from 37 CFR 1.6(a)(4)
        (["2026-06-30T21:30", "--zone", "America/Los_Angeles"], "2026-07-01", True),
        (["2026-06-30 23:59:59", "--zone", "America/New_York"], "2026-06-30", False),
        (["2026-07-01T03:59Z"], "2026-06-30", True),
        (["2026-11-30T23:30", "--zone", "Europe/Berlin"], "2026-11-30", False),
        (["2026-12-01T05:59", "--zone", "Europe/Berlin"], "2026-11-30", True),
    ],
)
def test_the_moment_of_the_upload(filed: list[str], day: str, another: bool) -> None:
    data = as_json("--filed", *filed)
    assert data["filed"] == day
    assert ("ANOTHER DAY" in data["filed_how"]) == another


@pytest.mark.parametrize(
    ("arguments", "said"),
    [
        (["--filed", "11/26/2026"], "write 2026-11-26"),
        (["--filed", "26.11.2026"], "write 2026-11-26"),
        (["--filed", "03/04/2026"], "write 2026-03-04 or 2026-04-03"),
        (["--filed", "2026-2-3"], "write 2026-02-03"),
        (["--filed", "2026-02-30"], "is not a day"),
        (["--filed", "Nov 26, 2026"], "such as 2026-11-25"),
        (["--filed", "2026-11-26T9pm"], "write 24 hours, such as 2026-11-26T23:30"),
        (["--filed", "2026-11-26T24:30"], "is not a time of day"),
        (["--filed", "2026-11-26T23:30"], "does not say where that clock stands"),
        (["--filed", "2026-11-26", "--zone", "America/New_York"], "--zone goes with a time of day"),
        (["--filed", "2026-11-26T23:30-05:00", "--zone", "America/New_York"], "leave out --zone"),
        (["--filed", "2026-11-26T23:30", "--zone", "America/LosAngeles"], 'did you mean "America/Los_Angeles"'),
        (["--filed", "2026-11-01T01:30", "--zone", "America/New_York"], "the clocks of America/New_York were changed"),
        (["--filed", "9999-11-26"], "too far away"),
        (["--filed", "0001-01-01T00:30+14:00"], "too far away"),
        (["--filed", "2026-11-26", "--office", "uk"], 'office "uk" is unknown'),
        ([], "--filed"),
    ],
)
def test_what_cannot_be_used_is_told_with_the_way_out(arguments: list[str], said: str) -> None:
    result = dates(*arguments)
    assert result.exit_code == 2
    assert said in " ".join(result.stderr.split())
    assert result.stdout == ""


def test_a_day_to_come() -> None:
    assert "has not come yet" in dates("--filed", "2199-01-01").stdout


def of_filing(docket: str = "DEMO-001; hose, guide") -> bytes:
    book = rulebook("us")
    asked = Asked(DAY(2025, 11, 26), "as given", DAY(2026, 11, 25), None, docket)
    calendar = OfficeDays(book.holidays, book.closed_days)
    ends = [ended(p, asked.filed, calendar) for p in book.periods if p.counts_from == "filing"]
    return calendar_file(asked, ends, book, NOW)


def test_a_second_library_reads_the_calendar() -> None:
    calendar = vobject.readOne(of_filing().decode())
    assert calendar.version.value == "2.0"
    events = {str(event.dtstart.value): event for event in calendar.vevent_list}
    assert list(events) == ["2026-11-26", "2026-11-27", "2026-05-26", "2027-01-26"]
    later = events["2026-11-27"]
    assert later.dtend.value == DAY(2026, 11, 28)  # RFC 5545 3.6.1: the end of an all-day event is not included
    assert later.summary.value == "DEMO-001; hose, guide: last day: US nonprovisional, or PCT at the US office"
    assert "moved to Friday 27 November 2026\nNo extension" in later.description.value
    assert later.dtstamp.value == NOW.replace(microsecond=0)
    hours = [alarm.trigger.value / dt.timedelta(hours=1) for alarm in later.valarm_list]
    assert hours == [9 - 24 * days for days in (90, 30, 7, 1)]
    assert {alarm.action.value for alarm in later.valarm_list} == {"DISPLAY"}


def test_nobody_is_reminded_of_a_bar_or_of_a_last_resort() -> None:
    calendar = vobject.readOne(of_filing().decode())
    reminders = {str(e.dtstart.value): len(e.contents.get("valarm", [])) for e in calendar.vevent_list}
    assert reminders == {"2026-11-26": 4, "2026-11-27": 4, "2026-05-26": 0, "2027-01-26": 0}


def test_the_form_of_the_lines() -> None:
    raw = of_filing("Schlauchführung " * 8)
    assert raw.endswith(b"END:VCALENDAR\r\n")
    assert b"\n" not in raw.replace(b"\r\n", b"")  # RFC 5545 3.1: lines end with CR LF
    assert all(len(line) <= 75 for line in raw.split(b"\r\n"))  # the same: octets, not characters
    raw.decode("utf-8")
    assert b"\r\nDTSTART;VALUE=DATE:20261127\r\n" in raw


@pytest.mark.hostile
@settings(deadline=None, max_examples=30)
@given(st.text(st.characters(exclude_categories=()), max_size=30))
def test_whatever_the_docket_holds_stays_text_of_the_calendar(docket: str) -> None:
    raw = of_filing(docket)
    assert raw.count(b"BEGIN:VEVENT\r\n") == len(vobject.readOne(raw.decode()).vevent_list) == 4
    unfolded = raw.decode().replace("\r\n ", "").replace("\r\n", "\n")
    assert not {c for c in unfolded if c != "\n" and unicodedata.category(c) in {"Cc", "Cf", "Cs", "Zl", "Zp"}}


def test_identifiers_are_stable_and_keep_cases_apart() -> None:
    def identifiers(raw: bytes) -> set[bytes]:
        return set(re.findall(rb"^UID:.*$", raw, re.MULTILINE))

    assert identifiers(of_filing()) == identifiers(of_filing())
    assert len(identifiers(of_filing())) == 4
    assert not identifiers(of_filing()) & identifiers(of_filing("DEMO-002"))


def test_the_calendar_is_written_and_renewed(tmp_path) -> None:
    target = tmp_path / "demo.ics"
    for filed in ("2025-11-26", "2025-11-27"):
        assert dates("--filed", filed, "--ics", target, "--json", tmp_path / "demo.json").exit_code == 0
    assert vobject.readOne(target.read_text("utf-8")).vevent.dtstart.value == DAY(2026, 11, 27)
    assert json.loads((tmp_path / "demo.json").read_bytes())["filed"] == "2025-11-27"


@pytest.mark.parametrize("content", ["BEGIN:VCALENDAR\r\nPRODID:-//somebody//else//EN\r\nEND:VCALENDAR\r\n", "{}", ""])
def test_a_file_of_somebody_else_is_never_overwritten(tmp_path, content: str) -> None:
    target = tmp_path / "calendar.ics"
    target.write_bytes(content.encode())
    result = dates("--filed", "2025-11-26", "--ics", target)
    assert result.exit_code == 2
    assert "was not written by preflight" in result.stderr
    assert target.read_bytes() == content.encode()


def test_two_outputs_need_two_files(tmp_path) -> None:
    result = dates("--filed", "2025-11-26", "--ics", tmp_path / "x", "--json", tmp_path / "x")
    assert result.exit_code == 2
    assert "name the same file" in result.stderr
    assert "does not exist" in dates("--filed", "2025-11-26", "--ics", tmp_path / "no" / "x.ics").stderr

"""The dated tables of the US rulebook held to the tables of the sheets: fees, income limits, days, descriptions."""

from __future__ import annotations

import datetime as dt
import re

from law_sheets import FILING, MARKS, ROWS, TEXT, lines, table

from preflight.facts.calendar import Holiday
from preflight.testing import rulebook

pytestmark = MARKS

BOOK = rulebook("us")

FEE_ROW = re.compile(r"^\| (\d{4})(?:-(\d\d))?(?:-(\d\d))?[^|]*\| ([^|]+)\| ([^|]+)\| ([^|]+)\|")
FEE_IDS = ("basic", "size", "surcharge")
KNOWN = {
    dt.date(2025, 1, 19): ("read", "third party", "third party"),
    dt.date(2022, 12, 29): ("read", "read", "read"),
    dt.date(2020, 10, 2): ("read", "memory", "memory"),
    dt.date(2018, 1, 16): ("read", "third party", "third party"),
    dt.date(2013, 3, 19): ("third party", "third party", "third party"),
    dt.date(2011, 9, 1): ("read", "read", "memory"),
    dt.date(2009, 1, 1): ("memory", "read", "memory"),
}
"""How the marks in the last column of the table read for basic, size and surcharge; part memory counts as memory."""


def _amounts(cell: str) -> tuple[int | None, ...]:
    each = [None if n.strip() == "-" else int(n) for n in cell.replace("each 50 sheets", "").split("/")]
    return tuple(each)


def _fee_table() -> dict[tuple[str, dt.date], tuple[int | None, ...]]:
    found: dict[tuple[str, dt.date], tuple[int | None, ...]] = {}
    for row in (FEE_ROW.match(f"| {' | '.join(cells)} |") for cells in table(FILING, "4", "in force from")):
        if row:
            year, month, day, *cells = row.groups()
            since = dt.date(int(year), int(month or 1), int(day or 1))
            found |= {(name, since): _amounts(cell) for name, cell in zip(FEE_IDS, cells, strict=True)}
    return found


def test_fees_are_those_of_the_sheet() -> None:
    ours = {(fee.id, fee.since): (fee.undiscounted, fee.small, fee.micro) for fee in BOOK.fees}
    theirs = _fee_table()
    assert len(theirs) == 3 * len(KNOWN)
    assert ours == theirs


def test_fees_say_how_well_they_are_known() -> None:
    for fee in BOOK.fees:
        assert fee.known == KNOWN[fee.since][FEE_IDS.index(fee.id)], f"{fee.id} since {fee.since}"


def test_fee_codes_stand_in_the_sheet() -> None:
    for fee in BOOK.fees:
        assert len(fee.codes) == 2 + (fee.micro is not None)
        assert "/".join(fee.codes) in TEXT


def test_the_size_fee_counts_as_the_sheet_says() -> None:
    (rule,) = {(fee.sheets_free, fee.sheets_each, fee.sheet_weight) for fee in BOOK.fees if fee.id == "size"}
    assert rule == (100, 50, 0.75)
    assert "over 100 sheets of paper" in TEXT
    assert "each additional 50 sheets or fraction" in TEXT
    assert "the equivalent is 75 %" in TEXT


MONTHS = ("Jan", "Feb", "Mar", "Apr", "May", "June", "July", "Aug", "Sept", "Oct", "Nov", "Dec")
BEST = {"V": "read", "R": "read", "T": "third party"}


def _month(word: str) -> int:
    return next(n for n, name in enumerate(MONTHS, 1) if word.startswith(name[:3]))


def _best(marks: str) -> str:
    """How the better of several marks reads; what is derived is as good as what it is derived from."""
    found = re.findall(r"\b[VRT]\b", marks)
    return min((BEST[mark] for mark in found), key=["read", "third party"].index, default="memory")


def _number(cell: str) -> int:
    return int(re.sub(r"[^\d]", "", re.split(r"[ (]", cell.strip())[0]))


def _income_table() -> dict[int, tuple[int | None, int | None, str]]:
    """Limit, median and mark by year of income."""
    found: dict[int, tuple[int | None, int | None, str]] = {}
    for _, limit, median, mark in table(FILING, "3c", "in force from (about)"):
        year = int(re.findall(r"\((\d{4})\)", median)[0])
        if limit == "not found":
            found[year] = (None, None, "memory")
        else:
            found[year] = (_number(limit), _number(median), mark)
    return found


def test_income_limits_are_those_of_the_sheet() -> None:
    theirs = {year: (limit, median) for year, (limit, median, _) in _income_table().items()}
    assert {row.income_year: (row.limit, row.median) for row in BOOK.income_limits} == theirs


def test_income_limits_begin_when_the_sheet_says() -> None:
    begin = {}
    for since, _, median, _ in table(FILING, "3c", "in force from (about)"):
        day, word, year = re.match(r"(\d+ )?(\w+)[^\d]*?(\d{4})", since).groups()  # type: ignore[union-attr]
        income_year = int(re.findall(r"\((\d{4})\)", median)[0])
        begin[income_year] = (dt.date(int(year), _month(word), int(day or 1)), bool(day))
    assert {row.income_year: (row.since, row.day_known) for row in BOOK.income_limits} == begin


def test_income_limits_say_how_well_they_are_known() -> None:
    """The better of limit and median; a press report of a rounded median does not make it known."""
    for row in BOOK.income_limits:
        mark = _income_table()[row.income_year][2].split("press")[0]
        assert row.known == _best(mark.split("; T")[0] if mark.startswith("D, M") else mark), row.income_year


def test_each_limit_is_three_times_the_median_of_the_year_before() -> None:
    for row in BOOK.income_limits:
        if row.limit is not None and row.median is not None:
            assert row.limit == 3 * row.median
        assert row.since.year - row.income_year in (1, 2)  # the first, of March, is of the year before the last


def test_the_newest_limit_is_not_known_and_says_so() -> None:
    newest = max(BOOK.income_limits, key=lambda row: row.since)
    assert (newest.limit, newest.since) == (None, dt.date(2026, 9, 1))


def _rule(holiday: Holiday) -> str:
    ordinal = {1: "1st", 2: "2nd", 3: "3rd", 4: "4th", -1: "last"}
    if holiday.nth is None:
        return f"{holiday.day} {MONTHS[holiday.month - 1]}"
    return f"{ordinal[holiday.nth]} {(holiday.weekday or '')[:3]} {MONTHS[holiday.month - 1]}"


def test_holidays_are_those_of_the_sheet() -> None:
    (line,) = [line for line in lines(FILING) if line.startswith("Fixed:")]
    named = re.sub(r"\([^)]*\)", "", line).replace("Fixed:", "").replace("Floating:", ";")
    theirs = {re.sub(r"\s+", " ", one).strip(" .") for one in named.split(";")} - {""}
    ours = [holiday for holiday in BOOK.holidays if holiday.id != "inauguration-day"]
    assert {_rule(holiday).replace("June", "Jun") for holiday in ours} == {_short(one) for one in theirs}


def _short(rule: str) -> str:
    return rule.replace(" June", " Jun").replace(".", "")


def test_a_fixed_holiday_moves_from_saturday_and_sunday() -> None:
    for holiday in BOOK.holidays:
        if holiday.day is not None:
            saturday = "none" if holiday.id == "inauguration-day" else "Friday before"
            assert (holiday.on_saturday, holiday.on_sunday) == (saturday, "Monday after")
    assert "On a Saturday the Friday before is the holiday" in TEXT
    assert "On a Sunday the Monday after" in TEXT
    assert "on Saturday no text gives Friday" in TEXT


def test_inauguration_day_and_juneteenth_have_their_years() -> None:
    by_id = {holiday.id: holiday for holiday in BOOK.holidays}
    inauguration = by_id["inauguration-day"]
    assert (inauguration.month, inauguration.day, inauguration.every_years) == (1, 20, 4)
    assert f"every fourth year after {inauguration.after_year} (1969 ..." in TEXT
    assert by_id["juneteenth"].since == dt.date(2021, 6, 17)
    assert "act signed 17 June 2021" in TEXT


DAY = re.compile(r"(?:(Mon|Tue|Wed|Thu|Fri|Sat|Sun) )?(\d{1,2}) ?(?:([A-Z][a-z]+)\.? )?(\d{4})?")


def _days(cell: str) -> list[dt.date]:
    """Every day that a cell names: "Mon 8 - Wed 10 Jan 1996" are three, "Wed 24 and Fri 26 Dec 2025" two."""
    bare = re.sub(r"\([^)]*\)", "", cell)
    year = int(re.findall(r"\d{4}", bare)[0])
    month = _month(re.findall(r"Jan|Feb|Mar|Apr|May|June|July|Aug|Sept|Oct|Nov|Dec", bare)[0])
    days = [int(day) for day in re.findall(r"\b(\d{1,2})\b", bare)]
    if "-" in bare:
        days = list(range(days[0], days[1] + 1))
    return [dt.date(year, month, day) for day in days]


def _closed_table() -> dict[dt.date, tuple[dt.date | None, str]]:
    found: dict[dt.date, tuple[dt.date | None, str]] = {}
    for closed, following, source in table(FILING, "5b", "closed"):
        spans = re.sub(r"\([^)]*\)", "", closed).split(";")
        if len(spans) > 1:  # the last row: spans that rest on memory, but for one day
            for span in spans:
                found |= dict.fromkeys(_days(span), (None, "memory"))
            found[dt.date(2012, 10, 29)] = (None, "third party")
            continue
        moved = _days(following.split(",")[0])[0] if re.search(r"\d{4}", following) else None
        best = _best(source.split(", D")[0].replace("V (day)", "V"))
        found |= dict.fromkeys(_days(closed), (moved, best))
    return found


def test_closed_days_are_those_of_the_sheet() -> None:
    ours = {row.day: (row.next_business_day, row.known) for row in BOOK.closed_days}
    assert ours == _closed_table()


def test_closed_days_have_the_weekdays_of_the_sheet() -> None:
    """A slip in a date shows in its weekday, which the sheet gives."""
    checked = 0
    for closed, following, _ in table(FILING, "5b", "closed"):
        for cell in (closed, following):
            for name, day, month, year in re.findall(r"(Mon|Tue|Wed|Thu|Fri) (\d{1,2}) ([A-Z][a-z]+) (\d{4})", cell):
                assert dt.date(int(year), _month(month), int(day)).strftime("%a") == name
                checked += 1
    assert checked > 40


def test_one_day_was_no_closure_and_every_next_day_is_a_weekday() -> None:
    assert [row.day for row in BOOK.closed_days if not row.closed] == [dt.date(2015, 12, 24)]
    for row in BOOK.closed_days:
        if row.next_business_day is not None:
            assert row.next_business_day > row.day
            assert row.next_business_day.weekday() < 5


COMBINED = {
    "SEQ.TXT / SEQ.XML / SEQLIST": ["SEQ.TXT", "SEQ.XML", "SEQLIST"],
    "COMPUTER, TABLE": ["COMPUTER", "TABLE"],
    "APP.TXT.CHEM / .MATH / .PDB": ["APP.TXT.CHEM", "APP.TXT.MATH", "APP.TXT.PDB"],
    "SES.REQ / SES.LOSS / MES.LOSS": ["SES.REQ", "SES.LOSS", "MES.LOSS"],
}
"""Rows of the sheet that hold several codes."""
OFFERED = {"DRW.NONBW": "by hand", "MES.GIB": "yes", "MES.IHEB": "yes"}
"""Where the sheet's cell says neither yes nor follow-on: not settled; used so in practice."""


def test_document_descriptions_are_those_of_the_sheet() -> None:
    ours = {row.code: row for row in BOOK.document_descriptions}
    seen = []
    for code, told, offered, role in table(FILING, "7", "code"):
        for one in COMBINED.get(code, [code]):
            row = ours[one]
            seen.append(one)
            word = "yes" if offered.startswith("yes") else "no" if offered.startswith("follow-on") else "by hand"
            assert row.new_filing == OFFERED.get(one, word), one
            assert row.role == role.replace(" ", "-"), one
            assert set(re.findall(r"\w{4,}", row.description)) <= set(re.findall(r"\w{4,}", f"{told} file")), one
    assert sorted(seen) == sorted(ours)


def test_each_description_names_the_published_list_and_how_it_is_known() -> None:
    for row in BOOK.document_descriptions:
        assert row.citation in TEXT
        third = {"MES.GIB", "MES.IHEB"}
        assert row.known == ("third party" if row.code in third else "memory" if row.code == "DRW.SUPP" else "read")


def test_the_sources_of_days_and_limits_stand_in_the_sheet() -> None:
    rows = (*BOOK.income_limits, *BOOK.holidays, *BOOK.closed_days)
    for citation in sorted({row.citation for row in rows}):
        assert citation.removeprefix("5 USC ") in TEXT


PERIODS = {
    "elsewhere": ("us.date.paris", "12 months", "PCT Rule 80.5"),
    "nonprovisional": ("us.date.twelve", "12 months", "37 CFR 1.78(a)"),
    "licence": ("us.date.licence", "six months", "35 USC 184(a)"),
    "grace": ("us.date.grace", "one year or less", "MPEP 2153.01(a)"),
    "restoration": ("us.date.restore", "14 months", "37 CFR 1.78(b)"),
}
"""For each period the row that it stands in, its length as written there, and a citation."""
MONTHS_SAID = {"six months": 6, "12 months": 12, "one year or less": 12, "14 months": 14}


def test_periods_are_those_of_the_sheet() -> None:
    assert [period.id for period in BOOK.periods] == list(PERIODS)
    for period in BOOK.periods:
        row, length, citation = PERIODS[period.id]
        said = " ".join(text for text, _ in ROWS[row])
        assert length in said
        assert period.months == MONTHS_SAID[length]
        assert citation in TEXT
        assert citation in "; ".join(period.citations)


def test_only_what_is_due_at_the_office_moves() -> None:
    moves = {period.id: period.moves for period in BOOK.periods}
    assert moves == {
        "elsewhere": False,  # us.date.pct-warning
        "nonprovisional": True,  # us.date.roll
        "licence": False,  # nothing is due at its end
        "grace": True,  # us.date.grace
        "restoration": True,  # us.date.restore.roll
    }
    assert {period.moves_since for period in BOOK.periods} == {None, dt.date(1999, 11, 29)}
    assert "not before 29 Nov 1999" in TEXT


def test_what_is_said_beside_the_fees_stands_in_the_sheet() -> None:
    said = " ".join(BOOK.fee_cautions)
    for ours, theirs in (
        ("16 September 2026", "was to end on 16 September 2026"),
        ("at least 3 times", "at least 3 times the amount not paid"),
        ("75 %", "the equivalent is 75 %"),
        ("every 3 kilobytes", "each 3 kilobytes = one sheet"),
        ("19 January 2025", "none found after 19 January 2025"),
    ):
        assert ours in said
        assert theirs in TEXT

"""JUnit XML, SARIF and CSV: as their public schemas say, nothing lost, nothing in them that steers or is run."""

from __future__ import annotations

import csv
import io
import json
import re
from itertools import count
from pathlib import Path
from xml.etree import ElementTree as ET

import msgspec
import pytest
from hypothesis import HealthCheck, Phase, given, settings
from hypothesis import strategies as st
from jsonschema import Draft4Validator
from lxml import etree
from pdfminer.high_level import extract_text

from preflight.reporting.findings_csv import COLUMNS, to_csv
from preflight.reporting.junit import to_junit
from preflight.reporting.machine import to_json
from preflight.reporting.record import to_record
from preflight.reporting.renderer import to_text
from preflight.reporting.report import Report
from preflight.reporting.sarif import to_sarif
from preflight.reporting.spreadsheet import harmless
from preflight.reporting.wording import clean

SCHEMAS = Path(__file__).parents[1] / "references" / "schemas"
SARIF = Draft4Validator(json.loads((SCHEMAS / "sarif-2.1.0-rtm.5.json").read_bytes()))
JUNIT = etree.XMLSchema(etree.parse(SCHEMAS / "junit-10.xsd"))
GRAVE = ("refusal", "notice")


def csv_rows(made: bytes) -> list[dict[str, str]]:
    return list(csv.DictReader(io.StringIO(made.decode("utf-8-sig"), newline="")))


def sarif_faults(made: bytes) -> list[str]:
    return [f"{error.json_path}: {error.message[:200]}" for error in SARIF.iter_errors(json.loads(made))]


@pytest.mark.reference
def test_sarif_as_the_public_schema_says(report, every_report):
    # OASIS SARIF 2.1.0
    assert sarif_faults(to_sarif([report(every_report)])) == []


@pytest.mark.reference
def test_junit_as_the_public_schema_says(report, every_report):
    JUNIT.assertValid(etree.fromstring(to_junit([report(every_report)])))


@pytest.mark.reference
def test_the_schemas_refuse_what_is_wrong(report):
    data = json.loads(to_sarif([report("everything")]))
    data["runs"][0]["results"][0]["level"] = "grave"
    assert not SARIF.is_valid(data)
    assert not JUNIT.validate(etree.fromstring("<testsuites><testcase/></testsuites>"))


def test_no_form_loses_a_finding_a_question_a_sign_off_or_what_is_void(report, every_report):
    whole = report(every_report)
    findings = {finding.id for finding in whole.findings}
    accepted = {finding.id for finding in whole.findings if finding.signed_off}
    questions = {clean(question.id) for question in whole.by_hand}
    void = {one.id for one in whole.void}

    rows = csv_rows(to_csv([whole]))
    assert {r["id"].lstrip("'") for r in rows if r["of"] == "finding"} == findings
    assert {r["id"].lstrip("'") for r in rows if r["state"].endswith("signed off")} == accepted
    assert {r["id"] for r in rows if r["of"] == "question"} == questions
    assert {r["id"].lstrip("'") for r in rows if r["of"].startswith("void")} == void

    (run,) = json.loads(to_sarif([whole]))["runs"]
    results = [r for r in run["results"] if "partialFingerprints" in r]
    assert {r["partialFingerprints"]["preflightFinding/v1"] for r in results} == findings
    assert {r["properties"]["id"] for r in results if "suppressions" in r} == accepted
    assert {r["ruleId"] for r in run["results"] if r not in results} == questions
    assert {one["id"] for one in run["properties"]["void"]} == void

    names = [case.get("name", "") for case in ET.fromstring(to_junit([whole])).iter("testcase")]
    assert {m[1] for name in names if (m := re.search(r": finding (\w+)$", name))} == findings
    assert {name.removesuffix(": question") for name in names if name.endswith(": question")} == questions
    assert {name.split()[1].removesuffix(":") for name in names if name.endswith(": void")} == void

    assert all(one in to_text(whole) for one in findings | questions | void)
    assert msgspec.json.decode(to_json(whole), type=Report) == whole


def test_every_requirement_has_a_case_of_its_own_or_of_its_finding_or_question(report):
    whole = report("everything")
    names = {case.get("name", "").split(": ")[0] for case in ET.fromstring(to_junit([whole])).iter("testcase")}
    asked = {name for question in whole.by_hand for name in question.covers}
    assert {row.id for row in whole.requirements} <= names | asked


def fails(whole: Report) -> bool:
    open_ones = [f for f in whole.findings if f.signed_off is None and f.consequence in GRAVE]
    return bool(open_ones) or any(q.answer and q.answer.value == "no" and q.consequence in GRAVE for q in whole.by_hand)


def test_the_forms_fail_where_the_filing_does(report, every_report):
    whole = report(every_report)
    suites = ET.fromstring(to_junit([whole]))
    assert (int(suites.get("failures", 0)) + int(suites.get("errors", 0)) > 0) == fails(whole)
    (run,) = json.loads(to_sarif([whole]))["runs"]
    errors = [r for r in run["results"] if r["level"] == "error" and "suppressions" not in r]
    assert bool(errors) == fails(whole)


def test_an_answer_of_no_fails_where_it_matters(report):
    clean = report("clean_pass")
    question = next(q for q in report("everything").by_hand if q.answer)
    for consequence in (*GRAVE, "advice", "none"):
        no = msgspec.structs.replace(
            question, consequence=consequence, answer=msgspec.structs.replace(question.answer, value="no")
        )
        whole = msgspec.structs.replace(clean, findings=(), by_hand=(no,))
        assert (int(ET.fromstring(to_junit([whole])).get("failures", 0)) == 1) == (consequence in GRAVE)
        (result,) = json.loads(to_sarif([whole]))["runs"][0]["results"]
        assert result["level"] == ("error" if consequence in GRAVE else "note")


def test_the_counts_are_those_of_the_cases(report):
    root = ET.fromstring(to_junit([report("everything"), report("clean_pass")]))
    for suite in root:
        cases = suite.findall("testcase")
        assert int(suite.get("tests")) == len(cases)
        for number, tag in (("failures", "failure"), ("errors", "error"), ("skipped", "skipped")):
            assert int(suite.get(number)) == sum(case.find(tag) is not None for case in cases)
    assert int(root.get("tests")) == sum(int(suite.get("tests")) for suite in root)


def test_several_offices_are_several_runs_and_suites(report):
    both = [report("everything"), report("clean_pass")]
    assert len(json.loads(to_sarif(both))["runs"]) == len(ET.fromstring(to_junit(both))) == 2
    many = csv_rows(to_csv(both))
    assert len(many) == sum(len(r.findings) + len(r.by_hand) + len(r.void) for r in both)


STEERS = st.text(st.characters(exclude_categories=()), max_size=12) | st.sampled_from(
    ["=1+1", "+1", "-1", "@SUM(A1)", "\t=1", "\r\n=1", "\uff1d1", "|x", "%x", "1/2", "<b>&amp;", "]]>", "\ufffe",
     "\ud800", "\x00", "\x0b", "\u202e", "[x](http://e.example)", "{0}", '","', "'=1", " =1", "123456789012",
     "12e456789012"]
)  # fmt: skip
STEERING = re.compile(r"[\x00-\x08\x0b\x0c\x0e-\x1f\x7f-\x9f\u200b-\u200f\u2028-\u202e\u2066-\u2069\ufeff\ufffe\uffff]")


@pytest.mark.hostile
@settings(
    deadline=None,
    max_examples=15,
    phases=[Phase.explicit, Phase.generate],
    suppress_health_check=[HealthCheck.function_scoped_fixture],
)
@given(st.lists(STEERS, min_size=1, max_size=8))
def test_whatever_the_papers_say_every_form_stays_what_it_is(report, poisoned, words):
    whole = poisoned(report("everything"), (words[n % len(words)] for n in count()))
    root = etree.fromstring(to_junit([whole]))
    JUNIT.assertValid(root)
    said = [*root.itertext(), *(value for one in root.iter() for value in one.attrib.values())]
    sarif = to_sarif([whole])
    assert sarif_faults(sarif) == []
    rows = csv_rows(to_csv([whole]))
    cells = [cell for row in rows for cell in row.values()]
    assert all(None not in row and len(row) == len(COLUMNS) for row in rows)
    assert not [cell for cell in cells if re.match(r"\s*[=+\-@|%\uff1d\uff0b\uff0d\uff20]", cell)]
    assert not [text for text in (*said, *cells, sarif.decode()) if STEERING.search(text)]
    record = to_record([whole])
    assert record.startswith(b"%PDF-")
    assert not STEERING.search("".join(extract_text(io.BytesIO(record)).split("\f")))


@pytest.mark.parametrize(
    "cell",
    ["=1+1", " =1", "+1", "-1", "@x", "|x", "%x", "\uff1d1", "1/2", "1-2", "123456789012", "12e456789012", "1E5"],
)
def test_no_cell_is_a_formula_a_day_or_a_number(cell):
    assert harmless(cell) == f"'{cell}"


@pytest.mark.parametrize("cell", ["", "FIG. 1", "a=b", "12", "3 pages", "dda7352329b1", "12e4567890ab", "2.5 cm"])
def test_other_cells_stay_as_they_are(cell):
    assert harmless(cell) == cell


@pytest.mark.reference
def test_names_of_files_are_addresses_in_sarif(report):
    # RFC 3986, 4.2 and 2.1: a colon in the first part would be a scheme, blanks and percent signs are written out
    whole = report("clean_pass")
    odd = msgspec.structs.replace(whole.documents[0], file="a:b c%#?.pdf")
    data = json.loads(to_sarif([msgspec.structs.replace(whole, documents=(odd,))]))
    assert data["runs"][0]["artifacts"][0]["location"]["uri"] == "a%3Ab%20c%25%23%3F.pdf"

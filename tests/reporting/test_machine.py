"""The report as JSON: complete, stable, and exactly what its schema says."""

from __future__ import annotations

import copy
import json
from collections.abc import Iterator
from pathlib import Path
from typing import Any, get_args

import msgspec
import pytest
from jsonschema import Draft202012Validator, FormatChecker

from preflight.datafiles import schema
from preflight.facts import Clipping
from preflight.papers import FigureRow, NotRead
from preflight.reporting import report as contract
from preflight.reporting.machine import NOT_IN_JSON, set_to_json, to_json
from preflight.reporting.report import PagePicture, Report

HERE = Path(__file__).parent
SCHEMA = schema("report")
VALIDATOR = Draft202012Validator(SCHEMA, format_checker=FormatChecker())


def valid(data: Any) -> bool:
    return VALIDATOR.is_valid(data)


def test_the_schema_is_one():
    Draft202012Validator.check_schema(SCHEMA)


def test_each_report_is_as_its_file_and_its_schema(report, every_report):
    made = to_json(report(every_report))
    assert made == (HERE / "reports" / f"{every_report}.json").read_bytes()
    assert [error.message for error in VALIDATOR.iter_errors(json.loads(made))] == []


def test_nothing_is_lost_on_the_way_back(report, every_report):
    assert msgspec.json.decode(to_json(report(every_report)), type=Report) == report(every_report)


def test_pictures_of_whole_pages_stay_out(report):
    whole = report("everything")
    pictured = msgspec.structs.replace(whole, page_pictures=(PagePicture("a.pdf", 1, 21.0, 29.7, b"webp"),))
    assert to_json(pictured) == to_json(whole)
    assert set_to_json([pictured]) == set_to_json([whole])


def test_several_offices_make_a_set(report):
    reports = [report("everything"), report("clean_pass")]
    data = json.loads(set_to_json(reports))
    assert data["schema"] == "preflight-set/1"
    assert data["reports"] == [json.loads(to_json(one)) for one in reports]
    assert valid(data)


def test_indented_and_ended_like_a_text_file(report):
    made = to_json(report("clean_pass")).decode()
    assert made.endswith("}\n")
    assert made.startswith('{\n  "')
    assert "\r" not in made


def test_a_file_name_that_is_not_text_does_not_stop_the_report(report):
    whole = report("clean_pass")
    broken_name = msgspec.structs.replace(whole.documents[0], file="bad\udcff.pdf")
    data = json.loads(to_json(msgspec.structs.replace(whole, documents=(broken_name,))))
    assert data["documents"][0]["file"] == r"bad\udcff.pdf"
    assert valid(data)


def _broken(change: Any) -> Any:
    data = json.loads((HERE / "reports" / "everything.json").read_text(encoding="utf-8"))
    change(data)
    return data


@pytest.mark.parametrize(
    "change",
    [
        pytest.param(lambda d: d.update(schema="preflight-report/2"), id="another version"),
        pytest.param(lambda d: d.pop("schema"), id="no version"),
        pytest.param(lambda d: d.update(extra=1), id="unknown key"),
        pytest.param(lambda d: d["findings"][0].update(extra=1), id="unknown key of a finding"),
        pytest.param(lambda d: d["findings"][0].pop("fix"), id="finding without fix"),
        pytest.param(lambda d: d["findings"][0].update(state="met"), id="a finding that is met"),
        pytest.param(lambda d: d["findings"][0].update(consequence="none"), id="a finding without consequence"),
        pytest.param(lambda d: d["findings"][0].update(file=None), id="places without a file"),
        pytest.param(lambda d: d["findings"][2].update(page=0), id="page 0"),
        pytest.param(lambda d: d["findings"][2].update(box_cm=[1, 2, 3]), id="a box with three sides"),
        pytest.param(
            lambda d: d["findings"][0].update(signed_off={"by": "AE", "on": "2026-11-24", "reason": "fine"}),
            id="a refusal that is signed off",
        ),
        pytest.param(lambda d: d["requirements"][0].update(state="skipped"), id="unknown state"),
        pytest.param(lambda d: d["requirements"][0].update(state="met", looked_at=0), id="met without a look"),
        pytest.param(lambda d: d["bundle"].update(filing_date="25.11.2026"), id="a day in another form"),
        pytest.param(lambda d: d["bundle"].update(filing_date="2026-02-30"), id="a day that is none"),
        pytest.param(lambda d: d["documents"][0].update(sha256="abc"), id="a short digest"),
        pytest.param(lambda d: d["by_hand"][2]["answer"].update(value="perhaps"), id="unknown answer"),
        pytest.param(lambda d: d["fees"].update(total=-1), id="a negative total"),
        pytest.param(lambda d: d.update(verdict="pass"), id="a verdict that the headline contradicts"),
    ],
)
def test_what_is_not_a_report_is_refused(change):
    assert not valid(_broken(change))


def test_an_empty_set_is_refused():
    assert not valid({"schema": "preflight-set/1", "reports": []})


def _records() -> Iterator[type[msgspec.Struct]]:
    for thing in vars(contract).values():
        if not isinstance(thing, type) or thing is PagePicture:  # which is never in the JSON
            continue
        if issubclass(thing, msgspec.Struct) and thing.__module__ == contract.__name__:
            yield thing
    yield from (Clipping, FigureRow, NotRead)  # which the report shows as they are


def _objects() -> dict[str, dict[str, Any]]:
    return {name: part for name, part in SCHEMA["$defs"].items() if "properties" in part and name != "set"}


CAME_LATER = {"Reasons": {"answered_no"}, "Question": {"consequence"}, "Report": {"void"}}
"""Keys of every new report that those of earlier versions lack: a schema that required them would refuse these."""
NAMES_IN_THE_SCHEMA = {
    "BundleHead": "bundle",
    "CharacterUse": "character",
    "Clipping": "picture",
    "PaperRow": "paper",
    "RequirementRow": "requirement",
    "FeeRow": "fee",
    "FigureRow": "figure",
    "FirstNamed": "first_named",
    "NotRead": "not_read",
    "PartName": "part_name",
    "SignedOff": "signed_off",
}


def _named(record: type[msgspec.Struct]) -> str:
    return NAMES_IN_THE_SCHEMA.get(record.__name__, record.__name__.lower())


@pytest.mark.parametrize("record", list(_records()), ids=lambda r: r.__name__)
def test_every_field_is_in_the_schema_and_nothing_else(record):
    described = _objects()[_named(record)]
    fields = {field.encode_name for field in msgspec.structs.fields(record)} - NOT_IN_JSON
    assert set(described["properties"]) == fields
    assert set(described["required"]) == fields - CAME_LATER.get(record.__name__, set())
    assert described["additionalProperties"] is False


def test_the_schema_describes_no_record_that_is_gone():
    assert set(_objects()) == {_named(record) for record in _records()}


@pytest.mark.parametrize(
    ("listed", "words"),
    [
        (SCHEMA["$defs"]["finding"]["properties"]["consequence"], contract.Consequence),
        (SCHEMA["$defs"]["requirement"]["properties"]["state"], contract.State),
    ],
)
def test_closed_lists_are_the_same(listed, words):
    assert tuple(listed["enum"]) == get_args(words)


def test_the_validator_sees_each_single_missing_key(report):
    data = json.loads(to_json(report("everything")))
    for key in data.keys() - CAME_LATER["Report"]:
        less = copy.copy(data)
        del less[key]
        assert not valid(less), key

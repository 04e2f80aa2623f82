"""The report as JSON, for programs and for the record."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any, Literal

import msgspec

from preflight.reporting.report import Report

SET_SCHEMA = "preflight-set/1"
NOT_IN_JSON = frozenset({"page_pictures"})


def to_json(report: Report) -> bytes:
    """One report: keys in the order of the records, indented by 2, ending with a line feed."""
    return encoded(_data(report))


def set_to_json(reports: Sequence[Report]) -> bytes:
    """The reports of several offices on one folder."""
    return encoded({"schema": SET_SCHEMA, "reports": [_data(report) for report in reports]})


def _data(report: Report) -> dict[str, Any]:
    fields = msgspec.structs.fields(report)
    return {field.encode_name: getattr(report, field.name) for field in fields if field.name not in NOT_IN_JSON}


class _Set(msgspec.Struct):
    schema: Literal["preflight-set/1"]
    reports: tuple[Report, ...]


def reports_from_json(raw: bytes) -> tuple[Report, ...]:
    """The reverse of both. Raises msgspec.DecodeError for anything else."""
    head = msgspec.json.decode(raw, type=dict[str, msgspec.Raw]).get("schema")
    if head is not None and msgspec.json.decode(head) == SET_SCHEMA:
        return msgspec.json.decode(raw, type=_Set).reports
    report = msgspec.json.decode(raw, type=Report)
    if report.schema_id != "preflight-report/1":
        raise msgspec.ValidationError(f'its form "{report.schema_id}" is unknown')
    return (report,)


def encoded(data: Any) -> bytes:
    """Any data of ours as JSON: indented by 2, ending with a line feed."""
    try:
        raw = _ENCODER.encode(data)
    except UnicodeEncodeError:  # a file name that is not UTF-8 on disk comes as lone surrogates
        raw = _ENCODER.encode(_without_surrogates(msgspec.to_builtins(data)))
    return msgspec.json.format(raw, indent=2) + b"\n"


_ENCODER = msgspec.json.Encoder(order=None)


def _without_surrogates(data: Any) -> Any:
    """The same with each lone surrogate written out as its code."""
    if isinstance(data, str):
        return data.encode("utf-8", "backslashreplace").decode("utf-8")
    if isinstance(data, dict):
        return {_without_surrogates(key): _without_surrogates(value) for key, value in data.items()}
    if isinstance(data, list | tuple):
        return [_without_surrogates(item) for item in data]
    return data

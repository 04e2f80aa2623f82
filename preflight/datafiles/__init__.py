"""Data files that people write, read strictly: their schemas, and all their mistakes at once."""

from preflight.datafiles.mistakes import DataMistakes, against_schema, nearest, plain
from preflight.datafiles.quoting import quoted
from preflight.datafiles.schemas import schema

__all__ = ["DataMistakes", "against_schema", "nearest", "plain", "quoted", "schema"]

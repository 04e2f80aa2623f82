"""The filing folder as it stands on disk, and what the filer declares about it."""

from preflight.bundle.filing import read_declared
from preflight.bundle.folder import DECLARATION, read_file, read_folder
from preflight.bundle.settling import settle

__all__ = ["DECLARATION", "read_declared", "read_file", "read_folder", "settle"]

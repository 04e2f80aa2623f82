"""A reader one of whose libraries is missing."""

import a_library_that_nobody_has  # noqa: F401

"""The last look at a folder of patent application papers before it is uploaded."""

__version__ = "0.1.0"

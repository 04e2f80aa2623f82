"""House rules for preflight: what one firm asks of its papers besides the law. The rules are rules/house.toml."""

__version__ = "0.1.0"

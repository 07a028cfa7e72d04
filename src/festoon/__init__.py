"""Festoon plans decorated sewing larger than the hoop, and proves it before the first stitch.

The way through the house: piece -> layout -> hooping -> supplies -> sheets, started by `make`.
"""

__version__ = "0.1.0"

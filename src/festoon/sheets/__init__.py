"""Layout, hoopings and supplies on paper: true-size templates, the work sheet, and a picture of the piece.

Plain data goes in, Typst sets it, bytes come out; the same input gives the same bytes.
"""

from festoon.sheets.picture import picture
from festoon.sheets.templates import templates
from festoon.sheets.work_sheet import work_sheet

__all__ = ["picture", "templates", "work_sheet"]

"""Layout, hoopings, supplies and proof on paper: true-size templates, work sheet, proof sheet, a picture of the piece.

Plain data goes in, Typst sets it, bytes come out; the same input gives the same bytes.
"""

from festoon.sheets.picture import picture
from festoon.sheets.proof_sheet import proof_sheet
from festoon.sheets.templates import templates
from festoon.sheets.work_sheet import work_sheet

__all__ = ["picture", "proof_sheet", "templates", "work_sheet"]

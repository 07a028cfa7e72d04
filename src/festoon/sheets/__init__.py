"""Layout, hoopings, supplies and proof on paper: true-size templates, work sheet, making sheet, proof sheet, and a
picture of the piece.

Plain data goes in, Typst sets it, bytes come out; the same input gives the same bytes.
"""

from festoon.sheets.making_sheet import is_by_hand, making_sheet
from festoon.sheets.picture import picture
from festoon.sheets.proof_sheet import proof_sheet
from festoon.sheets.templates import templates
from festoon.sheets.work_sheet import work_sheet

__all__ = ["is_by_hand", "making_sheet", "picture", "proof_sheet", "templates", "work_sheet"]

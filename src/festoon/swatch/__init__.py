"""A test square for the worker's own cloth and stabiliser, and what she measures on it.

`write_swatch` writes its machine file and its sheet; `take_in` sets what was measured into the bench file.
"""

from festoon.swatch.bench import Change
from festoon.swatch.design import EXPECTED, Distance, swatch
from festoon.swatch.figures import Figures, figures, readings
from festoon.swatch.take import take_in, write_swatch

__all__ = ["EXPECTED", "Change", "Distance", "Figures", "figures", "readings", "swatch", "take_in", "write_swatch"]

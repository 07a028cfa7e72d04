"""Lengths, angles, thread numbers, needle sizes and paper sizes: read, converted, shown.

Inside the house a length is in mm, an angle in degrees, a thread in tex; the worker's own units end here.
Whatever cannot be read raises a MeasureError.
"""

from festoon.measure.angle import normal_turn, parse_angle
from festoon.measure.length import MM_PER_INCH, Units, fine, parse_length, show_length, show_place
from festoon.measure.needle import NEEDLES, largest_thread, needle_nm, needle_text
from festoon.measure.paper import PAPERS, paper_size
from festoon.measure.thread import (
    FIBRE_DENSITY,
    PACKING,
    SYSTEMS,
    System,
    parse_thread,
    tex_from,
    tex_to,
    thread_diameter,
)
from festoon.measure.upward import show_bought, show_metres, show_minutes, tenths_up

__all__ = [
    "FIBRE_DENSITY",
    "MM_PER_INCH",
    "NEEDLES",
    "PACKING",
    "PAPERS",
    "SYSTEMS",
    "System",
    "Units",
    "fine",
    "largest_thread",
    "needle_nm",
    "needle_text",
    "normal_turn",
    "paper_size",
    "parse_angle",
    "parse_length",
    "parse_thread",
    "show_bought",
    "show_length",
    "show_metres",
    "show_minutes",
    "show_place",
    "tenths_up",
    "tex_from",
    "tex_to",
    "thread_diameter",
]

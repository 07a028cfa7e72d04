"""How well marks place a hooping.

`predict` foretells, from where the crosses stand, how far a stitch will land from its place.
"""

from festoon.registration.predict import (
    MARKING,
    READING,
    SEATING,
    expected_radius,
    fiducial_error,
    rotation_error,
    target_error,
)

__all__ = ["MARKING", "READING", "SEATING", "expected_radius", "fiducial_error", "rotation_error", "target_error"]

"""How well marks place a hooping.

`predict` foretells, from where the crosses stand, how far a stitch will land from its place; `fit` finds from where
they were seen how the cloth lies.
"""

from festoon.registration.fit import Fit, fit_rigid, fit_scaled, leave_one_out
from festoon.registration.predict import (
    MARKING,
    READING,
    SEATING,
    expected_radius,
    fiducial_error,
    rotation_error,
    target_error,
)

__all__ = [
    "MARKING",
    "READING",
    "SEATING",
    "Fit",
    "expected_radius",
    "fiducial_error",
    "fit_rigid",
    "fit_scaled",
    "leave_one_out",
    "rotation_error",
    "target_error",
]

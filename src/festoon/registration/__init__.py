"""How well marks place a hooping.

`model` holds the parts of which the error is made; `covariance` foretells, from where the crosses stand, how far and in
which direction a stitch will land from its place, and how far two hoopings miss each other; `predict` gives the radius
that holds such a spread; `fit` finds from where the crosses were seen how the cloth lies.
"""

from festoon.registration.covariance import (
    carried_covariance,
    influence,
    own_covariance,
    relative_covariance,
    round_covariance,
    stitch_covariance,
    target_covariance,
)
from festoon.registration.fit import Fit, fit_rigid, fit_scaled, leave_one_out
from festoon.registration.model import PlacingModel, placing_model
from festoon.registration.predict import (
    CONFIDENCE,
    MARKING,
    READING,
    SEATING,
    covariance_radius,
    fiducial_error,
)

__all__ = [
    "CONFIDENCE",
    "MARKING",
    "READING",
    "SEATING",
    "Fit",
    "PlacingModel",
    "carried_covariance",
    "covariance_radius",
    "fiducial_error",
    "fit_rigid",
    "fit_scaled",
    "influence",
    "leave_one_out",
    "own_covariance",
    "placing_model",
    "relative_covariance",
    "round_covariance",
    "stitch_covariance",
    "target_covariance",
]

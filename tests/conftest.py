"""How Hypothesis tries things: as long as it takes, since a busy machine is no fault of the code."""

from hypothesis import settings

settings.register_profile("unhurried", deadline=None)
settings.load_profile("unhurried")

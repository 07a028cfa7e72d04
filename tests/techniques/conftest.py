"""Hypothesis without a clock, since a slow machine is no failure; forty examples keep the room quick."""

from hypothesis import settings

settings.register_profile("unhurried", deadline=None, max_examples=40)
settings.load_profile("unhurried")

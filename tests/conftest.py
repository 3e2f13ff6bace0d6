"""Settings for every test."""

from hypothesis import settings

# A busy laptop is slow now and then; how long an example takes says nothing about what it shows.
settings.register_profile("pits", deadline=None)
settings.load_profile("pits")

"""Settings of the physics tests."""

from hypothesis import settings

# the first call fills a cached table of roots, which takes longer than hypothesis allows one example
settings.register_profile("physics", deadline=None)
settings.load_profile("physics")

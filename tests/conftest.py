"""On a busy machine tests wait: their searches end by counted work alone, and no example is judged by its time."""

from hypothesis import settings

from stillroom import work_clock

work_clock.PATIENCE = 40.0
settings.register_profile("patient", deadline=None)
settings.load_profile("patient")

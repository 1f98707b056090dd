"""On a busy machine tests wait: their searches end by counted work alone, as on an idle one."""

from stillroom import work_clock

work_clock.PATIENCE = 40.0

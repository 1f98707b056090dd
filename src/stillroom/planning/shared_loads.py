"""Two loads of one day that may go into the canner together.

One load has one time: the longest of both. They share it only where nothing else in their processes differs, and where
the shorter is not heated half as long again. The sharing is our inference from the printed procedure, not read in a
source; a longer process is never less safe, but softer food.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from stillroom.planning.tasks import Batch
from stillroom.planning.variants import JarWork
from stillroom.process.capacity import fit_in_one_load

AT_MOST_LONGER = 1.5  # times the minutes of the food that needs less (common practice, no source)
APART = ("fish", "clams", "crab", "oysters", "shrimp")  # some start in their own way, so all of them go alone


def with_shared_loads(batches: Sequence[Batch]) -> tuple[Batch, ...]:
    """The batches, loads that can go together joined two by two; a guest stands after its host."""
    loads = sorted((batch for batch in batches if batch.variant.jar_work), key=_minutes, reverse=True)
    host_of: dict[str, str] = {}
    guest_of: dict[str, Batch] = {}
    for place, host in enumerate(loads):
        if host.key in host_of:
            continue
        guest = next((other for other in loads[place + 1 :] if other.key not in host_of and _share(host, other)), None)
        if guest is not None:
            host_of[guest.key], guest_of[host.key] = host.key, guest
    hosts = (replace(batch, guest=guest_of.get(batch.key)) for batch in batches if batch.key not in host_of)
    guests = (replace(batch, host=host_of[batch.key]) for batch in batches if batch.key in host_of)
    return (*hosts, *guests)


def _share(host: Batch, guest: Batch) -> bool:
    """Whether the guest may ride in the host's load; the host's process is the longer one."""
    long, short = host.variant.jar_work, guest.variant.jar_work
    if long is None or short is None or host.variant.recipe.key == guest.variant.recipe.key:
        return False
    alike = (
        host.day == guest.day
        and long.canner.name == short.canner.name
        and long.card.pressure_psi == short.card.pressure_psi
        and replace(long.cycle, process_min=0, cool_min=0) == replace(short.cycle, process_min=0, cool_min=0)
    )
    goes_alone = any(work.card.row.food.startswith(APART) for work in (long, short))
    feeds = guest.key in host.feeds or host.key in guest.feeds
    return (
        alike
        and not goes_alone
        and not feeds
        and long.card.minutes <= AT_MOST_LONGER * short.card.minutes
        and fit_in_one_load(long.canner, ((long.jar, _jars(host, long)), (short.jar, _jars(guest, short))))
    )


def _jars(batch: Batch, work: JarWork) -> int:
    return round(batch.units * work.jars_per_unit)


def _minutes(batch: Batch) -> tuple[int, str]:
    work = batch.variant.jar_work
    return (work.card.minutes if work else 0, batch.key)

"""How fast a sweep runs alone and on a cluster: python benchmarks/heat_sweep.py [cases] [samples] [workers] [folder].

With a folder the sweep goes on where it was stopped. The cases are spread evenly over the whole sweep.
Needs the extra `sweep` (dask and distributed) for the cluster.
"""

from __future__ import annotations

import resource
import sys
import tempfile
import time
from concurrent.futures import Executor
from pathlib import Path

from stillroom.heat.sweep import Case, counted, sweep
from stillroom.heat.sweep_cases import answer_cases, every_case

CHUNK_CASES = 20


def main() -> None:
    """One line for each way of running, then what the sweep found."""
    numbers = [int(word) for word in sys.argv[1:4]]
    wanted, samples, workers = numbers + [400, 500, 2][len(numbers) :]
    whole = list(every_case(samples=samples))
    cases = whole[:: max(1, len(whole) // wanted)][:wanted]
    print(f"{len(cases)} of {len(whole)} cases, {samples} jars for each way of heating, chunks of {CHUNK_CASES}")
    with tempfile.TemporaryDirectory() as scratch:
        folder = Path(sys.argv[4]) if len(sys.argv) > 4 else Path(scratch) / "cluster"
        alone = timed("alone", cases, Path(scratch) / "alone", None)
        together = clustered(cases, folder, workers)
        again = timed("restarted, nothing missing", cases, folder, None)
        print("same file:", alone.read_bytes() == together.read_bytes() == again.read_bytes())
        print(counted(together))
    peak_mb = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024
    print(f"peak memory of this process {peak_mb:.0f} MB")


def clustered(cases: list[Case], folder: Path, workers: int) -> Path:
    """The same sweep on a local cluster of processes."""
    from distributed import Client, LocalCluster

    with (
        LocalCluster(n_workers=workers, threads_per_worker=1, dashboard_address=None) as cluster,
        Client(cluster) as client,
        client.get_executor() as executor,
    ):
        return timed(f"{workers} workers", cases, folder, executor)


def timed(name: str, cases: list[Case], folder: Path, executor: Executor | None) -> Path:
    """Runs the sweep and prints what it took; progress goes to standard error."""
    begun = time.perf_counter()
    path = sweep(
        cases,
        folder,
        answer_cases,
        chunk_cases=CHUNK_CASES,
        executor=executor,
        progress=lambda done, of: print(f"\r{name}: {done}/{of} chunks", end="", file=sys.stderr),
    )
    print(file=sys.stderr)
    took = time.perf_counter() - begun
    print(f"{name}: {took:.1f} s, {1000 * took / len(cases):.1f} ms a case")
    return path


if __name__ == "__main__":
    main()

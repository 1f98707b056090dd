"""Times the heat of jars and checks it against finite volumes: `python benchmarks/heat_jars.py [most jars]`.

1. Heating and cooling lethality of sampled jars, each with its own history; convergence against fine steps.
2. One jar by modes and by an independent (r, z) finite-volume solution: difference and time of each.
3. Seconds and peak memory against the number of jars.
"""

from __future__ import annotations

import resource
import sys
import time
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parents[1] / "tests" / "physics"))

import numpy as np
from finite_volume_jar import FiniteVolumeJar, solve

from stillroom.heat.pack import jar_geometry
from stillroom.physics.canner import PressureSetting
from stillroom.physics.conduction import ConductionJar, axial_series, finite_cylinder_modes, overall_w_m2k
from stillroom.physics.history_response import respond
from stillroom.physics.uncertainty import ConductionFood, Spread, Surroundings, sample_lethality

JAR = jar_geometry(946.35)
GLASS_W_M2K = float(overall_w_m2k(3000.0, JAR.wall_mm))
FOOD = ConductionFood(
    diffusivity_m2_s=Spread(1.1e-7, 1.4e-7, 1.8e-7),
    radius_mm=Spread(JAR.min_radius_mm, JAR.radius_mm, JAR.max_radius_mm),
    headspace_mm=Spread(20, 25, 32),
    inside_height_mm=JAR.height_mm,
    conductivity_w_mk=0.55,
    side_w_m2k=GLASS_W_M2K,
    base_w_m2k=GLASS_W_M2K,
    top_w_m2k=GLASS_W_M2K,
)
SURROUNDINGS = Surroundings(Spread(50, 65, 80), Spread(-1, 0, 1), Spread(110, 250, 330))
SETTING = PressureSetting(11.0, 90.0, 300.0)


def main() -> None:
    """Prints the three parts."""
    largest = int(sys.argv[1]) if len(sys.argv) > 1 else 100_000
    sample_lethality(FOOD, SURROUNDINGS, SETTING, samples=10)
    run = SETTING.run()
    print(f"history of {run.history.time_min[-1]:.0f} min, {len(run.history.time_min) - 1} straight pieces")
    seconds = min(_seconds(lambda: sample_lethality(FOOD, SURROUNDINGS, SETTING, samples=10_000)) for _ in range(5))
    print(f"10,000 sampled jars, heating and cooling F0: {seconds:.3f} s (goal 0.5); best of 5")
    print(f"  not converged by at most {_not_converged():.4%} of F0 (goal 0.1 %), 200 jars")
    _against_finite_volumes(seconds / 10_000)
    jars = 10_000
    while jars <= largest:
        seconds = _seconds(lambda jars=jars: sample_lethality(FOOD, SURROUNDINGS, SETTING, samples=jars))
        peak_mb = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024
        print(f"{jars:>9,} jars: {seconds:7.2f} s, {seconds / jars * 1e6:5.1f} µs a jar, peak memory {peak_mb:.0f} MB")
        jars *= 10


def _seconds(work: Callable[[], object]) -> float:
    start = time.perf_counter()
    work()
    return time.perf_counter() - start


def _not_converged() -> float:
    """Largest relative difference of heating or cooling lethality from a tenth of the steps and ten times the modes."""
    sampled = sample_lethality(FOOD, SURROUNDINGS, SETTING, samples=200)
    drawn = sampled.drawn
    run = SETTING.run(gauge_error_psi=drawn["gauge error"], cooling_time_constant_min=drawn["cooling time"])
    jar = _jar(drawn["radius"], FOOD.inside_height_mm - drawn["headspace"], drawn["diffusivity"])
    modes = finite_cylinder_modes(jar, fastest_per_min=60.0)
    fine = respond(modes, run.history, drawn["fill temperature"], step_min=0.2).lethality(run.heat_off_kink)
    ours = sampled.lethality
    pairs = ((ours.heating_min, fine.heating_min), (ours.cooling_min, fine.cooling_min))
    return max(float(np.abs(mine / other - 1).max()) for mine, other in pairs)


def _jar(radius_mm: object, height_mm: object, diffusivity_m2_s: object) -> ConductionJar:
    films = (GLASS_W_M2K, GLASS_W_M2K, GLASS_W_M2K)
    return ConductionJar(radius_mm, height_mm, diffusivity_m2_s, FOOD.conductivity_w_mk, *films)  # type: ignore[arg-type]


def _against_finite_volumes(seconds_per_jar: float) -> None:
    """The likely jar both ways: temperature at every step, lethality, time per jar."""
    height_mm = FOOD.inside_height_mm - FOOD.headspace_mm.likely
    jar = _jar(FOOD.radius_mm.likely, height_mm, FOOD.diffusivity_m2_s.likely)
    run = SETTING.run()
    curve = respond(finite_cylinder_modes(jar), run.history, 65.0)
    ours = curve.lethality(run.heat_off_kink).total_min[0]
    films = (GLASS_W_M2K, GLASS_W_M2K, GLASS_W_M2K)
    other = FiniteVolumeJar(
        FOOD.radius_mm.likely / 1000, height_mm / 1000, FOOD.diffusivity_m2_s.likely, FOOD.conductivity_w_mk, *films
    )
    start = time.perf_counter()
    solution = solve(other, run.history.time_min, run.history.temp_c, 65.0, curve.time_min[:, 0])
    seconds = time.perf_counter() - start
    biot = np.array([GLASS_W_M2K * height_mm / 1000 / FOOD.conductivity_w_mk])
    other_c = solution.at_height(float(axial_series(biot, biot, 1)[2][0]) * height_mm / 1000)
    theirs = replace(curve, temp_c=other_c[:, None]).lethality(run.heat_off_kink).total_min[0]
    print(f"finite volumes, 40 × 60 cells: {seconds:.2f} s a jar; modes {seconds_per_jar * 1e6:.0f} µs a jar")
    print(f"  {seconds / seconds_per_jar:,.0f} times faster (goal 1,000)")
    print(f"  temperature within {np.abs(curve.temp_c[:, 0] - other_c).max():.3f} °C (goal 0.1)")
    print(f"  F0 {ours:.3f} and {theirs:.3f} min: {abs(ours / theirs - 1):.2%} apart (goal 1 %)")


if __name__ == "__main__":
    main()

"""A small household folder to be changed line by line."""

from collections.abc import Callable
from pathlib import Path

import pytest

KITCHEN = """\
altitude: 690 m
room: 18 °C
people:
  - name: first cook
    hours:
      weekdays: 7:00-8:15, 17:00-20:00
      saturday: 8:00-19:00
    exceptions:
      2027-04-12: none
  - name: eldest
    child: yes
    hours:
      daily: 16:00-18:00
canners:
  - name: pressure canner
    kind: dial gauge
    inside_diameter: 318 mm
    inside_height: 265 mm
    gauge_error: 0.5 psi high
    gauge_tested: 2027-02-19
burners: 4
oven_trays: 2
freezer:
  capacity: 220 L
  used: 165 L
fridge_free: 60 L
jars:
  - kind: pint
    count: 20
    lids: 20
  - kind: 1200 ml
    diameter: 112 mm
    height: 196 mm
    count: 12
    lids: 12
pantry:
  salt: 2 kg
  white vinegar: 5 kg
"""
HOUSEHOLD = """\
name: A household made up for this test
invented: yes
start: 2027-04-09
eaters:
  - name: first cook
    age: adult
  - name: eldest
    age: 12
    appetite: small
meals:
  - name: dinner
    days: daily
    at: "18:30"
    roles: [main, side]
dislikes:
  - chicken liver
targets:
  tomatoes: 30 kg
"""
ARRIVALS = """\
arrivals:
  - food: tomatoes
    amount: 2 cases of 12 kg
    day: 2027-04-09
    place: counter
    clock: 3 days
  - food: chicken, whole
    amount: 6 birds of 2.2 kg
    day: 2027-04-10
    place: fridge
    worth: 11
"""
LARDER = """\
lots:
  - product: green beans in jars
    food: green beans
    place: shelf
    amount: 6 quart jars of 900 g
    made_on: 2026-08-30
    best_by: 2027-08-30
"""

WriteFolder = Callable[..., Path]


@pytest.fixture
def write_folder(tmp_path: Path) -> WriteFolder:
    """Writes the small folder; each change is (file, old text, new text)."""

    def write(*changes: tuple[str, str, str]) -> Path:
        files = {
            "kitchen.yaml": KITCHEN,
            "household.yaml": HOUSEHOLD,
            "arrivals.yaml": ARRIVALS,
            "larder.yaml": LARDER,
        }
        for file, old, new in changes:
            assert files[file].count(old) == 1, f"{old!r} must stand once in {file}"
            files[file] = files[file].replace(old, new)
        for file, text in files.items():
            (tmp_path / file).write_text(text, encoding="utf-8")
        return tmp_path

    return write

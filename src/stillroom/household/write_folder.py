"""Writes a household folder: the other way round of `folder.read_folder`."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from pathlib import Path

import yaml
from pydantic import BaseModel

from stillroom.household.arrivals_file import ArrivalsFile
from stillroom.household.household_file import HouseholdFile
from stillroom.household.kitchen_file import KitchenFile
from stillroom.household.larder_file import LarderFile

_DUMPER = getattr(yaml, "CSafeDumper", yaml.SafeDumper)  # in C where PyYAML was built with libyaml: many times as fast


@dataclass(frozen=True, slots=True)
class WrittenFolder:
    """The files of a household folder as they are written; `recipes` are whole files by their key."""

    kitchen: KitchenFile
    household: HouseholdFile
    arrivals: ArrivalsFile
    larder: LarderFile
    recipes: Mapping[str, str] = field(default_factory=dict)


def file_texts(written: WrittenFolder) -> dict[str, str]:
    """Each file's text by its name in the folder."""
    head = "# INVENTED: nobody lives here.\n" if written.household.invented else ""
    texts = {
        "kitchen.yaml": head + _yaml(written.kitchen),
        "household.yaml": head + _yaml(written.household),
        "arrivals.yaml": head + _yaml(written.arrivals),
        "larder.yaml": head + _yaml(written.larder),
    }
    return texts | {f"recipes/{key}.yaml": text for key, text in written.recipes.items()}


def write_folder(folder: Path, written: WrittenFolder) -> None:
    """Writes all files into `folder`, which must exist."""
    for name, text in file_texts(written).items():
        file = folder / name
        file.parent.mkdir(exist_ok=True)
        file.write_text(text, encoding="utf-8")


def _yaml(model: BaseModel) -> str:
    lines = model.model_dump(mode="json", exclude_defaults=True)
    return yaml.dump(lines, Dumper=_DUMPER, allow_unicode=True, sort_keys=False, width=110)

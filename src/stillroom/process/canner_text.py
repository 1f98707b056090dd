"""Reads a canner kind as a cook names it."""

from __future__ import annotations

from stillroom.errors import InputError
from stillroom.model.process import CannerKind

_NAMES = {
    CannerKind.BOILING_WATER: ("boiling water", "boiling water bath", "water bath", "bw", "boiling water canner"),
    CannerKind.STEAM: ("steam", "atmospheric steam", "steam canner", "atmospheric steam canner"),
    CannerKind.DIAL: ("dial", "dial gauge", "dial gauge pressure", "pressure dial", "dial gauge canner"),
    CannerKind.WEIGHTED: ("weighted", "weighted gauge", "weight", "weighted gauge pressure", "weighted gauge canner"),
}


def read_canner(text: str) -> CannerKind:
    """The canner kind meant by `text`; a bare "pressure" is refused, because the bands differ by gauge."""
    spoken = " ".join(text.lower().replace("-", " ").replace("_", " ").split())
    for kind, names in _NAMES.items():
        if spoken in names:
            return kind
    if "pressure" in spoken:
        raise InputError("Say which pressure gauge the canner has: “dial” or “weighted”; their pressures differ.")
    kinds = ", ".join(f"“{names[0]}”" for names in _NAMES.values())
    raise InputError(f"“{text}” is not a kind of canner known here. Known kinds: {kinds}.")

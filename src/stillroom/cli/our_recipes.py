"""Our own recipes by key: where their files are, and whether a file is one of them, unchanged."""

from __future__ import annotations

from importlib.resources import files
from pathlib import Path

from stillroom.errors import InputError


def our_recipe_path(text: str) -> Path:
    """The file of the recipe with this key, in words or with underscores; InputError names the nearest keys."""
    known = _known()
    key = text.strip().lower().replace(" ", "_").replace("-", "_")
    if key not in known:
        raise InputError(f"There is no recipe “{text}”. {_nearest(key, known)}")
    return known[key]


def is_ours_unchanged(content: bytes) -> bool:
    """Whether this is one of our recipe files, byte by byte; a changed copy is nobody's tested recipe."""
    return any(path.read_bytes() == content for path in _known().values())


def _known() -> dict[str, Path]:
    ours = Path(str(files("stillroom.recipes"))) / "data"
    return {path.stem: path for path in ours.glob("*.yaml")}


def _nearest(key: str, known: dict[str, Path]) -> str:
    from difflib import get_close_matches

    words = set(key.split("_"))
    alike = get_close_matches(key, known, n=5, cutoff=0.5)
    alike += [name for name in sorted(known) if words & set(name.split("_")) and name not in alike]
    if alike:
        return f"The nearest are: {', '.join(alike[:6])}; or give the path of a recipe file."
    return f"Ours are: {', '.join(sorted(known))}; or give the path of a recipe file."

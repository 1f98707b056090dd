"""Reads a YAML file that a person wrote into a pydantic model; an error names file, line and field.

Every scalar stays the text that was typed (no "no" that turns into False, no 18:30 that turns into 1110);
pydantic turns it into numbers, dates and times.
"""

from __future__ import annotations

from pathlib import Path
from typing import Any, TypeVar

import yaml
from pydantic import BaseModel, ConfigDict, ValidationError

from stillroom.errors import FileError


class Written(BaseModel):
    """Base of everything that people write: no unknown fields, never changed after reading."""

    model_config = ConfigDict(extra="forbid", frozen=True, str_strip_whitespace=True, allow_inf_nan=False)


W = TypeVar("W", bound=BaseModel)
# The same loader in C where PyYAML was built with libyaml: five times as fast, which hundreds of recipes feel.
LOADER = getattr(yaml, "CBaseLoader", yaml.BaseLoader)


def read_yaml(path: Path, model: type[W]) -> W:
    """The file as `model`; FileError with file, line and field when it is not one."""
    try:
        text = path.read_text(encoding="utf-8")
    except FileNotFoundError:
        raise FileError(path, None, "", "there is no such file; create it or name another folder") from None
    except IsADirectoryError:
        raise FileError(path, None, "", "this is a folder, a file is wanted") from None
    except UnicodeDecodeError:
        raise FileError(path, None, "", "this is not UTF-8 text; save it as UTF-8") from None
    except OSError as error:
        raise FileError(path, None, "", f"this file can't be read: {error.strerror}") from None
    return parse_yaml(text, model, path)


def parse_yaml(text: str, model: type[W], path: Path) -> W:
    """As `read_yaml`, for text already in hand; `path` is only named in errors."""
    try:
        root = yaml.compose(text, Loader=LOADER)
    except yaml.MarkedYAMLError as error:
        line = error.problem_mark.line + 1 if error.problem_mark else None
        raise FileError(path, line, "", f"not valid YAML: {error.problem}") from None
    except yaml.reader.ReaderError as error:
        line = text.count("\n", 0, error.position) + 1
        raise FileError(
            path, line, "", f"the invisible character U+{error.character:04X} stands here; delete it"
        ) from None
    except RecursionError:
        raise FileError(path, None, "", "this is nested deeper than anything a kitchen needs") from None
    if root is None:
        raise FileError(path, 1, "", "the file is empty")
    data = _plain(root, path, set())
    try:
        return model.model_validate(data)
    except ValidationError as error:
        first = error.errors(include_url=False)[0]
        loc = tuple(first["loc"])
        raise FileError(path, _line_of(root, loc), _field(loc), _sentence(first)) from None


def error_at(path: Path, loc: tuple[int | str, ...], problem: str, *, text: str | None = None) -> FileError:
    """The error that names the place `loc` of a file already read (keys, and positions from 0 in lists).

    `text` is what the file holds, where it is in hand.
    """
    root = yaml.compose(path.read_text(encoding="utf-8") if text is None else text, Loader=LOADER)
    return FileError(path, None if root is None else _line_of(root, loc), _field(loc), problem)


def _field(loc: tuple[int | str, ...]) -> str:
    return ".".join(str(part + 1) if isinstance(part, int) else part for part in loc)


def _plain(node: yaml.Node, path: Path, seen: set[int]) -> Any:
    """Text, lists and fields; an alias of a list or of fields is refused, since it could hold itself."""
    if isinstance(node, yaml.ScalarNode):
        return node.value
    if id(node) in seen:
        raise FileError(path, node.start_mark.line + 1, "", "this is used a second time by its “&” name; write it out")
    seen.add(id(node))
    if isinstance(node, yaml.SequenceNode):
        return [_plain(child, path, seen) for child in node.value]
    assert isinstance(node, yaml.MappingNode)
    plain: dict[str, Any] = {}
    for key, value in node.value:
        if not isinstance(key, yaml.ScalarNode):
            raise FileError(path, key.start_mark.line + 1, "", "a field name must be plain text")
        if key.value in plain:
            raise FileError(path, key.start_mark.line + 1, key.value, "this field stands here twice")
        plain[key.value] = _plain(value, path, seen)
    return plain


def _line_of(node: yaml.Node, loc: tuple[int | str, ...]) -> int:
    """The line of the deepest part of `loc` that the file has."""
    line = int(node.start_mark.line) + 1
    for part in loc:
        if isinstance(node, yaml.MappingNode):
            for key, value in node.value:
                if key.value == part:
                    line, node = int(key.start_mark.line) + 1, value
                    break
            else:
                return line
        elif isinstance(node, yaml.SequenceNode) and isinstance(part, int) and part < len(node.value):
            node = node.value[part]
            line = int(node.start_mark.line) + 1
        else:
            return line
    return line


def _sentence(error: Any) -> str:
    kind, message = error["type"], str(error["msg"])
    if kind == "missing":
        return "this field is needed and is not there"
    if kind == "extra_forbidden":
        return "no such field; check the spelling"
    message = message.removeprefix("Value error, ").removeprefix("Input should be ")
    heard = error.get("input")
    return f"“{heard}” can't be read: {message}" if isinstance(heard, str) else message

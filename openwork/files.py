"""Files written whole or not at all."""

from __future__ import annotations

import os
from collections.abc import Mapping
from contextlib import suppress
from errno import EISDIR, ENOTDIR
from pathlib import Path


def write_files(folder: Path, contents: Mapping[str, bytes | str]) -> tuple[Path, ...]:
    """Write *contents* by name into *folder*, made where missing; return their paths.

    All are written under temporary names beside their places and then renamed, so that a failed
    or interrupted run leaves earlier files whole and nothing half-written. Raises OSError.
    """
    if folder.exists() and not folder.is_dir():
        raise NotADirectoryError(ENOTDIR, os.strerror(ENOTDIR), str(folder))
    folder.mkdir(parents=True, exist_ok=True)
    targets = [folder / name for name in contents]
    temporary = [folder / f".{name}.{os.getpid()}" for name in contents]
    try:
        for path, content in zip(temporary, contents.values(), strict=True):
            path.write_bytes(content.encode() if isinstance(content, str) else content)
        # A folder in a file's place would stop the renaming halfway.
        for target in filter(Path.is_dir, targets):
            raise IsADirectoryError(EISDIR, os.strerror(EISDIR), str(target))
        for path, target in zip(temporary, targets, strict=True):
            path.replace(target)
    except OSError as error:
        if error.filename in (None, *map(str, temporary)):
            error.filename = str(folder)
        raise
    finally:
        for path in temporary:
            with suppress(OSError):
                path.unlink()
    return tuple(targets)

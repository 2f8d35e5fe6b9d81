"""A server in a process of its own, as the command starts it."""

import os
import subprocess
import sys
import tomllib
from collections.abc import Callable, Iterator
from concurrent.futures import ThreadPoolExecutor
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path
from typing import Any, TypeVar
from urllib.parse import urlsplit

from websockets.sync.client import ClientConnection, connect

ROOT = Path(__file__).parents[2]
T = TypeVar("T")
HARBOUR = (ROOT / "gallery/harbour/spec.toml").read_text("utf-8")


def apart(call: Callable[..., T], *arguments: Any) -> T:
    """Return what *call* does in a thread of its own, where no browser's event loop runs."""
    with ThreadPoolExecutor(1) as threads:
        return threads.submit(call, *arguments).result()


@dataclass(frozen=True)
class Served:
    """A running ``openwork hone``: its process, address and folder."""

    process: subprocess.Popen[str]
    address: str
    folder: Path

    @property
    def port(self) -> int:
        return urlsplit(self.address).port or 0

    @property
    def host(self) -> str:
        return f"127.0.0.1:{self.port}"

    @property
    def path(self) -> str:
        return urlsplit(self.address).path

    @property
    def token(self) -> str:
        return self.path.strip("/")

    @property
    def told(self) -> dict[str, Any]:
        return tomllib.loads((self.folder / "harbour.toml").read_text("utf-8"))

    @contextmanager
    def socket(self) -> Iterator[ClientConnection]:
        origin: Any = f"http://{self.host}"
        with connect(f"ws://{self.host}{self.path}talk", origin=origin) as found:
            yield found

    def workers(self) -> list[int]:
        """Return the numbers of the processes that the server has started and that draw."""
        found = []
        for status in Path("/proc").glob("[0-9]*/stat"):
            try:
                text = status.read_text()
                words = status.with_name("cmdline").read_bytes()
            except OSError:
                continue
            parent = int(text.rpartition(")")[2].split()[1])
            if parent == self.process.pid and b"spawn_main" in words:
                found.append(int(status.parent.name))
        return found


def begun(folder: Path, *options: str, text: str = HARBOUR) -> Served:
    """Return a server of a spec in *folder*, once it can be reached."""
    path = folder / "harbour.toml"
    if not path.exists():
        path.write_text(text, "utf-8")
    command = [sys.executable, "-m", "openwork", "hone", str(path), "--no-browser"]
    process = subprocess.Popen(
        [*command, "--out", str(folder / "out"), *options],
        stdout=subprocess.PIPE,
        text=True,
        env={**os.environ, "PYTHONPATH": str(ROOT)},
    )
    assert process.stdout is not None
    return Served(process, process.stdout.readline().strip(), folder)


@contextmanager
def served(folder: Path, *options: str, text: str = HARBOUR) -> Iterator[Served]:
    """Yield a server of a spec in *folder*; it ends afterwards."""
    found = begun(folder, *options, text=text)
    try:
        yield found
    finally:
        found.process.terminate()
        found.process.wait(10)

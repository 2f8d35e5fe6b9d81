"""Workers: replaced when they die, never left behind, and no answer goes to the wrong question."""

import asyncio
import contextlib
import json
import os
import signal
import socket
import subprocess
import sys
import time
from collections.abc import Callable
from pathlib import Path

import pytest

from openwork.live.server import listening
from openwork.live.worker import Worker
from tests.live.serving import ROOT, apart, begun


class Counting:
    """What a worker does in these tests."""

    def echo(self, value: object, wait: float = 0.0) -> object:
        time.sleep(wait)
        return value

    def fail(self) -> None:
        raise KeyError("planted")


HOME = "tests.live.test_worker:Counting"


def test_a_worker_answers_in_turn_and_is_replaced_when_it_dies() -> None:
    async def act() -> None:
        worker = Worker(HOME)
        assert await asyncio.gather(*(worker.ask("echo", k) for k in range(5))) == [0, 1, 2, 3, 4]
        given_up = asyncio.create_task(worker.ask("echo", "old", 0.2))
        await asyncio.sleep(0.05)
        for _ in range(3):  # however often it is given up
            given_up.cancel()
            await asyncio.sleep(0)
        assert await worker.ask("echo", "new") == "new"  # not the answer nobody waits for
        with pytest.raises(RuntimeError, match="KeyError: 'planted'"):
            await worker.ask("fail")
        before = worker.pid
        os.kill(before, signal.SIGKILL)
        assert await worker.ask("echo", "again") == "again"
        assert worker.pid != before
        worker.end()

    apart(asyncio.run, act())


def alive(number: int) -> bool:
    try:
        state = Path(f"/proc/{number}/stat").read_text().rpartition(")")[2].split()[0]
    except OSError:
        return False
    return state != "Z"


def soon(holds: Callable[[], bool], within: float = 20.0) -> bool:
    """Tell whether what *holds* in the end does so in time."""
    ends = time.monotonic() + within
    while not holds():
        if time.monotonic() > ends:
            return False
        time.sleep(0.05)
    return True


@pytest.mark.skipif(not Path("/proc/self/stat").exists(), reason="processes are found in /proc")
@pytest.mark.parametrize("sign", [signal.SIGTERM, signal.SIGINT, signal.SIGKILL])
def test_no_worker_is_left_when_the_server_is_ended_in_mid_drag(
    tmp_path: Path, sign: signal.Signals
) -> None:
    there = begun(tmp_path)
    assert soon(lambda: len(there.workers()) == 2)
    workers = there.workers()
    before = (tmp_path / "harbour.toml").read_bytes()
    with contextlib.suppress(Exception), there.socket() as web:
        for n in range(20):
            rib = 2 + n / 100
            spec = {**there.told, "web": {**there.told["web"], "rib": rib}}
            web.send(json.dumps({"draw": n + 1, "spec": spec}))
        web.send(json.dumps({"tune": 99, "spec": there.told, "aim": 90.0}))
        web.recv(timeout=10)
        there.process.send_signal(sign)
    there.process.wait(10)
    assert soon(lambda: not any(map(alive, workers)))
    assert (tmp_path / "harbour.toml").read_bytes() == before
    assert [path.name for path in tmp_path.iterdir()] == ["harbour.toml"]
    if sign == signal.SIGINT:
        assert there.process.returncode == 0
        assert "closed; what was not saved" in (there.process.stdout or sys.stdin).read()


def test_the_delay_of_nagle_is_off() -> None:
    """It is asyncio that turns it off, and only for a socket that names its protocol."""

    async def act() -> int:
        done: asyncio.Future[int] = asyncio.get_running_loop().create_future()

        def met(reader: asyncio.StreamReader, writer: asyncio.StreamWriter) -> None:
            del reader
            taken = writer.get_extra_info("socket")
            done.set_result(taken.getsockopt(socket.IPPROTO_TCP, socket.TCP_NODELAY))
            writer.close()

        with listening(0) as sock:
            server = await asyncio.start_server(met, sock=sock)
            _, writer = await asyncio.open_connection("127.0.0.1", sock.getsockname()[1])
            found = await done
            writer.close()
            server.close()
            return found

    assert apart(asyncio.run, act()) == 1


def test_it_listens_on_this_machine_alone_and_names_a_port_that_is_taken() -> None:
    with listening(0) as sock:
        host, port = sock.getsockname()
        assert host == "127.0.0.1"
        with pytest.raises(ValueError, match=f"--port {port}: .*; leave it out"):
            listening(port)


def test_a_fixed_port_can_be_had_again_at_once() -> None:
    """Who ends a connection first keeps its port busy for a minute, unless it asks otherwise."""
    with listening(0) as sock:
        port = sock.getsockname()[1]
        with socket.create_connection(("127.0.0.1", port)) as client:
            taken, _ = sock.accept()
            taken.close()
            assert client.recv(1) == b""
    with listening(port) as again:
        assert again.getsockname()[1] == port


LIGHT = """
import sys
import openwork.commands.hone, openwork.live.server, openwork.live.sheet
heavy = {"numpy", "scipy", "shapely", "svgwrite"}
print(sorted(heavy & {name.partition(".")[0] for name in sys.modules}))
"""


def test_the_server_imports_nothing_that_draws() -> None:
    env = {**os.environ, "PYTHONPATH": str(ROOT)}
    done = subprocess.run(
        [sys.executable, "-c", LIGHT], capture_output=True, text=True, check=True, env=env
    )
    assert done.stdout.strip() == "[]"

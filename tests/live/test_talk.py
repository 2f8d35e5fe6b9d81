"""The conversation: newest wins, measuring gives way, and answers rise."""

import asyncio
import tomllib
from collections.abc import Callable
from typing import Any

import pytest

from openwork.live.desk import Desk
from openwork.live.errands import Errands
from openwork.live.talk import Talk
from tests.live.serving import HARBOUR, apart

TOLD = tomllib.loads(HARBOUR)


class Slow:
    """A worker that waits for a sign before it answers a drawing."""

    def __init__(self) -> None:
        self.go = asyncio.Event()
        self.asked: list[str] = []

    async def ask(self, name: str, *given: Any) -> dict[str, Any]:
        if name == "draw":
            self.asked.append(f"draw {given[0].spec['title']}")
            await self.go.wait()
            return {"blank": "same", "openings": given[0].spec["title"]}
        self.asked.append(name)
        await asyncio.sleep(0.001)
        return {"found": name}


def talked(act: Callable[[Talk, Slow, Slow, list[Any]], Any], tmp_path: Any) -> list[Any]:
    """Run *act* in a conversation with fake workers; return what was sent."""
    sent: list[dict[str, Any]] = []

    async def whole() -> None:
        pen, scale = Slow(), Slow()

        async def send(said: dict[str, Any]) -> None:
            sent.append(said)

        errands = Errands(Desk(tmp_path / "x.toml", tmp_path), pen, scale)  # type: ignore[arg-type]
        talk = Talk(pen, scale, errands, send)  # type: ignore[arg-type]
        await act(talk, pen, scale, sent)
        talk.close()

    apart(asyncio.run, whole())
    return sent


def wished(n: int) -> dict[str, Any]:
    return {"draw": n, "spec": {**TOLD, "title": f"ring {n}"}}


def test_of_ten_wishes_the_first_and_the_last_are_drawn(tmp_path: Any) -> None:
    async def act(talk: Talk, pen: Slow, scale: Slow, sent: list[Any]) -> None:
        for n in range(1, 11):
            talk.hear(wished(n))
            await asyncio.sleep(0)
        assert sent == []
        pen.go.set()
        await asyncio.sleep(0.02)
        assert pen.asked == ["draw ring 1", "draw ring 10"]
        assert scale.asked == []

    sent = talked(act, tmp_path)
    assert [said["ring"] for said in sent] == [1, 10]
    assert [said.get("blank") for said in sent] == ["same", None]  # said once


def test_nothing_is_measured_while_a_newer_one_waits(tmp_path: Any) -> None:
    async def act(talk: Talk, pen: Slow, scale: Slow, sent: list[Any]) -> None:
        pen.go.set()
        for n in range(1, 6):
            talk.hear(wished(n))
            await asyncio.sleep(0.01)
        assert "ribs" not in pen.asked
        await asyncio.sleep(0.1)
        assert pen.asked.count("ribs") == 1
        assert scale.asked == []
        await asyncio.sleep(0.25)
        assert scale.asked == ["stiffness", "limits", "stiffness"]
        del sent

    sent = talked(act, tmp_path)
    assert [said["ribs"] for said in sent if "ribs" in said] == [5]
    assert [said["weighed"] for said in sent if "weighed" in said] == [5, 5, 5]
    numbers = [next(iter(said.values())) for said in sent]
    assert numbers == sorted(numbers)


def test_a_newer_ring_cancels_the_weighing_of_the_older(tmp_path: Any) -> None:
    async def act(talk: Talk, pen: Slow, scale: Slow, sent: list[Any]) -> None:
        pen.go.set()
        talk.hear(wished(1))
        await asyncio.sleep(0.12)  # its rib is measured, its weighing waits
        talk.hear(wished(2))
        await asyncio.sleep(0.12)
        assert scale.asked == []
        assert [said["ribs"] for said in sent if "ribs" in said] == [1, 2]

    talked(act, tmp_path)


def test_thumbnails_that_are_out_of_date_are_given_up(tmp_path: Any) -> None:
    async def act(talk: Talk, pen: Slow, scale: Slow, sent: list[Any]) -> None:
        del pen
        names = [f"p{k}" for k in range(50)]
        talk.hear({"thumbs": 1, "spec": TOLD, "names": names})
        await asyncio.sleep(0)
        talk.hear({"thumbs": 2, "spec": TOLD, "names": ["last"]})
        await asyncio.sleep(0.05)
        assert len(scale.asked) <= 3
        assert sent[-1]["thumb"] == 2

    talked(act, tmp_path)


@pytest.mark.parametrize("said", [{}, {"draw": 1}, {"draw": "1", "spec": {}}, {"fly": 1},
                                  {"thumbs": 1, "spec": {}, "names": "all"}])  # fmt: skip
def test_what_is_not_known_is_refused(tmp_path: Any, said: dict[str, Any]) -> None:
    async def act(talk: Talk, pen: Slow, scale: Slow, sent: list[Any]) -> None:
        del pen, scale, sent
        with pytest.raises(ValueError, match="no"):
            talk.hear(said)

    talked(act, tmp_path)

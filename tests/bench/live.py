"""The live page: from a drag to the picture, over the time that the ring itself takes.

Budgets: drag to picture 4 times ``design``, on the mass 8 times; a reply that is remembered back
within a third of 33 ms; 5 kB for a ring of 80 openings; first painted within 2 s.
"""

import json
import shutil
import statistics
import tempfile
import time
from collections.abc import Iterator
from itertools import count
from pathlib import Path
from typing import Any

from playwright.sync_api import Page, sync_playwright

import openwork
from openwork.live.pen import Pen
from openwork.live.wish import Wish
from openwork.spec.spec import from_data
from tests.bench._timing import seconds
from tests.live.serving import Served, served

TAPPED = """(() => {
  const sent = new Map();
  window.waits = [];
  let turned = 0;
  addEventListener("input", () => { turned = performance.now(); }, true);
  const send = WebSocket.prototype.send;
  WebSocket.prototype.send = function (text) {
    const said = JSON.parse(text);
    if (said.draw) sent.set(said.draw, turned);
    return send.call(this, text);
  };
  const listen = WebSocket.prototype.addEventListener;
  WebSocket.prototype.addEventListener = function (kind, act) {
    if (kind !== "message") return listen.call(this, kind, act);
    return listen.call(this, kind, (event) => {
      act(event);
      const { ring } = JSON.parse(event.data);
      if (!ring || !sent.get(ring)) return;
      const done = () => window.waits.push(performance.now() - sent.get(ring));
      requestAnimationFrame(() => setTimeout(done));
    });
  };
})()"""
STEPS = 90  # inputs of a drag, 30 a second


def rows() -> Iterator[tuple[str, ...]]:
    """Yield one row for each budget: what was measured, over what, and the budget."""
    with tempfile.TemporaryDirectory() as folder, served(Path(folder)) as there:
        told, ribs = there.told, count(2000)

        def wish(**more: Any) -> Wish:
            return Wish({**told, "web": {**told["web"], "rib": next(ribs) / 1000}}, **more)

        one = seconds(lambda: openwork.design(from_data(wish().spec)), 15)
        pen = Pen()
        massed = seconds(lambda: pen.draw(wish(aim=70.0 + next(ribs) % 7, rib=2.8)), 15)
        yield "design()", f"{1e3 * one:.1f} ms", "", ""
        yield "on the mass", f"{massed / one:.1f} times design()", "budget 8", ""
        reply = {k: v for k, v in pen.draw(wish()).items() if k != "blank"}
        yield "reply, 80 openings", f"{len(json.dumps(reply)) / 1000:.1f} kB", "budget 5 kB", ""
        yield "reply, remembered", f"{1e3 * _round_trip(there):.1f} ms", "budget 11 ms", ""
        if shutil.which("chromium"):
            yield from _painted(there)


def _round_trip(there: Served) -> float:
    """Return the median time of a ring that the pen remembers, s."""
    with there.socket() as web:
        times = []
        for n in range(1, 60):
            start = time.perf_counter()
            web.send(json.dumps({"draw": n, "spec": there.told}))
            while "ring" not in json.loads(web.recv()):
                pass
            times.append(time.perf_counter() - start)
            time.sleep(0.033)
    return statistics.median(times)


def _painted(there: Served) -> Iterator[tuple[str, ...]]:
    with sync_playwright() as driver:
        browser = driver.chromium.launch(
            executable_path=shutil.which("chromium"), args=["--no-sandbox", "--disable-gpu"]
        )
        page = browser.new_page(viewport={"width": 1280, "height": 900}, bypass_csp=True)
        page.add_init_script(TAPPED)
        page.goto(there.address)
        page.wait_for_selector("#readings [data-key=rib]:not(.old)")
        first = page.evaluate("performance.getEntriesByName('first-contentful-paint')[0].startTime")
        yield "page first painted", f"{first / 1000:.2f} s", "budget 2 s", ""
        for key in ("web.rib", "web.rim", "ring.teeth"):
            waits = _dragged(page, key)
            middle, one = statistics.median(waits) / 1000, _designed(there.told, key)
            shown = f"{len(waits)} pictures of {STEPS} inputs"
            yield f"drag of {key}", f"{middle / one:.1f} times design()", "budget 4", shown
        browser.close()


def _designed(told: dict[str, Any], key: str) -> float:
    """Return the median time, s, of designs with *key* turned as a drag does: a ring, each anew."""
    table, name = key.split(".")
    turned = (3 + k / 1000 for k in count()) if table == "web" else iter(range(36, 60))

    def ring() -> object:
        return openwork.design(from_data({**told, table: {**told[table], name: next(turned)}}))

    return seconds(ring, 15)


def _dragged(page: Page, key: str) -> list[float]:
    """Return the times from an input of the slider *key* to its picture, ms."""
    page.evaluate("window.waits.length = 0")
    node = page.locator(f'[id="r-{key}"]')
    node.scroll_into_view_if_needed()
    box = node.bounding_box()
    assert box is not None
    y = box["y"] + box["height"] / 2
    for step in range(STEPS):
        page.mouse.move(box["x"] + box["width"] * (0.3 + 0.3 * step / STEPS), y)
        if step == 0:
            page.mouse.down()
        time.sleep(1 / 30)
    page.mouse.up()
    page.wait_for_selector("#readings [data-key=rib]:not(.old)")
    found: list[float] = page.evaluate("window.waits")
    return found

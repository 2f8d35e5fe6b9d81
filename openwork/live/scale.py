"""Weighs, compares and makes files: all that takes longer than a picture, a step at a time."""

from __future__ import annotations

import dataclasses
from typing import Any

from openwork.errors import OpenworkError, RuleError, SpecError
from openwork.explore.mass.tune import tune
from openwork.explore.strength_of import model_of
from openwork.fill.registry import patterns
from openwork.live.offers import Offer
from openwork.live.pen import Pen, asked, refusal
from openwork.live.picture import picture
from openwork.live.wish import Data, Wish
from openwork.measure.figures import figures
from openwork.measure.limits import keep, limits_broken
from openwork.render.extras import demand
from openwork.render.shop import handover
from openwork.render.shop.formats import FORMATS, Choices
from openwork.spec.spec import Spec, as_data, from_data
from openwork.strength.loading import mean_stiffness
from openwork.strength.quality import GRADES, Quality, off
from openwork.tables.toml import frozen


class Scale(Pen):
    """A pen that also weighs what it has drawn."""

    def limits(self, wish: Wish) -> Data:
        """Return which limits the finished outline breaks, as it was measured."""
        ring = self.ring(wish)
        return {"broken": list(limits_broken(ring, figures(ring)))}

    def stiffness(self, wish: Wish, quality: Quality) -> Data:
        """Return the torsional stiffness, N m/deg, alone and on the spider."""
        ring = self.ring(wish)
        try:
            spec = ring.spec
            alone, hung = mean_stiffness(model_of(ring), spec.load, spec.spider, quality=quality)
        except RuleError:
            return {"stiffness": None, "quality": quality}
        bias = off(GRADES[quality].stiffness)
        return {
            "stiffness": round(alone),
            "on_spider": round(hung),
            "quality": quality,
            "bias": bias.removeprefix("shown "),
        }

    def thumb(self, wish: Wish, name: str) -> Data:
        """Return the pattern *name* on the site and the mass of *wish*, all else its own choice."""
        if name not in patterns():
            return {"family": name, "faults": [f"{name}: no such pattern"]}
        given = wish.spec.get("pattern", {})
        spec = {**wish.spec, "pattern": {**given, "name": name}}
        bare = dataclasses.replace(wish, spec=spec, held={})
        found = self.draw(bare)
        return {"family": name, **(self._tuned(bare) if "off" in found else found)}

    def _tuned(self, wish: Wish) -> Data:
        """Return the picture of the ring wished for, brought on its mass by more than its ribs."""
        try:
            spec = from_data(wish.spec)
            found = tune(spec, wish.aim)
        except (SpecError, RuleError):
            return self.draw(wish)
        return {**picture(found.design), "changes": differences(spec, found.spec)}

    def tune(self, wish: Wish) -> Data:
        """Return what brings the whole ring on the mass, not its ribs alone."""
        try:
            spec = asked(dataclasses.replace(wish, aim=None))
            found = tune(spec, wish.aim)
        except (SpecError, RuleError) as error:
            return refusal(error)
        changes = [one.words for one in found.changes]
        return {"changes": differences(spec, found.spec), "mass": found.mass, "words": changes}

    def export(self, wish: Wish, formats: tuple[str, ...]) -> Data:
        """Return the files of *formats*, each read back and checked, and the note that goes along.

        Files are bytes or text by name.
        """
        try:
            demand({name: (FORMATS[name].extra, FORMATS[name].needs) for name in formats})
            ring, choices = self.ring(wish), Choices()
            found = figures(ring)
            keep(ring, found)
            return {"files": handover.package(formats, ring, found, choices)[0]}
        except OpenworkError as error:
            return {"faults": [line.removeprefix("--to ") for line in str(error).splitlines()]}


def differences(before: Spec, after: Spec) -> list[Offer]:
    """Return each key, dotted, that *after* has another value for, None where it has it no more."""
    old, new = (dict(_leaves(as_data(one))) for one in (before, after))
    keys = dict.fromkeys([*old, *new])
    return [{"key": key, "value": new.get(key)} for key in keys if old.get(key) != new.get(key)]


def _leaves(data: Data, above: str = "") -> list[tuple[str, Any]]:
    found: list[tuple[str, Any]] = []
    for key, value in data.items():
        name = f"{above}.{key}".lstrip(".")
        found += _leaves(value, name) if isinstance(value, dict) else [(name, frozen(value))]
    return found

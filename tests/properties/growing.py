"""A build as it grows: parts fitted, screwed together and joined by lines and hoses, all as a plain dict."""

from collections import Counter
from collections.abc import Callable, Sequence
from typing import Any, TypeVar

from hypothesis import strategies as st

from tests.properties.generic_parts import (
    FLARE,
    ROWS,
    TUBES,
    Port,
    bolts,
    closers,
    nut_for,
    other,
    port,
    steps,
    takes_tube,
)

Plan = dict[str, Any]
Draw = Callable[[st.SearchStrategy[Any]], Any]
_T = TypeVar("_T")


class Car:
    """One build being put together. Every step leaves a build in which all that is there is right."""

    def __init__(self, draw: Draw) -> None:
        self.draw = draw
        self.plan: Plan = {"build": 1, "components": {}, "joints": [], "lines": {}, "hoses": {}}
        self._made: Counter[str] = Counter()

    def pick(self, choices: Sequence[_T]) -> _T:
        """Return one of the choices, the first one in the simplest case."""
        found: _T = self.draw(st.sampled_from(choices))
        return found

    def chance(self, one_in: int = 2) -> bool:
        """Return True once in so many cases; False in the simplest."""
        return bool(self.draw(st.integers(0, one_in - 1)) == one_in - 1)

    def tag(self, word: str) -> str:
        """Return a new tag that begins with a word."""
        self._made[word] += 1
        return f"{word}_{self._made[word]}"

    def fit(self, part_id: str, body: str | None = None) -> str:
        """Fit a part on a body and return its tag."""
        tag = self.tag(ROWS[part_id]["kind"].replace(" ", "_").replace("-", "_"))
        entry: Plan = {"part": part_id}
        if body is not None or self.chance(8):
            entry["on"] = body or "chassis"
        self.plan["components"][tag] = entry
        return tag

    def port(self, ref: str) -> Port:
        """Return the port that a reference means."""
        return port(self.part(ref), ref.partition(".")[2])

    def part(self, ref: str) -> str:
        """Return the id of the part that a reference, or a tag, belongs to."""
        tag = ref.partition(".")[0]
        entry = self.plan["components"].get(tag) or self.plan["hoses"][tag]
        found: str = entry["part"]
        return found

    def screw(self, a: str, b: str) -> None:
        """Screw, push or bolt two ports together."""
        if "eye" in self.port(a) or "eye" in self.port(b):
            eye, bored = (a, b) if "eye" in self.port(a) else (b, a)
            self.bolt(bored, [eye])
            return
        pair = [a, b] if self.chance() else [b, a]
        washed = self.port(a).get("seat") == "washer-face"
        if self.chance(4):
            self.plan["joints"].append({"ports": pair} | ({"washers": 1} if washed and self.chance() else {}))
        else:
            self.plan["joints"].append(pair)

    def bolt(self, bored: str, eyes: list[str]) -> None:
        """Bolt banjo eyes to a port; what the bolt and washers are is said in some builds."""
        joint: Plan = {"port": bored, "eyes": eyes}
        if self.chance(3):
            joint["bolt"] = self.pick(bolts(self.port(bored)["thread"], len(eyes)))
        if self.chance(3):
            joint["washers"] = len(eyes) + 1
        self.plan["joints"].append(joint)

    def line(self, a: str, b: str, size: float) -> None:
        """Run a line between two ports."""
        near, far = (a, b) if self.chance() else (b, a)
        entry: Plan = {"from": near, "to": far, "tube": self.pick(TUBES[size])}
        ends = {name: self._end(ref) for name, ref in (("from", near), ("to", far)) if self.chance(6)}
        if ends:
            entry["ends"] = ends
        if self.chance(4):
            entry["length"] = f"{self.draw(st.integers(150, 3000))} mm"
        self.plan["lines"][self.tag("line")] = entry

    def _end(self, ref: str) -> Plan:
        name = ref.partition(".")[2]
        nut, flare = nut_for(self.part(ref), name), FLARE[self.port(ref)["seat"]]
        return self.pick([{"flare": flare}, {"nut": nut}, {"flare": flare, "nut": nut}])

    def hose(self, part_id: str, near: str | None, far: str | None) -> str:
        """Hang a hose between two ports, or leave an end to something else, and return its tag."""
        tag = self.tag("hose")
        ends = {"from": near, "to": far}
        self.plan["hoses"][tag] = {"part": part_id} | {name: ref for name, ref in ends.items() if ref is not None}
        return tag

    def feed_hose(self, part_id: str, a: str, b: str) -> None:
        """Push a feed hose on two barbs."""
        near, far = (a, b) if self.chance() else (b, a)
        tag = self.hose(part_id, near, far)
        if self.chance(3):
            self.plan["hoses"][tag]["length"] = f"{self.draw(st.integers(80, 900))} mm"

    def close(self, ref: str, body: str | None = None) -> None:
        """Screw a plug, cap, switch or gauge into a port."""
        part_id, own = self.pick(closers(self.part(ref), ref.partition(".")[2]))
        self.screw(f"{self.fit(part_id, body)}.{own}", ref)

    def can_close(self, part_id: str, name: str) -> bool:
        """Return whether the catalog has something to close a port with."""
        return bool(closers(part_id, name))

    def step(self, ref: str, size: float, body: str | None = None) -> str:
        """Return a port that takes this tube: this one, or that of a part screwed to it, if it must be or at will."""
        found = steps(self.part(ref), ref.partition(".")[2], size)
        if takes_tube(self.port(ref), size) and not (found and self.chance(5)):
            return ref
        part_id, own = self.pick(found)
        tag = self.fit(part_id, body)
        if self.chance(3):
            self.plan["components"][tag].pop("on", None)  # it is on whatever it is screwed into
        self.screw(ref, f"{tag}.{own}")
        return f"{tag}.{other(part_id, own)}"

    def can_step(self, part_id: str, name: str, size: float) -> bool:
        """Return whether tube of this size can go on from a port."""
        return takes_tube(port(part_id, name), size) or bool(steps(part_id, name, size))

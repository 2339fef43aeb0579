"""How long each light has fallen on an open plate: a part of the fold of its run."""

from __future__ import annotations

from dataclasses import dataclass, field

from firmware_py.craft.safelight import OpenTime

# While light falls on a plate, the bench writes so at least this often. After a crash the light may have
# burnt until the next such entry, and so much is counted: too much rather than too little.
UNSEEN_S = 60.0


@dataclass(slots=True)
class PlateLight:
    """The seconds [s] of each light, in the run's own time; ``written_s`` [s] is when it was last said."""

    written_s: float = 0.0
    _since_s: dict[str, float] = field(default_factory=dict)
    _sum_s: dict[str, float] = field(default_factory=dict)

    def is_lit_by(self, light: str) -> bool:
        """Return whether the light falls on the plate now."""
        return light in self._since_s

    def fell(self, light: str, on: bool, run_s: float) -> None:
        """Take in that a light began to fall on the plate, went on, or ended, at ``run_s`` [s]."""
        self._close(light, run_s)
        if on:
            self._since_s[light] = run_s
        self.written_s = run_s

    def interrupted(self, seen_s: float, run_s: float) -> None:
        """Take in that nothing was seen from ``seen_s`` to ``run_s`` [s]; every relay was off at the end."""
        for light in list(self._since_s):
            self._close(light, min(run_s, max(seen_s, self.written_s + UNSEEN_S)))

    def closes(self, run_s: float) -> None:
        """Take in that the plate is open no more."""
        for light in list(self._since_s):
            self._close(light, run_s)

    def times(self, run_s: float) -> list[OpenTime]:
        """Return the time of each light [s] by ``run_s`` [s]."""
        lights = {*self._sum_s, *self._since_s}
        return [OpenTime(light, self._time_s(light, run_s)) for light in sorted(lights)]

    def _time_s(self, light: str, run_s: float) -> float:
        since_s = self._since_s.get(light)
        going_on_s = 0.0 if since_s is None else max(0.0, run_s - since_s)
        return self._sum_s.get(light, 0.0) + going_on_s

    def _close(self, light: str, run_s: float) -> None:
        since_s = self._since_s.pop(light, None)
        if since_s is not None:
            self._sum_s[light] = self._sum_s.get(light, 0.0) + max(0.0, run_s - since_s)

"""Lines and hot things as bodies in space, for the rules that look at how near they come."""

from collections.abc import Iterable

from fitcheck.build.clearances import Gap, Solid
from fitcheck.build.curves import Curve, chain
from fitcheck.build.load import CHASSIS, MM
from fitcheck.build.model import Body, BuildFile
from fitcheck.build.poses import motions, unclear_poses
from fitcheck.build.runs import Run
from fitcheck.checks.context import Context
from fitcheck.checks.joint_words import joined
from fitcheck.naming import in_order


def missing_of(run: Run) -> tuple[str, ...]:
    """Return the fields without which nobody knows where a line is; none if its centre-line is known."""
    return () if run.curve else run.missing or (f"lines.{run.tag}.route",)


def line_solids(context: Context, curves: Iterable[tuple[Run, Curve]]) -> list[Solid]:
    """Return lines as solids, by tag: each on the body that its ends are on, with the curve given for it."""
    chosen = sorted(curves, key=lambda pair: in_order(pair[0].tag))
    if not chosen:
        return []
    bodies = context.bodies
    found = []
    for run, curve in chosen:
        ends = bodies.of_line(run.tag)
        body = ends[0][1] if ends else CHASSIS  # ends on two bodies are another rule's to tell
        found.append(Solid(run.tag, curve, (run.od_mm or 0.0) / 2.0, body, motions(context.file, body)))
    return found


def heat_solids(file: BuildFile) -> list[Solid]:
    """Return what is hot as solids, by name: round bars along their paths."""
    unit = MM[file.coordinates]
    found = []
    for name, heat in sorted(file.heat.items(), key=lambda pair: in_order(pair[0])):
        path = chain([(x * unit, y * unit, z * unit) for x, y, z in heat.path])
        body = heat.on or CHASSIS
        found.append(Solid(name, path, float(heat.radius or 0.0), body, motions(file, body)))
    return found


def poses_missing(file: BuildFile, firsts: Iterable[Solid], seconds: Iterable[Solid]) -> list[str]:
    """Return the fields without which nobody knows where the bodies go that move against others of these."""
    one, other = {solid.body for solid in firsts}, {solid.body for solid in seconds}
    moving = {body for body in one if other - {body}} | {body for body in other if one - {body}}
    return [field for name, body in file.bodies.items() if name in moving for field in _unclear(file, name, body)]


def _unclear(file: BuildFile, name: str, body: Body) -> list[str]:
    return unclear_poses(file, name) if body.poses else [f"bodies.{name}.poses"]


def pose_words(gap: Gap, first: Solid, second: Solid) -> str:
    """Return the poses in which a gap is smallest: ` in droop of rear_axle`; nothing if all is as drawn."""
    poses = zip(gap.poses, (first.body, second.body), strict=True)
    words = sorted(f"{pose} of {body}" for pose, body in poses if pose is not None)
    return f" in {joined(words)}" if words else ""

"""A piece built by hand for the tests of drawings: a bookcase with dadoes, a rabbeted back, pin holes and a face frame."""

from __future__ import annotations

from fractions import Fraction
from typing import Literal

from compiler.base.measures import ZERO, Length, inch
from compiler.values.library import Stock
from compiler.values.model import (
    AXES,
    Assembly,
    Axis,
    Box,
    Edition,
    JointUse,
    Kind,
    Model,
    Part,
    PlanFacts,
    Span,
    Working,
)
from compiler.values.shapes import Block, Bore, Feature, Frame, OutlinePoint, Pose, Prism, Vector

PLY = Stock(key="birch plywood 3/4", name="birch plywood 3/4", called="ply", kind="sheet", thickness=inch("23/32"))
THIN = Stock(key="birch plywood 1/4", name="birch plywood 1/4", called="thin ply", kind="sheet", thickness=inch("7/32"))
OAK = Stock(key="oak 4/4", name="oak 4/4", called="oak", kind="board", thickness=inch("3/4"))
ASH = Stock(key="ash 8/4", name="ash 8/4", called="ash", kind="board", thickness=inch("7/4"))

SQUARE = Pose()

Ends = tuple[str | int | Fraction, str | int | Fraction]


def box(across: Ends, deep: Ends, up: Ends) -> Box:
    """A box from six numbers in inches."""
    return Box(*(Span(inch(a), inch(b)) for a, b in (across, deep, up)))


def cut(called: str, across: Ends, deep: Ends, up: Ends, by: str = "joint 1", op: Literal["cut", "grow"] = "cut",
        face: str = "") -> Feature:
    """A block in plan axes."""
    block = Block(*((inch(a), inch(b)) for a, b in (across, deep, up)))
    return Feature(op, called, block, Frame(), by, face=face)


def hole(face: Literal["left", "right", "front", "back", "bottom", "top"], at: tuple[str | int | Fraction, str | int | Fraction, str | int | Fraction],
         diameter: str, depth: str, by: str = "working 1", called: str = "hole") -> Feature:
    """A round hole bored into a face at a plan point."""
    into: dict[str, Vector] = {"left": (1, 0, 0), "right": (-1, 0, 0), "front": (0, 1, 0), "back": (0, -1, 0),
                               "bottom": (0, 0, 1), "top": (0, 0, -1)}
    axes: dict[str, tuple[Vector, Vector]] = {
        "left": ((0, 1, 0), (0, 0, 1)), "right": ((0, 1, 0), (0, 0, 1)), "front": ((1, 0, 0), (0, 0, 1)),
        "back": ((1, 0, 0), (0, 0, 1)), "bottom": ((1, 0, 0), (0, 1, 0)), "top": ((1, 0, 0), (0, 1, 0)),
    }
    along, across = (tuple(float(v) for v in axis) for axis in axes[face])
    frame = Frame(tuple(inch(v) for v in at), along, across, tuple(float(v) for v in into[face]))  # type: ignore[arg-type]
    return Feature("cut", called, Bore("into", (ZERO, ZERO), inch(diameter), (ZERO, inch(depth))), frame, by, face=face)


def part(name: str, kind: str, letter: str, stock: Stock, where: Box, features: tuple[Feature, ...] = (), *,
         grain: Axis | None = None, assembly: tuple[str, ...] = (), workings: tuple[Working, ...] = (),
         pose: Pose = SQUARE, hand: Literal["", "left", "right"] = "") -> Part:
    """A part whose sizes are those of its box and what grows from it."""
    sizes: dict[Axis, Length] = {}
    for index, axis in enumerate(AXES):
        low, high = where.span(axis).start, where.span(axis).end
        for feature in features:
            if feature.op == "grow" and isinstance(feature.shape, Block):
                span = (feature.shape.along, feature.shape.across, feature.shape.into)[index]
                low, high = min(low, span[0]), max(high, span[1])
        sizes[axis] = high - low
    thick = min(AXES, key=lambda axis: where.span(axis).size)
    long = grain or max(AXES, key=lambda axis: where.span(axis).size)
    wide = next(axis for axis in AXES if axis not in (thick, long))
    return Part(name=name, kind=kind, letter=letter, assembly=assembly, stock=stock, box=where, grain=long,
                thickness_axis=thick, features=features, workings=workings, length=sizes[long], width=sizes[wide],
                thickness=where.span(thick).size, pose=pose, hand=hand)


def model_of(title: str, parts: tuple[Part, ...], joints: tuple[JointUse, ...], assemblies: tuple[Assembly, ...] = (),
             explode: tuple[tuple[str, str], ...] = ()) -> Model:
    """A model with its kinds in the order of the parts."""
    kinds: dict[str, list[Part]] = {}
    for one in parts:
        kinds.setdefault(one.kind, []).append(one)
    rows = tuple(Kind(letter=ps[0].letter, name=name, parts=tuple(p.name for p in ps)) for name, ps in kinds.items())
    return Model(plan=PlanFacts(title=title, number="14", issue=1, date="2026-11-25", units="inch"),
                 edition=Edition(units="inch", paper="letter"), parts=parts, kinds=rows, joints=joints,
                 assemblies=assemblies, explode=explode)


def joint(number: int, kind: str, family: Literal["into", "to", "with", "on"], acting: str, receiver: str,
          origin: tuple[str | int | Fraction, str | int | Fraction, str | int | Fraction], along: Vector, across: Vector, into: Vector, length: str,
          width: str) -> JointUse:
    """A joint with its contact's frame."""
    return JointUse(id=f"joint {number}", kind=kind, family=family, acting=acting, receiver=receiver,
                    frame=Frame(tuple(inch(v) for v in origin), along, across, into), length=inch(length),  # type: ignore[arg-type]
                    width=inch(width))


X, Y, Z = (1.0, 0.0, 0.0), (0.0, 1.0, 0.0), (0.0, 0.0, 1.0)
MX, MZ = (-1.0, 0.0, 0.0), (0.0, 0.0, -1.0)


def bookcase() -> Model:
    """36 wide, 12 deep, 34 high: ply sides with dadoes and pin holes, two shelves, oak face frame and top."""
    s = Fraction(23, 32)
    inner_left, inner_right = s, 36 - s
    parts: list[Part] = []
    joints: list[JointUse] = []
    levels = {"bottom": Fraction(7, 2), "shelf 1": Fraction(14), "shelf 2": Fraction(23)}
    number = 0
    for hand, x0, x1, toward in (("left", Fraction(0), s, 1), ("right", inner_right, Fraction(36), -1)):
        features: list[Feature] = []
        inner = x1 if toward > 0 else x0
        depth = Fraction(1, 4)
        span = (inner - depth, inner) if toward > 0 else (inner, inner + depth)
        for row, z in enumerate(levels.values()):
            features.append(cut("dado", span, ("3/4", "12"), (z, z + s), by=f"joint {row + 1}"))
        rabbet = (inner - Fraction(3, 8), inner) if toward > 0 else (inner, inner + Fraction(3, 8))
        features.append(cut("rabbet", rabbet, (12 - Fraction(7, 32), 12), (Fraction(7, 2), Fraction(133, 4)), by="joint 9"))
        face = "right" if toward > 0 else "left"
        for k in range(5):
            for y in (Fraction(11, 4), Fraction(10)):
                features.append(hole(face, (inner, y, 26 + k * Fraction(3, 2)), "1/4", "3/8"))
        parts.append(part(f"{hand} side", "side", "A", PLY, box((x0, x1), ("3/4", 12), (0, "133/4")), tuple(features),
                          grain="up", hand=hand))
    for name, z in levels.items():
        grows = (
            cut("tongue", (inner_left - Fraction(1, 4), inner_left), ("3/4", "377/32"), (z, z + s), op="grow"),
            cut("tongue", (inner_right, inner_right + Fraction(1, 4)), ("3/4", "377/32"), (z, z + s), op="grow"),
        )
        letter = "B" if name == "bottom" else "C"
        parts.append(part(name, name.split()[0], letter, PLY, box((inner_left, inner_right), ("3/4", "377/32"), (z, z + s)),
                          grows, grain="across"))
        for side, origin, into in (("left side", inner_left, MX), ("right side", inner_right, X)):
            number += 1
            joints.append(joint(number, "dado", "into", name, side, (origin, "3/4", z), Y, Z, into, "353/32", "23/32"))
    parts.append(part("back", "back", "D", THIN, box((s - Fraction(3, 8), 36 - s + Fraction(3, 8)), ("377/32", 12), ("7/2", "133/4")),
                      grain="up"))
    for side, x in (("left side", s - Fraction(3, 8)), ("right side", 36 - s)):
        number += 1
        joints.append(joint(number, "rabbet", "into", "back", side, (x, "377/32", "7/2"), Z, X, Y, "119/4", "3/8"))
    parts.append(part("top", "top", "E", OAK, box(("-3/4", "147/4"), ("-3/4", "49/4"), ("133/4", 34)), grain="across"))
    for side, x in (("left side", Fraction(0)), ("right side", 36 - s)):
        number += 1
        joints.append(joint(number, "butt", "to", "top", side, (x, "3/4", "133/4"), Y, X, MZ, "45/4", "23/32"))
    for name, x0, x1 in (("left stile", 0, 2), ("right stile", 34, 36)):
        inner_x = (Fraction(1, 2), Fraction(2)) if name == "left stile" else (Fraction(34), Fraction(71, 2))
        features = [
            cut("mortise", inner_x, ("1/4", "1/2"), (Fraction(125, 4), Fraction(131, 4)), by="joint 20"),
            cut("mortise", inner_x, ("1/4", "1/2"), (Fraction(1, 2), Fraction(7, 2)), by="joint 21"),
        ]
        parts.append(part(name, "stile", "F", OAK, box((x0, x1), (0, "3/4"), (0, "133/4")), tuple(features), grain="up"))
        number += 1
        side = name.replace("stile", "side")
        joints.append(joint(number, "butt", "to", name, side, (0 if x0 == 0 else 36 - s, "3/4", 0), Z, X, Y, "133/4", "23/32"))
    for name, letter, z0, z1, t0, t1 in (("top rail", "G", "123/4", "133/4", "125/4", "131/4"),
                                         ("bottom rail", "H", 0, 4, "1/2", "7/2")):
        grows = (cut("tenon", ("1/2", 2), ("1/4", "1/2"), (t0, t1), op="grow", by="joint 20"),
                 cut("tenon", (34, "71/2"), ("1/4", "1/2"), (t0, t1), op="grow", by="joint 20"))
        arch: tuple[Feature, ...] = ()
        if name == "bottom rail":
            outline = (OutlinePoint(inch(5), ZERO), OutlinePoint(inch(31), ZERO), OutlinePoint(inch(5), ZERO, inch(60), 1))
            frame = Frame((ZERO, ZERO, ZERO), X, Z, Y)
            arch = (Feature("cut", "arch", Prism(outline, (inch("-1/8"), inch("7/8"))), frame, "working 3", face="front"),)
        parts.append(part(name, name, letter, OAK, box((2, 34), (0, "3/4"), (z0, z1)), (*grows, *arch), grain="across"))
        for stile, x, into in (("left stile", 2, MX), ("right stile", 34, X)):
            number += 1
            joints.append(joint(number, "mortise and tenon", "into", name, stile, (x, "1/4", t0), Z, Y, into, "3/2" if z0 else "3", "1/4"))
    return model_of("Low bookcase", tuple(parts), tuple(joints))

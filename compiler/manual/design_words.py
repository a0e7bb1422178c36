"""What each key of design.yaml holds, in one line, with an example.

In: nothing. Out: tables that the manual prints. Tests hold that they name every key that the check knows, and no other, and that each
example, put into a plan, is read without an error.
"""

from __future__ import annotations

from typing import NamedTuple


class Entry(NamedTuple):
    """A key, what it holds, and an example of the line as it is written."""

    key: str
    says: str
    example: str


PLAN = (
    Entry("plan", "The title. Needed.", "plan: Hall table"),
    Entry("number", "The plan's number. Needed.", "number: 41"),
    Entry("issue", "The issue, from 1. Needed; a change that readers see raises it.", "issue: 1"),
    Entry("date", "Year, month, day of this issue. Needed.", "date: 2026-11-02"),
    Entry("units", "The unit of bare numbers, inch or mm. Needed.", "units: inch"),
    Entry("editions", "Unit and paper of each edition, inch or metric with letter or a4. Needed.", "editions: [inch letter, metric a4]"),
    Entry("note", "A remark for the first pages.", "note: Fits a hall of 10 ft."),
    Entry("sizes", "Lengths and angles with a name.", "sizes: {apron: 4 1/2, splay: 10 deg}"),
    Entry("numbers", "Counts and ratios with a name; no edition re-sizes them.", "numbers: {shelves: 2}"),
    Entry("middle", "The line that mirror images are taken about, for each way that needs one.", "middle: {across: 18}"),
    Entry("materials", "Short names of stock and hardware of the library.", "materials: {wood: white oak 4/4}"),
    Entry("assemblies", "Groups of parts that are built on their own.", "assemblies: {case: {parts: {side: {stock: wood, across: from 0, deep: 0 to 6, up: 0 to 12}}}}"),
    Entry("parts", "The parts, each under its name.", "parts: {shelf: {stock: wood, across: 0 to 12, deep: 0 to 6, up: from 4}}"),
    Entry("components", "Pieces that are used several times, such as drawers; written once.", "components: {drawer: {stock: wood, parts: {front: {across: 0 to width, deep: from 0, up: 0 to height}}}}"),
    Entry("joints", "A list of joints.", "joints: [{butt: shelf, to: leg}]"),
    Entry("hardware", "A list of hardware.", "hardware: [{item: felt foot 1, on: leg, face: bottom, count: 1}]"),
    Entry("finish", "A list of finishes.", "finish: [{oil: all, coats: 2}]"),
    Entry("match", "Parts to be cut from one run of figure, each group a list.", "match: [[shelf, leg]]"),
    Entry("views", "Pictures by name: the words of a view.", "views: {corner: front left top}"),
    Entry("explode", "Where a part goes in exploded views, and how far.", "explode: {shelf: up 6}"),
    Entry("booklet", "What this plan's booklet holds.", "booklet: {leave out: [words used]}"),
    Entry("settings", "Settings of the shop and of plugins that differ for this plan.", "settings: {fit: {dado: 0}}"),
    Entry("theme", "The theme of this plan alone.", "theme: standard"),
)

ASSEMBLY = (
    Entry("stock", "What its parts are made of, where they don't say.", "stock: wood"),
    Entry("parts", "Its parts.", "parts: {side: {across: from 0, deep: 0 to 6, up: 0 to 12}}"),
    Entry("joints", "Joints between them; they may stand under the plan's as well.", "joints: [{butt: shelf, to: side}]"),
    Entry("assemblies", "Groups in the group.", "assemblies: {frame: {parts: {}}}"),
    Entry("note", "A remark for lists.", "note: Glued up first."),
)

PART = (
    Entry("stock", "What it is made of: a short name of materials, or a library entry.", "stock: wood"),
    Entry("across", "Where it stands from left to right.", "across: 0 to 12"),
    Entry("deep", "Where it stands from front to back.", "deep: 0 to 6"),
    Entry("up", "Where it stands from the floor up.", "up: from 4"),
    Entry("grain", "The way of the grain, where it isn't the longest side: across, deep, up or any.", "grain: across"),
    Entry("copies", "More of the same: mirror images, rows.", "copies: 2 up every 8"),
    Entry("workings", "What is cut into it: a list.", "workings: [{chamfer: top front, width: 1/8}]"),
    Entry("edge band", "Faces that get an edge tape.", "edge band: {birch edge tape: [front]}"),
    Entry("glue-up", "How many boards it is glued up from.", "glue-up: 2 strips"),
    Entry("plane", "The way its thickness runs, where a planed board makes it doubtful.", "plane: up"),
    Entry("tilt", "How it is turned from the way it is written.", "tilt: top by 5 deg to back about bottom front edge"),
    Entry("level", "Ends of a tilted part that are cut level.", "level: [bottom]"),
    Entry("profile", "The moulding whose section it has.", "profile: cove moulding"),
    Entry("note", "A remark for the cut list.", "note: Straightest grain."),
    Entry("run", "In place of two extents: a moulding wrapped round a group.", "run: {round: [left, front, right], of: case}"),
    Entry("component", "The component that stands here.", "component: drawer"),
    Entry("with", "Sizes of the component that differ here.", "with: {overlay: 1/2}"),
)

COMPONENT = (
    Entry("stock", "What its parts are made of, where they don't say.", "stock: wood"),
    Entry("sizes", "Its own sizes; a use may give others. Its width, depth and height are there without being written.", "sizes: {gap: 1/16}"),
    Entry("numbers", "Its own counts and ratios.", "numbers: {tails: 3}"),
    Entry("middle", "Its own middle lines.", "middle: {across: width / 2}"),
    Entry("materials", "Short names beside those of the plan.", "materials: {thin: birch plywood 1/4}"),
    Entry("parts", "Its parts; 0 is the component's left, front, bottom corner.", "parts: {front: {across: 0 to width, deep: from 0, up: 0 to height}}"),
    Entry("joints", "Its joints.", "joints: [{groove: bottom, into: front, depth: 1/4}]"),
    Entry("hardware", "Its hardware, for each use.", "hardware: [{item: knob 1 1/4, on: front, at: centre}]"),
    Entry("note", "A remark for lists.", "note: All alike."),
)

RUN = (
    Entry("round", "The faces it goes round, in their order.", "round: [left, front, right]"),
    Entry("of", "The group it is wrapped round.", "of: case"),
)

PAIR = (
    Entry("inch", "The size, or the material, in the inch edition.", "inch: 36"),
    Entry("mm", "The same in the metric edition.", "mm: 915"),
)

FINISH = (
    Entry("coats", "How many.", "coats: 3"),
    Entry("faces", "Which faces, where not all.", "faces: [top]"),
    Entry("item", "The finish by its name in the library.", "item: hard wax oil"),
    Entry("note", "A remark for the finishing schedule.", "note: Thin the first coat."),
)

BOOKLET = (
    Entry("leave out", "Sections to leave out, by name. Cautions stay.", "leave out: [words used]"),
    Entry("order", "Sections in the order that they are to have.", "order: [materials, cut list]"),
    Entry("sample", "Sections that a free sample shows.", "sample: [cover, cut list]"),
)

HARDWARE = (
    Entry("item", "What it is: a short name of materials, or a library entry. Or screws, brads, nails, dowels with their size.", "item: knob 1 1/4"),
    Entry("on", "The parts it sits on.", "on: shelf"),
    Entry("at", "Where on the part, counted from its edges.", "at: centre"),
    Entry("face", "On which face, where that is in doubt.", "face: bottom"),
    Entry("per", "For each copy, or each use of a component.", "per: shelf"),
    Entry("under", "The part that it carries.", "under: shelf"),
    Entry("in", "The parts that it sits in.", "in: leg"),
    Entry("from", "The part that it goes from.", "from: shelf"),
    Entry("to", "The part that it goes to.", "to: leg"),
    Entry("count", "How many for each; else the library's rule.", "count: 4"),
)
"""Keys of an entry under hardware."""

ENTITIES: dict[str, tuple[str, tuple[Entry, ...]]] = {
    "plan": ("At the head of design.yaml", PLAN),
    "part": ("A part", PART),
    "assembly": ("An assembly", ASSEMBLY),
    "component": ("A component", COMPONENT),
    "run": ("A run", RUN),
    "pair": ("A size for each edition", PAIR),
    "finish": ("A finish", FINISH),
    "booklet": ("The booklet", BOOKLET),
}

SHOP = (
    Entry("shop", "The shop's name, as it stands on every plan.", "shop: Pinwheel Lane Woodshop"),
    Entry("terms", "The terms of use.", "terms: One buyer, one shop."),
    Entry("currency", "The sign before prices.", "currency: $"),
    Entry("kerf", "Width of the saw cut in layouts.", "kerf: {inch: 1/8, mm: 3}"),
    Entry("trim", "Taken off the edges of a whole sheet.", "trim: {inch: 1/4, mm: 6}"),
    Entry("rough allowance", "Longer and wider when a board is first cut.", "rough allowance: {length: {inch: 1, mm: 25}, width: {inch: 1/4, mm: 6}}"),
    Entry("fit", "Added to the width of a groove or dado, by kind of joint.", "fit: {groove: {inch: 1/64, mm: 0.5}}"),
    Entry("smallest fraction", "To this sizes are shown.", "smallest fraction: 1/32"),
    Entry("theme", "The theme of all plans.", "theme: standard"),
    Entry("prices", "What stock and hardware cost.", "prices: {poplar 4/4: 4.10 per board foot}"),
    Entry("offcuts", "Pieces in the rack that layouts may use first.", "offcuts: [{stock: birch plywood 18 mm, size: 610 x 1040, count: 1}]"),
    Entry("tools", "Tools that the shop has.", "tools: [table saw, router]"),
    Entry("trusted", "Whose plugins may run.", "trusted: [trestle-bench]"),
    Entry("table limit", "The largest piece that the table saw takes.", "table limit: {inch: 24 x 48, mm: 600 x 1200}"),
    Entry("humidity", "Driest and dampest the region's rooms get, in per cent.", "humidity: 30 to 60"),
    Entry("booklet", "What the booklets of this shop hold.", "booklet: {order: [materials, cut list]}"),
    Entry("settings", "Settings of plugins, each under its plugin's key.", "settings: {board feet: {waste: 1.3}}"),
    Entry("facts", "Facts for the first page.", "facts: {Video: pinwheel-lane.example/14}"),
)
"""Keys of shop.yaml."""

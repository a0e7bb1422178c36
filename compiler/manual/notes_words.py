"""What each field of notes.md holds, the forms inside `{{ }}`, and the words of views.

In: nothing. Out: tables that the manual prints. Tests hold them against the code that reads the notes and draws the views.
"""

from __future__ import annotations

from compiler.manual.design_words import Entry

TITLE = (
    Entry("subtitle", "One or two sentences for the cover.", ":subtitle: A small table for a narrow hall."),
    Entry("skill", "How hard it is, 1 to 4.", ":skill: 2"),
    Entry("time", "Time in the shop; else the steps' own times are added.", ":time: 20 h"),
)

STEP = (
    Entry("makes", "Parts that come out of this step, still on the bench.", ":makes: top"),
    Entry("adds", "Parts that are put in place. Every part is added once.", ":adds: left side, bottom"),
    Entry("works", "Parts that are worked on.", ":works: top, leg"),
    Entry("view", "From where the picture is seen, or `none`.", ":view: front left top"),
    Entry("photo", "A photograph in the plan's folder, a comma, what it shows.", ":photo: photos/clamps.jpg, Clamps across the top"),
    Entry("time", "How long it takes; waiting for glue is not counted.", ":time: 1 h 30 min"),
    Entry("tools", "Tools that its words don't tell of.", ":tools: bevel gauge"),
    Entry("repeat", "How often it is done.", ":repeat: 2"),
    Entry("only", "In one edition alone: inch or metric.", ":only: metric"),
    Entry("video", "An address, printed with its code to scan.", ":video: https://pinwheel-lane.example/v/14"),
)

INSIDE = (
    ("{{ rail.length }}", "a finished size of a part: length, width or thickness, joints in it"),
    ("{{ rail.across }}", "a size as written: across, deep, up"),
    ("{{ height - 2 * apron }}", "any size that design.yaml could hold"),
    ("{{ 1/16 }}", "a measure that is no size of the plan, typed on purpose"),
    ('{{ part("rail") }}', "a part's ringed letter and name"),
    ('{{ joint("rail", "leg").length }}', "a parameter of a joint, as it was made"),
    ('{{ count("rail") }}', "how many there are"),
    ('{{ figure("rail to leg") }}', "a figure by its name; so table(…), step(…) and section(…)"),
)

VIEWS = (
    ("front left top", "a picture from a corner, in any order of the three words"),
    ("front", "an elevation: front, back, left side, right side, top"),
    ("section at 8 from the front", "cut through at a place"),
    ("detail of rail from the front", "one part and what is round it"),
    ("part rail", "the drawing a part is made from"),
    ("exploded", "all parts moved out; `exploded case` for one group"),
    ("front left top without top", "less some parts"),
)

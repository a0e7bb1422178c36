"""Whatever stands in a plan is a design, or faults in words: never an exception."""

from hypothesis import given, settings
from hypothesis import strategies as st

from compiler.language import show_report
from compiler.stages.check import check, shop_of
from tests.stages.drafts import INCH, METRIC, ROOT, draft, library

PLAN = (ROOT / "tests" / "cases" / "plan.yaml").read_text(encoding="utf-8").splitlines()
VALUES = ["", "[]", "{}", "0", "-1", "to 0", "as side", "as drawer", "between bottom and rail", "side.right", "mirror up", "3 up every 0", "with shelf", "with nosing",
          "width", "10 deg", "component", "all", "[side, side]", "{inch: 1}", "{inch: 1, mm: 2}", "1 / 0", "drawer.front.top", "middle", "any", "deep", "“x”", "birch edge tape", "[[1], {a: b}]"]

line = st.integers(0, len(PLAN) - 1)
value = st.sampled_from(VALUES)
change = st.one_of(st.tuples(st.just("drop"), line, value), st.tuples(st.just("twice"), line, value), st.tuples(st.just("set"), line, value), st.tuples(st.just("take"), line, line))


def changed(changes: list[tuple[str, int, str | int]]) -> str:
    lines = list(PLAN)
    for kind, at, what in changes:
        key, colon, _ = lines[at].partition(": ")
        if kind == "drop":
            lines[at] = ""
        elif kind == "twice":
            lines[at] = lines[at] + "\n" + lines[at]
        elif colon and isinstance(what, str):
            lines[at] = f"{key}: {what}"
        elif colon and isinstance(what, int) and ": " in PLAN[what]:
            lines[at] = f"{key}: {PLAN[what].partition(': ')[2]}"
    return "\n".join(lines) + "\n"


@settings(max_examples=150)
@given(st.lists(change, min_size=1, max_size=4))
def test_a_plan_with_any_line_wrong(changes: list[tuple[str, int, str | int]]) -> None:
    """A value or an error, and every fault can be shown."""
    tree = draft(design=changed(changes), shop="shop: Pinwheel Lane Woodshop\n")
    for edition in (INCH, METRIC):
        outcome = check(tree, library(), edition)
        assert outcome.value is not None or not outcome.report.ok or tree.root("design.yaml") is None
        shown = show_report(outcome.report + shop_of(tree, library(), edition).report, tree, library())
        assert "``" not in shown

"""Sample plugin: how much wood of each stock the parts need end to end, and a table of it.

A task works something out, once for each edition; its product may be read by sections, exports, checks and other tasks.
"""

from dataclasses import dataclass
from fractions import Fraction

from compiler.api import ZERO, Blocks, CutList, Length, Plugin, Settings, Table, ask, hook, section, task


class SamplePluginSettings(Settings):
    """What the shop may write under `sample plugin:` in the settings of shop.yaml."""

    key = "sample plugin"
    spare: Fraction = ask.ratio("1.1", "times the length of the parts", least="1", most="2")


@dataclass(frozen=True)
class SamplePluginRow:
    """One stock: pieces, their length in all, and the length to have at hand."""

    stock: str
    pieces: int
    run: Length
    needed: Length


@dataclass(frozen=True)
class SamplePlugin:
    """What the task makes: one row a stock. Frozen, with exact values only."""

    rows: tuple[SamplePluginRow, ...]


@task
def sample_plugin(cut_list: CutList, settings: SamplePluginSettings) -> SamplePlugin:
    """Length of all parts by stock. What stands in the brackets is what it needs; the compiler brings it."""
    rows = []
    for stock in cut_list.stocks:
        cut = cut_list.from_stock(stock)
        run = sum((row.length * row.number for row in cut), ZERO)
        rows.append(SamplePluginRow(stock.name, sum(row.number for row in cut), run, run * settings.spare))
    return SamplePlugin(tuple(rows))


@section("Sample plugin", after="cut list")
def sample_plugin_pages(product: SamplePlugin) -> Blocks:
    """The product as a table; nothing when there is nothing to say."""
    if product.rows:
        rows = tuple((row.stock, row.pieces, row.run, row.needed) for row in product.rows)
        yield Table("Length of the parts", ("Stock", "Pieces", "In the parts", "To have at hand"), rows)


@hook
def plugin() -> Plugin:
    """All that this plugin brings."""
    return Plugin(contract=1, tasks=(sample_plugin,), sections=(sample_plugin_pages,))

"""What a plugin's own tests use: a plan from a text, a joint without a plan, and tests that any plugin should pass.

    assert plan(CASE, dado).cut("shelf") == "1 shelf 23 3/4 x 11 x 3/4 pine 4/4"
    assert joint(Dado, contact(length=inch(11)), depth="1/4").on_receiver[0].called == "dado"
    assert faults(CASE, dado) == ()
    assert differences(CASE, dado) == ()  # slower: in two processes with other hash seeds, time zones and folders

`own_plugin(__file__)` is the plugin that a test stands beside. `plan` takes plugins at hand (modules, `Plugin` values); the bundled plugins and the library are there too.
"""

from compiler.testing.contracts import faults
from compiler.testing.elsewhere import differences
from compiler.testing.joints import PINE, contact, joint, made_joint
from compiler.testing.own import own_plugin
from compiler.testing.plans import Plan, plan

__all__ = ["PINE", "Plan", "contact", "differences", "faults", "joint", "made_joint", "own_plugin", "plan"]

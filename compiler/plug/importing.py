"""One candidate's code, imported, and what its hook gives.

In: a candidate that may run. Out: the `Plugin` it brings, or errors with the author's line. A plugin in a folder is
imported under a name made of its own and its code's digest, so that two plans may each have a `labels`.
pluggy checks the hook; nothing of a plugin's content is judged here.
"""

from __future__ import annotations

import importlib
import importlib.util
import sys
from functools import cache
from pathlib import Path
from types import FunctionType, ModuleType, SimpleNamespace

import pluggy

from compiler import hooks
from compiler.base.report import Diagnostic, Outcome, Report, Spot
from compiler.guard import author_line, call
from compiler.plug.finding import Candidate, folder_digest
from compiler.values.contributions import Author, Plugin

_MARK = f"{hooks.hook.project_name}_impl"

_brought: set[str] = set()
"""Names of the modules of plugins that this process imported, each after consent."""


def of_a_plugin(module: str) -> bool:
    """Whether a module belongs to a plugin that was imported in this process: only then may its values be brought back.

    A plugin in a folder is imported under a name that holds its code's digest, so that a value comes back to the code that made it.
    """
    return module in sys.modules and any(module == name or module.startswith(f"{name}.") for name in _brought)


def author_of(candidate: Candidate) -> Author:
    """The author of everything in a candidate."""
    return Author(plugin=candidate.name, folder=str(candidate.folder), digest=candidate.digest, found=candidate.found)


def bring(candidate: Candidate) -> Outcome[Plugin]:
    """What its hook gives."""
    author = author_of(candidate)
    if not candidate.name.isidentifier():
        return _fault(author, f"`{candidate.name}` can't be imported: a plugin's folder is named in letters, digits and _.")
    module = call(author, candidate.name, lambda: _module(candidate))
    if module.value is None:
        return Outcome(None, module.report)
    _brought.add(module.value.__name__)
    given = bring_module(module.value, author)
    return Outcome(given.value, module.report + given.report)


def bring_module(module: ModuleType, author: Author) -> Outcome[Plugin]:
    """What the hook in a module gives."""
    marked = {name: thing for name, thing in vars(module).items() if isinstance(thing, FunctionType) and hasattr(thing, _MARK)}
    stray = next((name for name in marked if name != "plugin"), None)
    if stray is not None:
        return _fault(author, f"Its hook does not fit: unknown hook `{stray}`; write def plugin() -> Plugin.",
                      author_line(author, marked[stray].__code__.co_firstlineno, marked[stray].__code__.co_filename))
    if not marked:
        return _fault(author, f"`{author.plugin}` has no @hook; put @hook above def plugin() -> Plugin.", _unmarked(module, author))
    function = marked["plugin"]
    manager = _manager()
    try:
        manager.register(SimpleNamespace(**marked), author.plugin)
    except pluggy.PluginValidationError as problem:
        says = str(problem).strip().splitlines()[-1]
        return _fault(author, f"Its hook does not fit: {says}; write def plugin() -> Plugin.",
                      author_line(author, function.__code__.co_firstlineno, function.__code__.co_filename))
    finally:
        if manager.has_plugin(author.plugin):
            manager.unregister(name=author.plugin)
    given = call(author, "plugin()", function)
    line = author_line(author, function.__code__.co_firstlineno, function.__code__.co_filename)
    if isinstance(given.value, Plugin):
        return Outcome(given.value, given.report)
    if not given.report.ok:
        return Outcome(None, given.report)
    hint = "Is there a return?" if given.value is None else ""
    return _fault(author, f"`plugin()` gave a {type(given.value).__name__}; it gives a Plugin(contract=1, …).", line, hint)


def _unmarked(module: ModuleType, author: Author) -> Spot | None:
    """The line of a function called plugin that has no mark."""
    code = getattr(getattr(module, "plugin", None), "__code__", None)
    return author_line(author, code.co_firstlineno, code.co_filename) if code is not None else None


@cache
def _manager() -> pluggy.PluginManager:
    """Holds the contract that hooks are measured by; no plugin stays in it."""
    manager = pluggy.PluginManager("kerfolio")
    manager.add_hookspecs(hooks)
    return manager


def _module(candidate: Candidate) -> ModuleType:
    if candidate.found == "bundled" and candidate.folder.parent.name == "plugins" and _is_own(candidate):
        return importlib.import_module(f"plugins.{candidate.name}")
    if candidate.found == "installed":
        return importlib.import_module(candidate.module)
    name = f"plugins_of_{candidate.found}_{candidate.digest[:16]}_{candidate.name}"
    known = sys.modules.get(name)
    if known is not None and known.__file__ == str(candidate.folder / "__init__.py"):
        return known
    for inner in [inner for inner in sys.modules if inner.startswith(f"{name}.")]:
        del sys.modules[inner]  # The same code in another folder: its files are those of this one now.
    spec = importlib.util.spec_from_file_location(name, candidate.folder / "__init__.py",
                                                  submodule_search_locations=[str(candidate.folder)])
    assert spec is not None and spec.loader is not None
    module = importlib.util.module_from_spec(spec)
    sys.modules[name] = module
    try:
        spec.loader.exec_module(module)
    except BaseException:
        del sys.modules[name]
        raise
    return module


def module_in(folder: Path) -> ModuleType:
    """The module of the plugin in a folder, imported now: for tests, which are consent. What its code raises is raised."""
    folder = folder.resolve()
    own = Candidate(name=folder.name, folder=folder, digest="", found="bundled")
    if folder.parent.name == "plugins" and _is_own(own):
        return _module(own)
    return _module(Candidate(name=folder.name, folder=folder, digest=folder_digest(folder), found="plan"))


def _is_own(candidate: Candidate) -> bool:
    """True for the plugins that stand beside the compiler, which have an import name of their own."""
    spec = importlib.util.find_spec("plugins")
    places = spec.submodule_search_locations if spec is not None else None
    return places is not None and str(candidate.folder.parent) in {str(place) for place in places}


def _fault(author: Author, says: str, at: Spot | None = None, hint: str = "") -> Outcome[Plugin]:
    return Outcome(None, Report((Diagnostic("plugin-refused", says, at, hint, plugin=author.plugin),)))

"""Who may import whom: the rules that keep the compiler in layers, read from the imports of every module.

cli → build → stages | plug | store → hooks → draw, library → solid → language → values → base. Two stages never import each other.
Plugins import `compiler.api`, their own folder, and plugins that they say they use.
"""

from __future__ import annotations

import ast
from functools import cache
from pathlib import Path

import pytest

HOME = Path(__file__).resolve().parents[1]
LAYERS: tuple[tuple[str, ...], ...] = (
    ("cli", "__main__", "bootstrap", "testing"),
    ("printing",),
    ("backlist", "watching", "stamping"),
    ("build", "preparing", "stopping", "starting", "scaffold", "manual"),
    ("compare", "record", "showing"),
    ("stages", "plug", "store", "api"),
    ("hooks", "guard"),
    ("draw", "library"),
    ("solid",),
    ("language",),
    ("values",),
    ("base",),
)
LEVEL = {name: level for level, layer in enumerate(LAYERS) for name in layer}
ONE_HOME = {
    "pluggy": ("compiler/plug/", "compiler/hooks.py"),
    "ruamel": ("compiler/language/", "compiler/stages/parse"),
    "markdown_it": ("compiler/stages/notes",),
    "mdit_py_plugins": ("compiler/stages/notes",),
    "jinja2": ("compiler/stages/dress",),
    # Drawings are lettered with the pages' own fonts: their writer shares the pages' text engine.
    "weasyprint": ("compiler/draw/typesetter.py",),
    "lark": ("compiler/language/",),
    "manifold3d": ("compiler/solid/",),
    "trimesh": ("compiler/solid/",),
}


def modules(folder: str) -> list[Path]:
    return sorted(file for file in (HOME / folder).rglob("*.py") if "__pycache__" not in file.parts)


@cache
def imports(file: Path) -> tuple[tuple[str, int], ...]:
    """Absolute names of what a module imports, with their lines; imports for the type checker alone don't count."""
    tree = ast.parse(file.read_text(encoding="utf-8"))
    package = file.relative_to(HOME).with_suffix("").parts[:-1]
    quiet = {inner for node in ast.walk(tree) if isinstance(node, ast.If) and "TYPE_CHECKING" in ast.dump(node.test) for inner in ast.walk(node)}
    found: list[tuple[str, int]] = []
    for node in ast.walk(tree):
        if node in quiet:
            continue
        if isinstance(node, ast.Import):
            found += [(alias.name, node.lineno) for alias in node.names]
        elif isinstance(node, ast.ImportFrom):
            base = ".".join(package[: len(package) - node.level + 1]) if node.level else ""
            name = ".".join(piece for piece in (base, node.module or "") if piece)
            found += [(f"{name}.{alias.name}", node.lineno) for alias in node.names]
    return tuple(found)


def shown(file: Path, line: int, name: str) -> str:
    return f"{file.relative_to(HOME)}:{line} imports {name}"


def home_of(file: Path) -> str:
    inside = file.relative_to(HOME / "compiler").with_suffix("").parts
    return inside[0]


def test_no_module_imports_from_a_layer_above() -> None:
    """And siblings of one layer leave each other alone."""
    wrong = []
    for file in modules("compiler"):
        home = home_of(file)
        if home == "__init__":
            continue
        assert home in LEVEL, f"compiler/{home} stands in no layer: add it to LAYERS"
        for name, line in imports(file):
            pieces = name.split(".")
            if pieces[0] != "compiler" or len(pieces) < 2 or pieces[1] in (home, "__version__"):
                continue
            other = pieces[1]
            siblings = LEVEL.get(other) == LEVEL[home] and not (home in ("testing", "__main__", "cli") or other in ("guard", "hooks"))
            if other not in LEVEL or LEVEL[other] < LEVEL[home] or siblings:
                wrong.append(shown(file, line, name))
    assert [] == wrong


def test_two_stages_never_import_each_other() -> None:
    """What passes between them are values."""
    wrong = []
    for file in modules("compiler/stages"):
        own = file.relative_to(HOME / "compiler" / "stages").with_suffix("").parts[0]
        for name, line in imports(file):
            pieces = name.split(".")
            if pieces[:2] == ["compiler", "stages"] and len(pieces) > 2 and pieces[2] != own and own != "__init__":
                wrong.append(shown(file, line, name))
    assert [] == wrong


def test_the_compiler_imports_no_plugin_and_no_theme() -> None:
    """They are found, never named."""
    assert [] == [shown(file, line, name) for file in modules("compiler") for name, line in imports(file)
                  if name.split(".")[0] in ("plugins", "themes")]


def uses(folder: Path) -> set[str]:
    """The plugins that a plugin says it uses."""
    for node in ast.walk(ast.parse((folder / "__init__.py").read_text(encoding="utf-8"))):
        if isinstance(node, ast.keyword) and node.arg == "uses" and isinstance(node.value, ast.Tuple):
            return {str(item.value) for item in node.value.elts if isinstance(item, ast.Constant)}
    return set()


@pytest.mark.parametrize("folder", sorted(file.parent.name for file in (HOME / "plugins").glob("*/__init__.py")))
def test_a_bundled_plugin_uses_nothing_that_others_cannot(folder: str) -> None:
    """`compiler.api`, its own folder, plugins it says it uses, and packages that are not the compiler's."""
    allowed = {folder, *uses(HOME / "plugins" / folder)}
    wrong = []
    for file in modules(f"plugins/{folder}"):
        for name, line in imports(file):
            pieces = name.split(".")
            if pieces[0] == "compiler" and pieces[:2] != ["compiler", "api"]:
                wrong.append(shown(file, line, name))
            if pieces[0] == "plugins" and (len(pieces) < 2 or pieces[1] not in allowed):
                wrong.append(shown(file, line, name))
    assert [] == wrong


@pytest.mark.parametrize("package", ONE_HOME)
def test_a_library_has_one_home(package: str) -> None:
    """So that it can be replaced there."""
    homes = ONE_HOME[package]
    wrong = [
        shown(file, line, name)
        for folder in ("compiler", "plugins")
        for file in modules(folder)
        for name, line in imports(file)
        if name.split(".")[0] == package and not file.relative_to(HOME).as_posix().startswith(homes)
    ]
    assert [] == wrong


def test_no_clock_and_no_chance() -> None:
    """A plan is a function of its folder: time, chance and environment stay out of everything that makes a value."""
    allowed = ("compiler/cli", "compiler/watching.py", "compiler/preparing.py", "compiler/bootstrap", "compiler/stages/publish", "compiler/guard.py", "compiler/starting.py", "compiler/testing")
    files = [file for folder in ("compiler", "plugins") for file in modules(folder) if not file.relative_to(HOME).as_posix().startswith(allowed)]
    wrong = [shown(file, line, name) for file in files for name, line in imports(file) if name.split(".")[0] in ("time", "random", "secrets", "uuid")]
    wrong += [
        f"{file.relative_to(HOME)}:{node.lineno} asks for {node.attr}()"
        for file in files
        for node in ast.walk(ast.parse(file.read_text(encoding="utf-8")))
        if isinstance(node, ast.Attribute) and node.attr in ("today", "now", "utcnow", "getenv", "environ")
    ]
    assert [] == wrong

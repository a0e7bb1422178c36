"""The line of shop.yaml that lets a new plugin run.

In: the folder of a plan or of the shop, and the plugin's name. Out: shop.yaml's place and the line as it should stand there, with what it
trusts already; no line when it trusts the folder as it is.
"""

from __future__ import annotations

from pathlib import Path

from compiler.base.digests import digest
from compiler.stages.parse import parse
from compiler.values.draft import Mapping, Scalar, Sequence
from compiler.values.source import Source, SourceFile


def trust_line(home: Path, plugin: str) -> tuple[Path | None, str]:
    """Where to write, and what: `trusted: [trestle-bench, plugins/loose_key]`; "" when nothing has to be written.

    `home` is the folder that holds the `plugins` folder. The plugin is trusted by its name, as its code is about to change.
    """
    own = (home / "shop.yaml").is_file()
    folder = "plugins" if own else home.resolve().name
    settings = home / "shop.yaml" if own else home.parent / "shop.yaml"
    trusted = _trusted(settings)
    if folder in trusted or f"{folder}/{plugin}" in trusted:
        return settings, ""
    return settings, f"trusted: [{', '.join((*trusted, f'{folder}/{plugin}'))}]"


def _trusted(settings: Path) -> tuple[str, ...]:
    try:
        text = settings.read_text(encoding="utf-8")
    except (OSError, UnicodeDecodeError):
        return ()
    draft = parse(Source(folder="", files=(SourceFile("shop.yaml", text, digest(text)),))).value
    root = draft.root("shop.yaml") if draft is not None else None
    entries = root.get("trusted") if isinstance(root, Mapping) else None
    if isinstance(entries, Sequence):
        return tuple(item.text for item in entries.items if isinstance(item, Scalar))
    return (entries.text,) if isinstance(entries, Scalar) and entries.text.strip() else ()

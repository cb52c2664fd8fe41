"""WeasyPrint is spoken to in one place only, so that no page can be made without our fetcher."""

import ast
from pathlib import Path

ROOT = Path(__file__).parents[3]
MAY_IMPORT = {"decor/documents/pdf.py", "decor/documents/fetcher.py"}


def _imports(path: Path) -> set[str]:
    found = set()
    for node in ast.walk(ast.parse(path.read_text())):
        if isinstance(node, ast.Import):
            found |= {alias.name for alias in node.names}
        elif isinstance(node, ast.ImportFrom) and node.module:
            found.add(node.module)
    return found


def test_only_the_documents_room_imports_weasyprint() -> None:
    callers = {
        str(path.relative_to(ROOT))
        for room in ("decor", "inventory", "quoting")
        for path in (ROOT / room).rglob("*.py")
        if any(name.split(".")[0] == "weasyprint" for name in _imports(path))
    }

    assert callers == MAY_IMPORT


def test_the_fetcher_takes_nothing_but_the_parent_class() -> None:
    assert "weasyprint" not in _imports(ROOT / "decor/documents/fetcher.py")

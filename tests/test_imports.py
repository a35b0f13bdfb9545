"""No circle of imports is left in the house, those inside functions and for types included."""

import ast
from collections.abc import Iterator
from pathlib import Path

import networkx

import workbench

PACKAGE = Path(workbench.__file__).parent


def modules() -> dict[str, Path]:
    """Every module of the house by its dotted name."""
    found = {}
    for path in PACKAGE.rglob("*.py"):
        parts = path.relative_to(PACKAGE.parent).with_suffix("").parts
        found[".".join(parts[:-1] if parts[-1] == "__init__" else parts)] = path
    return found


def imported(tree: ast.AST) -> Iterator[str]:
    """Every dotted name that is imported anywhere in `tree`."""
    for node in ast.walk(tree):
        if isinstance(node, ast.Import):
            yield from (alias.name for alias in node.names)
        elif isinstance(node, ast.ImportFrom) and node.module:
            yield node.module
            yield from (f"{node.module}.{alias.name}" for alias in node.names)


def test_modules_import_one_another_in_no_circle() -> None:
    ours = modules()
    graph = networkx.DiGraph()
    for name, path in ours.items():
        tree = ast.parse(path.read_text(encoding="utf-8"))
        graph.add_edges_from((name, other) for other in imported(tree) if other in ours)
    assert graph.number_of_edges() > len(ours)
    circles = [sorted(circle) for circle in networkx.strongly_connected_components(graph)]
    assert [circle for circle in circles if len(circle) > 1] == []

"""Who may import whom, held by walking every import of the source, inside functions too.

errors <- chemistry <- records <- exchange, queries <- diagnose <- cli; skipping is fine.
"""

import ast
from functools import cache
from pathlib import Path

ROOT = Path(__file__).parents[2]
OWN = ("tiles", "diagnose", "sample_db")

MAY_IMPORT = {
    "tiles": set(),
    "tiles.errors": set(),
    "tiles.settings": {"tiles.errors"},
    "tiles.chemistry": {"tiles.errors"},
    "tiles.records": {"tiles.errors", "tiles.chemistry", "tiles.settings"},
    "tiles.exchange": {"tiles.errors", "tiles.chemistry", "tiles.records"},
    "tiles.queries": {"tiles.errors", "tiles.chemistry", "tiles.records"},
    "diagnose": {
        "tiles.errors",
        "tiles.chemistry",
        "tiles.records",
        "tiles.exchange",
        "tiles.queries",
    },
    "sample_db": {"tiles.errors", "tiles.chemistry", "tiles.records"},
    "tiles.cli": {
        "tiles",
        "tiles.errors",
        "tiles.settings",
        "tiles.chemistry",
        "tiles.records",
        "tiles.exchange",
        "tiles.queries",
        "diagnose",
        "sample_db",
    },
    "tiles.__main__": {"tiles.cli"},
}

WRITES = ("tiles.records.store", "tiles.records.database")
"""Whatever changes what is on record: diagnosis reads, and is given its records."""
HEAVY = {
    "sqlmodel",
    "sqlalchemy",
    "pydantic",
    "alembic",
    "pandas",
    "numpy",
    "scipy",
    "sklearn",
    "matplotlib",
    "PIL",
}
DATABASE_TOOLS = {"sqlmodel", "sqlalchemy", "pydantic"}
# An estimator is a subclass of a library class, so its module cannot be read without the library;
# it is therefore itself loaded inside functions only.
ESTIMATOR = "diagnose.learning.estimator"
DATABASE_CODE = ("tiles.records", "tiles.queries", "tiles.exchange")


@cache
def files():
    return [file for folder in OWN for file in sorted((ROOT / folder).rglob("*.py"))]


def module_name(file):
    parts = file.relative_to(ROOT).with_suffix("").parts
    return ".".join(parts[:-1] if parts[-1] == "__init__" else parts)


def layer_of(module):
    """The part of the program a module belongs to, as MAY_IMPORT names it."""
    parts = module.split(".")
    return ".".join(parts[:2]) if parts[0] == "tiles" else parts[0]


def imports(node):
    if isinstance(node, ast.Import):
        return [alias.name for alias in node.names]
    if isinstance(node, ast.ImportFrom):
        assert node.level == 0, "imports are written in full, so that this test can read them"
        # "from tiles import errors" names a module, "from tiles import __version__" does not.
        full = [f"{node.module}.{alias.name}" for alias in node.names]
        return [name if is_module(name) else node.module for name in full]
    return []


@cache
def is_module(name):
    place = ROOT.joinpath(*name.split("."))
    return place.is_dir() or place.with_suffix(".py").is_file()


@cache
def tree(file):
    return ast.parse(file.read_text(encoding="utf-8"), str(file))


@cache
def all_imports(file):
    return [name for node in ast.walk(tree(file)) for name in imports(node)]


@cache
def module_level_imports(file):
    """What is loaded with the module; what only a type checker reads is not."""

    def walk(node):
        for child in ast.iter_child_nodes(node):
            if isinstance(child, ast.FunctionDef | ast.AsyncFunctionDef | ast.Lambda):
                continue
            if isinstance(child, ast.If) and "TYPE_CHECKING" in ast.unparse(child.test):
                continue
            yield from imports(child)
            yield from walk(child)

    return list(walk(tree(file)))


def breaches():
    for file in files():
        module = module_name(file)
        here = layer_of(module)
        for name in all_imports(file):
            there = layer_of(name)
            is_own = name.split(".")[0] in OWN
            if is_own and there != here and there not in MAY_IMPORT[here]:
                yield f"{module} imports {name}"


def test_every_file_belongs_to_a_named_layer():
    assert {layer_of(module_name(file)) for file in files()} <= MAY_IMPORT.keys()
    assert len(files()) > 60


def test_imports_follow_the_dependency_direction():
    assert list(breaches()) == []


def test_nothing_imports_the_command_line_but_itself_and_the_module_that_starts_it():
    importers = {
        module_name(file)
        for file in files()
        for name in all_imports(file)
        if layer_of(name) == "tiles.cli"
    }
    outside = {name for name in importers if layer_of(name) != "tiles.cli"}
    assert outside == {"tiles.__main__"}


def test_settings_serve_records_and_the_command_line_only():
    importers = {
        layer_of(module_name(file))
        for file in files()
        for name in all_imports(file)
        if layer_of(name) == "tiles.settings"
    }
    assert importers == {"tiles.records", "tiles.cli"}


def test_diagnosis_never_writes():
    found = [
        f"{module_name(file)} imports {name}"
        for file in files()
        for name in all_imports(file)
        if layer_of(module_name(file)) == "diagnose" and name.startswith(WRITES)
    ]
    assert found == []


def test_what_is_installed_needs_no_tests():
    found = [
        f"{module_name(file)} imports {name}"
        for file in files()
        for name in all_imports(file)
        if name.split(".")[0] == "tests"
    ]
    assert found == []


def test_modules_are_named_to_the_walk_but_for_the_commands():
    """A module loaded by a name put together at run time is seen by no walk of imports."""
    ways = {"import_module", "__import__"}
    loaders = [
        module_name(file)
        for file in files()
        if any(getattr(node, "id", getattr(node, "attr", None)) in ways
               for node in ast.walk(tree(file)))
    ]  # fmt: skip
    assert loaders == ["tiles.cli.app"]


def test_heavy_libraries_are_loaded_inside_functions():
    found = []
    for file in files():
        module = module_name(file)
        allowed = DATABASE_TOOLS if module.startswith(DATABASE_CODE) else set()
        if ".migrations" in module:
            allowed = allowed | {"alembic"}
        if module == ESTIMATOR:
            allowed = {"numpy", "sklearn"}
        heavy = {name.split(".")[0] for name in module_level_imports(file)} & HEAVY - allowed
        found += [f"{module} loads {name}" for name in sorted(heavy)]
    assert found == []


def test_the_estimator_is_loaded_inside_functions_only():
    loaders = [
        module_name(file)
        for file in files()
        if any(name.startswith(ESTIMATOR) for name in module_level_imports(file))
    ]
    assert loaders == []


def test_no_command_loads_the_database_code_or_diagnosis_before_it_is_run():
    ours = (*DATABASE_CODE, "diagnose", "sample_db")
    found = [
        f"{module_name(file)} loads {name}"
        for file in files()
        if layer_of(module_name(file)) == "tiles.cli"
        for name in module_level_imports(file)
        if name.startswith(ours)
    ]
    assert found == []


def test_the_walk_sees_imports_inside_functions_and_at_module_level(tmp_path):
    file = tmp_path / "some.py"
    file.write_text(
        "import json\n"
        "from typing import TYPE_CHECKING\n"
        "if TYPE_CHECKING:\n    import pandas\n"
        "try:\n    import numpy\nexcept ImportError:\n    pass\n"
        "def work():\n    from tiles import settings\n    import scipy.stats\n"
    )
    assert set(all_imports(file)) >= {"json", "pandas", "numpy", "tiles.settings", "scipy.stats"}
    assert set(module_level_imports(file)) == {"json", "typing", "numpy"}

import subprocess
import sys

HEAVY = ("numpy", "scipy", "pandas", "sqlmodel", "sqlalchemy", "sklearn", "matplotlib")
MODULES = (
    "blends clay_tests cones formula hazards heatwork kiln_log limits materials oxides recipes slip"
)


def test_chemistry_loads_no_heavy_library_until_it_is_used():
    imports = "; ".join(f"import tiles.chemistry.{each}" for each in MODULES.split())
    script = f"{imports}; import sys; print([m for m in {HEAVY!r} if m in sys.modules])"
    answer = subprocess.run(
        [sys.executable, "-c", script], capture_output=True, text=True, check=True
    )
    assert answer.stdout.strip() == "[]"

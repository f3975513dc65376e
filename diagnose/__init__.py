"""Why a tile failed: likely causes, evidence, tests and fixes."""

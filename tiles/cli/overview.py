"""What ``tiles --help`` lists: the commands by what they are for, a few words on each."""

from typer.core import TyperGroup

COMMANDS: dict[str, dict[str, str]] = {
    "Before and after a firing": {
        "plan": "Test tiles to make: each body crossed with each glaze.",
        "load": "Put tiles into a glaze firing.",
        "unload": "Walk the load just fired, a key for a clean tile.",
        "log": "Write down one tile.",
        "inspect": "Write down a look at a tile, the first or a later one.",
        "photo": "Keep a picture of a tile.",
        "change": "Correct tiles.",
        "remove": "Take tiles off the record.",
    },
    "Find and hand out": {
        "find": "Tiles by what they are and what was seen.",
        "palette": "What to hand out: glazes and coats, how many tiles clean.",
        "show": "All that is on record of a tile; without one, of the studio.",
        "demo": "A sample studio and the three main answers.",
    },
    "Why, and what next": {
        "why": "Likely causes of a fault, with the evidence.",
        "fix": "What to weigh, coat or fire otherwise, with amounts.",
        "next": "The tiles to fire next, and what each would tell.",
        "compare": "Tiles alike but for one thing.",
        "learn": "Learn from your own tiles; says how well it forecasts.",
        "forecast": "The chance of each fault, before firing.",
        "rules": "The causes and signs that 'why' weighs.",
    },
    "What the studio owns": {
        "body": "Clay bodies.",
        "glaze": "Glazes, underglazes, slips, washes and stains.",
        "batch": "Mixed or revived buckets of a glaze.",
        "firing": "Firings and their witness cones.",
        "kiln": "Kilns, and how they miss their targets.",
        "words": "The words that each field takes.",
        "clues": "The yes / no facts that diagnosis asks for.",
    },
    "Recipes and reckoning": {
        "recipe": "Recipes: Seger formula, fit, melt, weights.",
        "blend": "Line, triaxial and grid blends, weighed out.",
        "material": "Raw materials and their analyses.",
        "slip": "A bucket: dry content, water, coats.",
        "cone": "Cones, temperatures and kiln logs.",
    },
    "In and out": {
        "import": "Read tiles from a spreadsheet (CSV) or JSON.",
        "export": "Write tiles to a spreadsheet (CSV) or JSON.",
    },
}


class Overview(TyperGroup):
    """The ``tiles`` command itself, its commands listed under headings."""

    def format_commands(self, ctx, formatter) -> None:
        """Write the commands of this run; only those of one module may have been built."""
        for title, commands in COMMANDS.items():
            listed = [line for line in commands.items() if line[0] in self.commands]
            if listed:
                with formatter.section(title):
                    formatter.write_dl(listed)

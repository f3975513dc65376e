"""Ten glazes of our own that craze on their body: much soda and potash, at low fire and cone 6.

Invented for the tests from what crazes by common practice: frits and feldspars high in alkali,
little silica. Bodies (1e-6/K, from supplier data and estimates): low-fire red with lime about
7.8, red without talc 5.5 to 7, cone 6 stoneware 5.5 to 7, low-fire white with talc 7.5 to 9.5.
"""

TEN = {
    "soda frit clear": (
        {"soda borate frit": 46, "calcium borate frit": 24, "kaolin": 14, "silica": 16},
        "05",
        6.6,
    ),
    "soda frit clear, more clay": (
        {"soda borate frit": 52, "calcium borate frit": 14, "kaolin": 18, "silica": 16},
        "04",
        7.1,
    ),
    "alkaline turquoise": (
        {"high alkali frit": 52, "kaolin": 14, "silica": 26, "whiting": 8},
        "05",
        9.3,
    ),
    "mixed frits": (
        {
            "high alkali frit": 30,
            "calcium borate frit": 34,
            "kaolin": 14,
            "silica": 22,
        },
        "04",
        6.9,
    ),
    "frit and feldspar": (
        {
            "soda borate frit": 34,
            "soda feldspar": 24,
            "calcium borate frit": 20,
            "kaolin": 10,
            "silica": 12,
        },
        "04",
        6.5,
    ),
    "nepheline clear": (
        {
            "nepheline syenite": 52,
            "calcium borate frit": 14,
            "whiting": 12,
            "kaolin": 8,
            "silica": 14,
        },
        "6",
        6.7,
    ),
    "nepheline and zinc": (
        {
            "nepheline syenite": 58,
            "whiting": 14,
            "zinc oxide": 5,
            "kaolin": 7,
            "silica": 16,
        },
        "6",
        7.1,
    ),
    "soda feldspar and lime": (
        {"soda feldspar": 56, "whiting": 18, "kaolin": 8, "silica": 12, "zinc oxide": 6},
        "6",
        6.6,
    ),
    "potash feldspar gloss": (
        {"potash feldspar": 54, "whiting": 17, "zinc oxide": 5, "kaolin": 8, "silica": 16},
        "6",
        6.4,
    ),
    "feldspar and soda frit": (
        {
            "soda feldspar": 44,
            "soda borate frit": 14,
            "whiting": 14,
            "kaolin": 12,
            "silica": 16,
        },
        "5",
        6.6,
    ),
}
"""Name: (parts per 100, cone, measured expansion of the body [1e-6/K])."""

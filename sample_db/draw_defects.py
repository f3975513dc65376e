"""How each defect looks on a drawn tile. Every function draws inside one area's box."""

Colour = tuple[int, int, int]
HOW_MANY = {"slight": 1, "moderate": 2, "severe": 4}
BLACK, WHITE, IRON = (0, 0, 0), (255, 255, 255), (60, 38, 26)


def mix(first: Colour, second: Colour, share: float) -> Colour:
    """``first`` with ``share`` (0 to 1) of ``second`` in it."""
    return tuple(round(a + (b - a) * share) for a, b in zip(first, second, strict=True))


def _somewhere(box, rng, margin=6):
    return rng.uniform(box[0] + margin, box[2] - margin), rng.uniform(
        box[1] + margin, box[3] - margin
    )


def _blob(pen, x, y, radius, rng, fill, rim):
    """A rounded, uneven patch with a rim, from a few overlapping circles."""
    circles = [(x, y, radius * 0.8)]
    for _ in range(4):
        aside, down = rng.uniform(-0.7, 0.7) * radius, rng.uniform(-0.7, 0.7) * radius
        circles.append((x + aside, y + down, radius * rng.uniform(0.4, 0.65)))
    for colour, extra in ((rim, 3), (fill, 0)):
        for cx, cy, r in circles:
            pen.ellipse((cx - r - extra, cy - r - extra, cx + r + extra, cy + r + extra), colour)


def crawling(pen, box, rng, glaze, clay, severity):
    """Bare clay islands with a thick rolled rim."""
    radius = min(15, (box[2] - box[0]) / 4)
    for _ in range(2 * HOW_MANY[severity] + 1):
        x, y = _somewhere(box, rng, radius + 3)
        _blob(pen, x, y, radius * rng.uniform(0.5, 1), rng, clay, mix(glaze, BLACK, 0.35))


def crazing(pen, box, rng, glaze, clay, severity):
    """A closed net of fine cracks."""
    step = {"slight": 30, "moderate": 21, "severe": 14}[severity]
    crack = mix(glaze, BLACK, 0.55)
    grid = {}
    columns = range(int((box[2] - box[0]) / step) + 2)
    rows = range(int((box[3] - box[1]) / step) + 2)
    for i in columns:
        for j in rows:
            x = box[0] + i * step + rng.uniform(-0.35, 0.35) * step
            y = box[1] + j * step + rng.uniform(-0.35, 0.35) * step
            grid[i, j] = (min(max(x, box[0]), box[2]), min(max(y, box[1]), box[3]))
    for (i, j), start in grid.items():
        for end in ((i + 1, j), (i, j + 1)):
            if end in grid:
                pen.line((*start, *grid[end]), fill=crack, width=1)


def pinholes(pen, box, rng, glaze, clay, severity):
    """Small pits down to the body."""
    for _ in range(14 * HOW_MANY[severity]):
        x, y = _somewhere(box, rng, 3)
        pen.ellipse((x - 1, y - 1, x + 1, y + 1), fill=mix(clay, BLACK, 0.5))


def blisters(pen, box, rng, glaze, clay, severity):
    """Craters with a raised, sharp rim."""
    for _ in range(5 * HOW_MANY[severity]):
        x, y = _somewhere(box, rng)
        pen.ellipse((x - 4, y - 4, x + 4, y + 4), fill=mix(clay, BLACK, 0.4))
        pen.ellipse((x - 4, y - 4, x + 4, y + 4), outline=mix(glaze, WHITE, 0.45))


def running(pen, box, rng, glaze, clay, severity):
    """Drips over the bare foot, and past it when severe."""
    length = {"slight": 8, "moderate": 16, "severe": 32}[severity]
    dark = mix(glaze, BLACK, 0.25)
    x = box[0] + 4
    while x < box[2] - 6:
        drop = box[3] + length * rng.uniform(0.5, 1)
        pen.rectangle((x, box[3], x + 6, drop), fill=dark)
        pen.ellipse((x - 1, drop - 4, x + 7, drop + 5), fill=dark)
        x += rng.uniform(12, 22)


def cloudiness(pen, box, rng, glaze, clay, severity):
    """Milky patches."""
    for _ in range(2 * HOW_MANY[severity]):
        x, y = _somewhere(box, rng, 14)
        _blob(pen, x, y, 11, rng, mix(glaze, WHITE, 0.4), mix(glaze, WHITE, 0.25))


def specks(pen, box, rng, glaze, clay, severity):
    """Dark grains."""
    for _ in range(7 * HOW_MANY[severity]):
        x, y = _somewhere(box, rng, 4)
        pen.rectangle((x, y, x + 2, y + 1), fill=IRON)


def shivering(pen, box, rng, glaze, clay, severity):
    """Slivers gone from an edge, with sharp corners."""
    for _ in range(3 * HOW_MANY[severity]):
        y = rng.uniform(box[1], box[3] - 14)
        deep = rng.uniform(6, 12)
        pen.polygon([(box[0], y), (box[0] + deep, y + 5), (box[0], y + 13)], fill=clay)


def bloating(pen, box, rng, glaze, clay, severity):
    """Lumps raised from inside the clay."""
    for _ in range(2 * HOW_MANY[severity]):
        x, y = _somewhere(box, rng, 16)
        pen.ellipse((x - 12, y - 10, x + 12, y + 10), fill=mix(glaze, WHITE, 0.18))
        pen.arc((x - 12, y - 10, x + 12, y + 10), 20, 160, fill=mix(glaze, BLACK, 0.4), width=2)


DRAWERS = {
    "crawling": crawling,
    "crazing": crazing,
    "pinholes": pinholes,
    "blisters": blisters,
    "running": running,
    "cloudiness": cloudiness,
    "specks": specks,
    "shivering": shivering,
    "bloating": bloating,
}

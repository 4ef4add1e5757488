"""Draws the app icons: a bore on its centre lines, with the four strokes and the bar of a count of five."""

from pathlib import Path

from PIL import Image, ImageDraw

PAPER, BLUE = "#f3efe4", "#1f4e8c"
BAY = Path(__file__).resolve().parent / "public" / "bay"


def draw(size: int, shrink: float) -> Image.Image:
    """An icon `size` pixels square; `shrink` keeps the drawing inside the round mask of some home screens."""
    big = size * 4
    image = Image.new("RGB", (big, big), PAPER)
    pen = ImageDraw.Draw(image)

    def at(x: float, y: float) -> tuple[float, float]:
        return ((256 + (x - 256) * shrink) / 512 * big, (256 + (y - 256) * shrink) / 512 * big)

    def line(x1: float, y1: float, x2: float, y2: float, width: float) -> None:
        pen.line([at(x1, y1), at(x2, y2)], fill=BLUE, width=round(width * shrink / 512 * big))

    position = 52
    while position < 460:
        for length, gap in ((58, 14), (12, 14)):
            end = min(position + length, 460)
            line(position, 256, end, 256, 8)
            line(256, position, 256, end, 8)
            position = end + gap
    pen.ellipse([at(113, 113), at(399, 399)], outline=BLUE, width=round(22 * shrink / 512 * big))
    for stroke in ((178, 96, 178, 140), (206, 88, 206, 132), (234, 84, 234, 128), (170, 140, 242, 88)):
        line(*stroke, 20)
    return image.resize((size, size), Image.Resampling.LANCZOS)


if __name__ == "__main__":
    for name, size, shrink in (("180", 180, 0.95), ("192", 192, 1), ("512", 512, 1), ("maskable-512", 512, 0.72)):
        draw(size, shrink).save(BAY / f"icon-{name}.png", optimize=True)

"""Metal in the light of a work lamp: a height field, what covers it, and how it shines.

Lengths are in picture widths, x to the right and y down, the middle of the picture at (0, 0).
"""

from __future__ import annotations

import numpy as np
from PIL import Image, ImageFilter

LAMP = np.array([-0.45, -0.6, 0.66])
SIDE = np.array([0.75, 0.1, 0.65])
STEEL = (0.62, 0.615, 0.60)
IRON = (0.36, 0.355, 0.35)
ALLOY = (0.66, 0.66, 0.655)
COPPER = (0.72, 0.42, 0.25)
RUST = (0.36, 0.17, 0.07)
SOOT = (0.055, 0.05, 0.045)


class Scene:
    """One picture in the making. `height` in picture widths, `colour` 0..1, `shine` 0..1, `gloss` is the sharpness."""

    def __init__(self, seed: int, width: int = 2016) -> None:
        self.rng = np.random.default_rng(seed)
        self.w, self.h = width, width * 3 // 4
        y, x = np.mgrid[0 : self.h, 0 : self.w].astype(np.float32)
        self.x, self.y = (x - self.w / 2) / self.w, (y - self.h / 2) / self.w
        self.height = np.zeros_like(self.x)
        self.colour = np.empty((self.h, self.w, 3), np.float32)
        self.shine = np.full_like(self.x, 0.4)
        self.gloss = np.full_like(self.x, 24.0)
        self.paint(None, IRON)

    def noise(self, size: float, octaves: int = 4) -> np.ndarray:
        """Smooth noise about 0, its largest lumps `size` wide, each octave half as large and half as strong."""
        total, strength = np.zeros_like(self.x), 1.0
        for _ in range(octaves):
            rows, columns = max(2, int(0.75 / size) + 2), max(2, int(1 / size) + 2)
            small = Image.fromarray(self.rng.normal(0, 1, (rows, columns)).astype(np.float32))
            total += np.asarray(small.resize((self.w, self.h), Image.Resampling.BICUBIC)) * strength
            size, strength = max(size / 2, 2.5 / self.w), strength / 2
        return total

    def grain(self, strength: float) -> np.ndarray:
        return self.rng.normal(0, strength, self.x.shape).astype(np.float32)

    def lines(self, degrees: float, spacing: float) -> np.ndarray:
        """Parallel scratches about 0: what a stone, a file or a cutter leaves."""
        a = np.deg2rad(degrees)
        across = self.x * np.sin(a) + self.y * np.cos(a)
        rows = self.rng.normal(0, 1, 4096).astype(np.float32)
        return rows[((across / spacing) + 2048).astype(int) % 4096]

    def rings(self, cx: float, cy: float, spacing: float) -> np.ndarray:
        rows = self.rng.normal(0, 1, 4096).astype(np.float32)
        return rows[(np.hypot(self.x - cx, self.y - cy) / spacing).astype(int) % 4096]

    def away(self, cx: float, cy: float) -> np.ndarray:
        return np.hypot(self.x - cx, self.y - cy)

    def window(self, x: float, y: float, reach: float) -> tuple[slice, slice]:
        """The pixels within `reach` of a point: small things need not be reckoned over the whole picture."""
        row, column, r = int((y * self.w) + self.h / 2), int((x + 0.5) * self.w), max(2, int(reach * self.w))
        return np.s_[max(row - r, 0) : max(row + r, 1), max(column - r, 0) : max(column + r, 1)]

    def paint(self, where, colour, strength: float = 1.0, mottle: float = 0.06) -> None:
        """Colours a place; `where` is a mask 0..1 or None for everywhere."""
        shade = np.asarray(colour, np.float32) * (1 + mottle * self.noise(0.12)[..., None])
        if where is None:
            self.colour[:] = shade
        else:
            share = (np.asarray(where, np.float32) * strength)[..., None]
            self.colour[:] = self.colour * (1 - share) + shade * share

    def polish(self, where, shine: float, gloss: float) -> None:
        share = np.asarray(where, np.float32)
        self.shine = self.shine * (1 - share) + shine * share
        self.gloss = self.gloss * (1 - share) + gloss * share

    def oil(self, amount: float, size: float = 0.2) -> None:
        """Used oil: dark, brown, wet."""
        film = soft(self.noise(size) + 0.35 * self.noise(size / 6) + amount - 1.1, 1.5)
        self.colour *= (1 - 0.62 * film)[..., None] * np.array([1.0, 0.95, 0.84], np.float32)
        self.polish(film, 0.85, 90)
        self.height += 0.0006 * film

    def photograph(self, focus: float = 0.8, exposure: float = 1.0, warmth: float = 1.0) -> Image.Image:
        """Lights the scene, adds the fall-off of a lens and the noise of a small sensor."""
        dy, dx = np.gradient(self.height, 1 / self.w)
        length = np.sqrt(dx * dx + dy * dy + 1)
        nx, ny, nz = -dx / length, -dy / length, 1 / length
        light = np.full((self.h, self.w, 3), 0.07, np.float32)
        shine = np.zeros_like(light)
        for direction, tint, power in ((LAMP, (1.0, 0.95, 0.86), 1.0), (SIDE, (0.72, 0.84, 1.0), 0.42)):
            lx, ly, lz = direction / np.linalg.norm(direction)
            fall = power * np.exp(-((self.x + 0.25 * lx) ** 2 + (self.y + 0.25 * ly) ** 2) / 0.55)
            facing = np.clip(nx * lx + ny * ly + nz * lz, 0, 1)
            hx, hy, hz = np.array([lx, ly, lz + 1]) / np.linalg.norm([lx, ly, lz + 1])
            glint = np.clip(nx * hx + ny * hy + nz * hz, 0, 1) ** self.gloss
            light += (facing * fall)[..., None] * np.array(tint, np.float32)
            shine += (glint * fall * self.shine)[..., None] * np.array(tint, np.float32)
        # A bright ceiling strip, mirrored by whatever is smooth.
        mirrored = np.exp(-(((ny + 0.22) / 0.12) ** 2)) * self.shine * np.clip(self.gloss / 120, 0, 1) * 0.35
        rgb = self.colour * light + shine * (0.35 + 0.65 * self.colour) + mirrored[..., None]
        rgb *= (1 - 0.75 * (self.x**2 + self.y**2))[..., None] * exposure
        rgb *= np.array([1 + 0.03 * warmth, 1, 1 - 0.05 * warmth], np.float32)
        rgb = np.clip(rgb, 0, None) / (1 + 0.45 * rgb) * 1.3
        rgb = np.clip(rgb, 0, 1) ** (1 / 2.1)
        rgb = rgb * 0.55 + 0.45 * rgb * rgb * (3 - 2 * rgb)
        picture = Image.fromarray((np.clip(rgb, 0, 1) * 255).astype(np.uint8))
        picture = picture.filter(ImageFilter.GaussianBlur(focus * self.w / 2016))
        sensor = self.rng.normal(0, 2.2, (self.h, self.w, 1)) + self.rng.normal(0, 1.2, (self.h, self.w, 3))
        return Image.fromarray(np.clip(np.asarray(picture) + sensor, 0, 255).astype(np.uint8))


def soft(edge: np.ndarray, width: float) -> np.ndarray:
    """0 below 0, 1 above `width`, smooth between."""
    t = np.clip(edge / width, 0, 1)
    return t * t * (3 - 2 * t)


def stamp(scene: Scene, text: str, cx: float, cy: float, size: float, depth: float = 0.0025) -> None:
    """Presses letters into the surface, one blow each, none quite straight."""
    from PIL import ImageDraw, ImageFont

    mask = Image.new("L", (scene.w, scene.h), 0)
    font = ImageFont.load_default(size=size * scene.w)
    step = size * 0.72 * scene.w
    left = (cx + 0.5) * scene.w - step * len(text) / 2
    for number, letter in enumerate(text):
        tile = Image.new("L", (int(step * 1.8), int(size * scene.w * 1.6)), 0)
        ImageDraw.Draw(tile).text((step * 0.3, size * scene.w * 0.15), letter, font=font, fill=255)
        tile = tile.rotate(float(scene.rng.normal(0, 2.5)), Image.Resampling.BICUBIC)
        at = (
            int(left + number * step),
            int((cy * scene.w + scene.h / 2) - size * scene.w * 0.7 + scene.rng.normal(0, 3)),
        )
        mask.paste(255, at, tile)
    pressed = np.asarray(mask.filter(ImageFilter.GaussianBlur(scene.w / 900))).astype(np.float32) / 255
    scene.height -= depth * pressed
    scene.paint(pressed, (0.10, 0.09, 0.08), 0.75)
    scene.polish(pressed, 0.1, 8)

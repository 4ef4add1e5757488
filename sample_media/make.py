"""Makes the invented pictures and spoken notes of the demo workshop: nothing here was photographed or said by anybody.

Run it from the top of the project with numpy and Pillow at hand, and espeak-ng and sox for the sound:

    python sample_media/make.py

The files it makes are committed, so the demo needs neither. Same seed, same pictures.
"""

from __future__ import annotations

import subprocess
from pathlib import Path

import numpy as np
from PIL import Image, ImageDraw, ImageFilter, ImageFont, TiffImagePlugin

HERE = Path(__file__).resolve().parent
WIDTH, HEIGHT = 2016, 1512
Y, X = np.mgrid[0:HEIGHT, 0:WIDTH].astype(np.float32)
CX, CY = WIDTH / 2, HEIGHT / 2


def noise(rng, scale: int, strength: float) -> np.ndarray:
    """Smooth noise: random grid of `scale` pixels, blown up."""
    small = rng.normal(0, 1, (HEIGHT // scale + 2, WIDTH // scale + 2)).astype(np.float32)
    picture = Image.fromarray(small).resize((WIDTH, HEIGHT), Image.Resampling.BICUBIC)
    return np.asarray(picture) * strength


def metal(rng, base: float = 120.0, grain: float = 5.0) -> np.ndarray:
    return base + noise(rng, 220, 9) + noise(rng, 40, 4) + rng.normal(0, grain, (HEIGHT, WIDTH)).astype(np.float32)


def hatch(rng, angle: float, spacing: float, strength: float) -> np.ndarray:
    """Honing lines at `angle` degrees from the horizontal."""
    a = np.deg2rad(angle)
    along = X * np.sin(a) + Y * np.cos(a)
    rows = rng.normal(0, 1, 6000).astype(np.float32)
    index = (along / spacing + 2000).astype(int) % 6000
    return rows[index] * strength


def lamp(cx: float, cy: float, reach: float, power: float) -> np.ndarray:
    return power * np.exp(-(((X - cx) / reach) ** 2 + ((Y - cy) / reach) ** 2))


def tint(grey: np.ndarray, red: float = 1.0, green: float = 1.0, blue: float = 1.0) -> np.ndarray:
    return np.stack([grey * red, grey * green, grey * blue], axis=-1)


def finish(rgb: np.ndarray, blur: float = 0.8) -> Image.Image:
    return Image.fromarray(np.clip(rgb, 0, 255).astype(np.uint8)).filter(ImageFilter.GaussianBlur(blur))


def bore(seed: int, scores: int, ridge: bool = True) -> Image.Image:
    """A bore wall seen close: honing, the wear ridge near the top, and `scores` upright scratches."""
    rng = np.random.default_rng(seed)
    grey = metal(rng, 105) + hatch(rng, 24, 3.1, 9) + hatch(rng, -24, 3.4, 9) + lamp(1300, 600, 1100, 60)
    grey *= 0.55 + 0.45 * np.cos((X - CX) / WIDTH * 2.2)
    if ridge:
        grey -= 46 * np.exp(-(((Y - 210 - 6 * np.sin(X / 400)) / 16) ** 2))
        grey += 22 * np.exp(-(((Y - 246) / 7) ** 2))
    for _ in range(scores):
        x, top, width = rng.normal(1060, 120), rng.uniform(250, 420), rng.uniform(2, 9)
        line = np.exp(-(((X - x - 14 * np.sin(Y / 900)) / width) ** 2)) * (Y > top) * (Y < rng.uniform(1100, 1500))
        grey += line * rng.uniform(-75, -40) + np.roll(line, int(width * 1.6), axis=1) * 38
    return finish(tint(grey, 1.0, 0.985, 0.95))


def shell(seed: int, wiped: bool) -> Image.Image:
    """Half a big-end bearing shell, lying open; wiped shells show the lining."""
    rng = np.random.default_rng(seed)
    bench = tint(metal(rng, 70, 7), 0.82, 0.86, 0.95)
    arch = (Y - CY) / 470
    inside = (np.abs(arch) < 1) & (np.abs(X - CX) < 640)
    curve = np.sqrt(np.clip(1 - arch**2, 0, 1))
    face = 92 + 95 * curve + hatch(rng, 0, 2.3, 4) + rng.normal(0, 3, X.shape)
    rgb = np.where(inside[..., None], tint(face, 0.97, 0.97, 1.0), bench)
    if wiped:
        patch = inside & ((noise(rng, 150, 1) + 1.5 - ((X - 1150) / 300) ** 2 - ((Y - CY) / 240) ** 2) > 0)
        streak = face + hatch(rng, 1.5, 4, 12)
        rgb = np.where(patch[..., None], tint(streak, 1.12, 0.72, 0.42), rgb)
    edge = np.abs(np.abs(X - CX) - 640) < 9
    return finish(np.where((edge & inside)[..., None], rgb * 0.4 + 120, rgb))


def crown(seed: int) -> Image.Image:
    """A piston crown with carbon, two valve pockets and a bright witness mark where a valve has touched."""
    rng = np.random.default_rng(seed)
    away = np.hypot(X - CX, Y - CY)
    grey = np.where(away < 660, 78 + noise(rng, 60, 16) + noise(rng, 14, 8), 34) + rng.normal(0, 4, X.shape)
    grey += np.where((away > 640) & (away < 664), 80, 0)
    for side in (-1, 1):
        pocket = np.hypot(X - CX - side * 290, Y - CY + 150)
        grey += np.where(pocket < 235, -16, 0) + np.where(np.abs(pocket - 235) < 6, 34, 0)
    arc = np.hypot(X - CX - 290, Y - CY + 150)
    mark = (np.abs(arc - 205) < 13) & (X > CX + 300) & (Y < CY - 60)
    rgb = tint(grey, 1.06, 1.0, 0.88)
    return finish(np.where(mark[..., None], 205 + rng.normal(0, 12, (*X.shape, 1)), rgb))


def journal(seed: int, grooves: int) -> Image.Image:
    """A crankpin across the picture, with grooves round it."""
    rng = np.random.default_rng(seed)
    across = (Y - CY) / 430
    on = np.abs(across) < 1
    face = 60 + 130 * np.clip(1 - (across + 0.25) ** 2, 0, 1) + hatch(rng, 90, 2, 3) + rng.normal(0, 3, X.shape)
    for _ in range(grooves):
        x, width = rng.uniform(560, 1480), rng.uniform(2, 7)
        face += -60 * np.exp(-(((X - x) / width) ** 2)) + 35 * np.exp(-(((X - x - 2 * width) / width) ** 2))
    hole = ((X - 1000) / 62) ** 2 + ((Y - CY + 60) / 78) ** 2 < 1
    face = np.where(hole, 24, face)
    web = tint(metal(rng, 58, 6), 0.9, 0.92, 1.0)
    return finish(np.where((on & (np.abs(X - CX) < 560))[..., None], tint(face, 1, 0.99, 0.97), web))


def gasket(seed: int) -> Image.Image:
    """The bridge between two bores of a head gasket, burnt through."""
    rng = np.random.default_rng(seed)
    sheet = tint(metal(rng, 96, 6) + hatch(rng, 45, 7, 5), 0.92, 0.98, 1.04)
    for cx in (330, 1690):
        away = np.hypot(X - cx, Y - CY)
        sheet = np.where((away < 560)[..., None], 18 + rng.normal(0, 3, (*X.shape, 1)), sheet)
        sheet = np.where((np.abs(away - 590) < 30)[..., None], tint(150 + noise(rng, 30, 10)), sheet)
    burnt = (np.abs(Y - CY - 30 * np.sin(X / 60)) < 34 + noise(rng, 30, 9)) & (np.abs(X - CX) < 150)
    sheet = np.where(burnt[..., None], 14.0, sheet)
    halo = np.exp(-(((Y - CY) / 120) ** 2)) * (np.abs(X - CX) < 260)
    return finish(sheet * (1 - 0.45 * halo[..., None]))


def swarf(seed: int) -> Image.Image:
    """An opened oil filter: pleats with bright flakes in them."""
    rng = np.random.default_rng(seed)
    pleats = 70 + 48 * np.sin(X / 26 + 0.4 * np.sin(Y / 300)) + noise(rng, 90, 8) + rng.normal(0, 5, X.shape)
    picture = finish(tint(pleats, 1.05, 0.86, 0.6), 1.2)
    draw = ImageDraw.Draw(picture)
    for _ in range(420):
        x, y = rng.normal(CX, 420), rng.normal(CY, 300)
        size, light = rng.uniform(2, 11), int(rng.uniform(150, 255))
        flake = [(x + size * rng.normal(), y + size * rng.normal()) for _ in range(4)]
        draw.polygon(flake, fill=(light, light, light - 20))
    return picture.filter(ImageFilter.GaussianBlur(0.7))


def stamped(seed: int, text: str) -> Image.Image:
    """The engine number on its machined pad."""
    rng = np.random.default_rng(seed)
    cast = tint(metal(rng, 62, 9) + noise(rng, 9, 6), 0.92, 0.96, 1.0)
    pad = (np.abs(X - CX) < 800) & (np.abs(Y - CY) < 210)
    face = tint(metal(rng, 128, 4) + hatch(rng, 0, 3, 5), 1, 0.99, 0.96)
    picture = finish(np.where(pad[..., None], face, cast))
    font = ImageFont.load_default(size=190)
    mask = Image.new("L", picture.size, 0)
    x = CX - 690
    for letter in text:
        ImageDraw.Draw(mask).text((x, CY - 130 + rng.normal(0, 7)), letter, font=font, fill=255)
        x += 172
    mask = mask.filter(ImageFilter.GaussianBlur(1.5))
    dark = Image.new("RGB", picture.size, (38, 38, 40))
    picture.paste(Image.new("RGB", picture.size, (210, 208, 200)), (5, 6), mask)
    picture.paste(dark, (0, 0), mask)
    return picture.filter(ImageFilter.GaussianBlur(0.8))


def panel(seed: int, reading: str) -> Image.Image:
    """An instrument panel with its distance reading."""
    rng = np.random.default_rng(seed)
    picture = finish(tint(metal(rng, 26, 4), 1.0, 1.02, 1.08))
    draw = ImageDraw.Draw(picture)
    for cx, top in ((620, 8), (1400, 22)):
        draw.ellipse([cx - 330, CY - 400, cx + 330, CY + 260], outline=(150, 152, 158), width=8)
        for step in range(top + 1):
            angle = np.deg2rad(220 - 260 * step / top)
            dx, dy = np.cos(angle), -np.sin(angle)
            tick = [cx + 270 * dx, CY - 70 + 270 * dy, cx + 312 * dx, CY - 70 + 312 * dy]
            draw.line(tick, fill=(220, 220, 214), width=7)
        draw.line([cx, CY - 70, cx - 210, CY + 90], fill=(205, 120, 60), width=10)
    draw.rectangle([1180, CY + 330, 1660, CY + 440], fill=(10, 12, 12), outline=(120, 122, 126), width=4)
    draw.text((1205, CY + 338), reading, font=ImageFont.load_default(size=84), fill=(226, 226, 214))
    return picture.filter(ImageFilter.GaussianBlur(0.9))


def cap(seed: int) -> Image.Image:
    """A rod and its cap, punched with three dots on one side and, wrongly, two on the other."""
    rng = np.random.default_rng(seed)
    rgb = tint(metal(rng, 54, 6), 0.9, 0.94, 1.0)
    for low, high in ((300, 735), (760, 1200)):
        block = (Y > low) & (Y < high) & (np.abs(X - CX) < 700)
        face = metal(np.random.default_rng(seed + low), 122, 6) + hatch(rng, 88, 3, 4)
        rgb = np.where(block[..., None], tint(face, 1, 0.98, 0.95), rgb)
    picture = finish(rgb)
    draw = ImageDraw.Draw(picture)
    for y, dots in ((560, 3), (920, 2)):
        for dot in range(dots):
            x = 860 + dot * 130
            draw.ellipse([x - 30, y - 30, x + 30, y + 30], fill=(30, 30, 32))
            draw.arc([x - 30, y - 30, x + 30, y + 30], 20, 160, fill=(214, 210, 200), width=7)
    return picture.filter(ImageFilter.GaussianBlur(1.0))


PICTURES = {
    "engine_number.jpg": lambda: stamped(1, "29-00731"),
    "instrument_panel.jpg": lambda: panel(2, "148 206"),
    "oil_filter_opened.jpg": lambda: swarf(3),
    "head_gasket_bridge.jpg": lambda: gasket(4),
    "piston_crown_3.jpg": lambda: crown(5),
    "bore_1_thrust.jpg": lambda: bore(6, 0),
    "bore_3_thrust.jpg": lambda: bore(7, 11),
    "bore_3_axial.jpg": lambda: bore(8, 3),
    "bore_5_thrust.jpg": lambda: bore(9, 2),
    "rod_3_marks.jpg": lambda: cap(10),
    "big_end_3_upper.jpg": lambda: shell(11, True),
    "big_end_3_lower.jpg": lambda: shell(12, True),
    "big_end_1_upper.jpg": lambda: shell(13, False),
    "crankpin_2.jpg": lambda: journal(14, 9),
    "main_4.jpg": lambda: journal(15, 1),
}

SPOKEN = {
    "note_ring.wav": "Top ring on three is in four pieces. One piece is missing.",
    "note_cap.wav": "Cap on rod three carries two dots. The rod has three. Somebody has swapped caps.",
    "note_oil.wav": "Oil smells burnt. Filter full of bright flakes.",
}


def exif(number: int) -> Image.Exif:
    """Facts a phone writes into a picture, a place far out at sea among them, so that stripping them can be seen."""
    data = Image.Exif()
    data[0x010F], data[0x0110], data[0x0112] = "Invented", "demo camera", 1
    data[0x0132] = f"2026:05:13 09:{10 + number:02d}:00"
    details = data.get_ifd(0x8769)
    details[0x9003], details[0x9011] = f"2026:05:13 09:{10 + number:02d}:00", "+01:00"
    ratio = TiffImagePlugin.IFDRational
    place = data.get_ifd(0x8825)
    place[1], place[2] = "N", (ratio(40), ratio(0), ratio(0))
    place[3], place[4] = "W", (ratio(40), ratio(0), ratio(0))
    return data


def main() -> None:
    for number, (name, make) in enumerate(PICTURES.items()):
        make().save(HERE / name, quality=80, optimize=True, exif=exif(number), comment=b"invented, demo workshop")
        print(name, (HERE / name).stat().st_size)
    for name, words in SPOKEN.items():
        raw = HERE / f"{name}.raw.wav"
        subprocess.run(["espeak-ng", "-v", "en-gb", "-s", "150", "-w", str(raw), words], check=True)
        subprocess.run(["sox", str(raw), "-r", "16000", "-b", "16", "-c", "1", str(HERE / name)], check=True)
        raw.unlink()
        print(name, (HERE / name).stat().st_size)


if __name__ == "__main__":
    main()

"""Decks, heads, valves, gaskets, and what stands round the engine."""

from __future__ import annotations

import numpy as np
from PIL import Image, ImageDraw, ImageFilter, ImageFont
from render import ALLOY, COPPER, IRON, RUST, SOOT, STEEL, Scene, soft


def deck(seed, crack=False, rule=False, burnt=False, width=2016):
    """A block or head face between two bores: a crack, a straight-edge with its feeler, or a burnt gasket bridge."""
    s = Scene(seed, width)
    s.paint(None, IRON)
    s.height += 0.0002 * s.rings(0.2, -1.4, 0.0022) + 0.0003 * s.noise(0.04)
    s.polish(1, 0.55, 26)
    for cx in (-0.36, 0.36):
        away = s.away(cx, 0.02)
        hole = soft(0.27 - away, 0.003)
        s.height -= 0.12 * hole
        s.paint(hole, (0.09, 0.09, 0.09))
        s.polish(hole, 0.3, 12)
        rim = np.exp(-(((away - 0.285) / 0.012) ** 2))
        s.paint(rim, SOOT if burnt else (0.24, 0.22, 0.2), 0.75)
    for cx, cy in ((0.0, -0.24), (0.0, 0.27), (-0.42, -0.31), (0.42, -0.31)):
        water = soft(0.028 - s.away(cx, cy), 0.003)
        s.height -= 0.05 * water
        s.paint(np.exp(-((s.away(cx, cy) / 0.05) ** 4)), RUST, 0.65)
        s.paint(water, SOOT)
    if crack:
        path = 0.004 * np.sin(60 * s.x) + 0.006 * np.sin(23 * s.x + 1) + 0.0025 * s.noise(0.02)
        line = np.exp(-(((s.y - 0.02 - path) / 0.0011) ** 2)) * (np.abs(s.x) < 0.1)
        s.height -= 0.004 * line
        s.paint(line, SOOT)
        s.paint(np.exp(-(((s.y - 0.02 - path) / 0.006) ** 2)) * (np.abs(s.x) < 0.1), RUST, 0.3)
    if burnt:
        ash = np.exp(-(((s.y - 0.02) / 0.05) ** 2)) * soft(0.12 - np.abs(s.x), 0.03)
        s.paint(ash, (0.32, 0.30, 0.27), 0.8)
        channel = np.exp(-(((s.y - 0.02 - 0.006 * np.sin(30 * s.x)) / 0.014) ** 2)) * soft(0.11 - np.abs(s.x), 0.01)
        s.height -= 0.004 * channel + 0.002 * channel * s.noise(0.02)
        s.paint(channel, SOOT, 0.9)
    if rule:
        bar = soft(0.035 - np.abs(s.y + 0.12 + 0.05 * s.x), 0.002)
        s.height = s.height * (1 - bar) + bar * (0.05 + 0.00006 * s.lines(3, 0.001))
        s.paint(bar, (0.72, 0.72, 0.71), mottle=0.02)
        s.polish(bar, 0.9, 60)
        leaf = soft(0.018 - np.abs(s.x - 0.03), 0.001) * (s.y > -0.1) * (s.y < 0.3)
        s.height = s.height * (1 - leaf) + leaf * 0.02
        s.paint(leaf, (0.66, 0.67, 0.68), mottle=0.02)
        s.polish(leaf, 1.0, 80)
    s.oil(-0.3, 0.3)
    return s.photograph(0.8)


def valve(seed, burnt=False, width=2016):
    """A valve head from below, in its seat; the burnt one has lost a piece of its edge."""
    s = Scene(seed, width)
    s.paint(None, ALLOY)
    s.height += 0.002 * s.noise(0.08)
    s.paint(soft(s.noise(0.2) + 1, 1.5), (0.16, 0.13, 0.1), 0.8)
    away, angle = s.away(0, 0), np.arctan2(s.y, s.x)
    seat = np.exp(-(((away - 0.3) / 0.018) ** 4))
    s.paint(seat, STEEL)
    s.polish(seat, 0.8, 50)
    on = soft(0.285 - away, 0.004)
    bite = soft(0.055 - s.away(0.255, 0.1) + 0.01 * s.noise(0.03), 0.012) * burnt
    on = on * (1 - bite)
    s.height += on * (0.02 - 0.08 * away**2) + on * 0.00015 * s.rings(0, 0, 0.0014)
    s.paint(on, (0.42, 0.40, 0.37))
    s.paint(on * soft(s.noise(0.12) + 0.4, 0.9), (0.50, 0.42, 0.34) if burnt else (0.22, 0.18, 0.15), 0.75)
    s.polish(on, 0.25, 14)
    if burnt:
        s.height -= 0.05 * bite
        s.paint(bite, SOOT)
        fan = np.exp(-(((angle - 0.37) / 0.16) ** 2)) * on * soft(away - 0.1, 0.12)
        s.paint(fan, (0.68, 0.64, 0.56), 0.8)
        ring = np.exp(-(((s.away(0.255, 0.1) - 0.06) / 0.01) ** 2)) * on
        s.paint(ring, (0.28, 0.30, 0.42), 0.7)
    s.height -= 0.008 * soft(0.016 - away, 0.01)
    return s.photograph(0.8)


def core_plug(seed, width=2016):
    """A pressed cup in cast iron, rusted through in pin holes, with the stain below."""
    s = Scene(seed, width)
    s.height += 0.004 * s.noise(0.012, 3) + 0.003 * s.noise(0.1)
    s.polish(1, 0.15, 8)
    away = s.away(0, -0.03)
    cup = soft(0.22 - away, 0.006)
    lip = np.exp(-(((away - 0.228) / 0.012) ** 2))
    s.height = s.height * (1 - cup) + cup * (-0.02 + 0.012 * s.noise(0.02) * 0.3) + 0.012 * lip
    s.paint(cup, (0.42, 0.38, 0.33))
    rust = soft(s.noise(0.08) + 0.5, 0.9) * np.exp(-((away / 0.27) ** 6))
    s.paint(rust, RUST, 0.9)
    s.height += rust * 0.003 * s.noise(0.015)
    for _ in range(7):
        x, y, size = s.rng.uniform(-0.13, 0.13), s.rng.uniform(-0.13, 0.08), s.rng.uniform(0.003, 0.009)
        pin = soft(size - s.away(x, y), 0.003)
        s.height -= 0.02 * pin
        s.paint(pin, SOOT)
    run = np.exp(-((s.x - 0.02 * np.sin(9 * s.y)) ** 2) / 0.004) * soft(s.y - 0.1, 0.08)
    s.paint(run, (0.52, 0.50, 0.38), 0.7)
    return s.photograph(0.8)


def gears(seed, marks=1, width=2016):
    """Two wheels of the timing drive and the marks that ought to face each other; `marks` is teeth out of place."""
    s = Scene(seed, width)
    s.paint(None, (0.2, 0.2, 0.2))
    s.height += 0.003 * s.noise(0.05)
    for cx, radius, teeth, shift in ((-0.21, 0.2, 26, 0.0), (0.24, 0.235, 30, np.pi / 30)):
        away, angle = s.away(cx, 0), np.arctan2(s.y, s.x - cx)
        edge = radius + 0.011 * np.clip(np.cos(teeth * angle + shift * teeth) * 2, -1, 1)
        on = soft(edge - away, 0.003)
        s.height = s.height * (1 - on) + on * (0.03 + 0.0001 * s.rings(cx, 0, 0.0016))
        s.paint(on, STEEL)
        s.polish(on, 0.55, 34)
        hub = soft(0.055 - away, 0.004)
        s.height += 0.02 * hub
        turn = (0 if cx < 0 else np.pi) + (2 * np.pi / teeth * marks if cx > 0 else 0)
        dot = soft(0.009 - s.away(cx + (radius - 0.03) * np.cos(turn), (radius - 0.03) * np.sin(turn)), 0.004)
        s.height -= 0.008 * dot
        s.paint(dot, (0.88, 0.84, 0.7), 0.9)
    s.oil(0.4, 0.3)
    return s.photograph(0.8)


def lobe(seed, worn=True, width=2016):
    """A cam lobe from the side of its nose; a worn one is pitted and bright where it should be round."""
    s = Scene(seed, width)
    s.paint(None, (0.08, 0.08, 0.085))
    on = soft(0.2 - np.abs(s.x), 0.008)
    curve = np.sqrt(np.clip(1 - (s.y / 0.33) ** 2, 0.01, 1))
    s.height = on * 0.2 * curve
    s.paint(on, (0.36, 0.35, 0.34))
    s.polish(on, 0.6, 36)
    track = on * soft(0.14 - np.abs(s.x), 0.02)
    s.height += track * 0.0001 * s.lines(90, 0.001)
    s.paint(track, STEEL, 0.8)
    if worn:
        pits = track * soft(s.noise(0.03) + 0.5 * s.noise(0.15) - 0.9, 0.25) * np.exp(-((s.y / 0.16) ** 2))
        s.height -= 0.004 * pits
        s.paint(pits, (0.16, 0.14, 0.12), 0.9)
    s.oil(0.2, 0.2)
    return s.photograph(0.8)


def bolt(seed, paint=True, width=2016):
    """A bolt head on a flange with a stripe of paint across both, broken where it was turned."""
    s = Scene(seed, width)
    s.height += 0.003 * s.noise(0.02) + 0.002 * s.noise(0.1)
    s.paint(None, (0.30, 0.30, 0.31))
    s.polish(1, 0.2, 10)
    angle, away = np.arctan2(s.y, s.x), s.away(0, 0)
    edge = 0.17 / np.cos((angle + 0.2) % (np.pi / 3) - np.pi / 6)
    washer, head = soft(0.235 - away, 0.004), soft(edge - away, 0.006)
    s.height += 0.012 * washer + 0.07 * head + head * 0.0003 * s.rings(0, 0, 0.003)
    s.paint(washer, (0.5, 0.5, 0.49))
    s.paint(head, (0.40, 0.395, 0.39))
    s.polish(np.maximum(washer, head), 0.5, 26)
    if paint:
        for inside, turn in ((True, 0.42), (False, 0.05)):
            across = s.x * np.sin(turn) + s.y * np.cos(turn)
            stripe = soft(0.016 - np.abs(across) + 0.004 * s.noise(0.02), 0.003) * (s.x > 0)
            stripe = stripe * (head if inside else (1 - head) * soft(0.36 - away, 0.02))
            s.paint(stripe, (0.78, 0.66, 0.12), 0.95)
            s.height += 0.001 * stripe
    s.oil(0.0, 0.3)
    return s.photograph(0.8)


def plastic_gauge(seed, width=2016):
    """A plastic strip pressed flat on a journal beside the scale it came with."""
    s = Scene(seed, width)
    s.paint(None, STEEL)
    s.height += 0.25 * np.sqrt(np.clip(1 - (s.y / 0.8) ** 2, 0, 1)) + 0.00006 * s.lines(90, 0.0012)
    s.polish(1, 0.85, 60)
    strip = soft(0.0135 + 0.0015 * np.sin(8 * s.x) - np.abs(s.y - 0.02), 0.002) * soft(0.34 - np.abs(s.x), 0.004)
    s.paint(strip, (0.18, 0.42, 0.30), 0.9, 0.02)
    s.height += 0.0012 * strip
    card = soft(0.05 - np.abs(s.y + 0.11), 0.001) * soft(0.38 - np.abs(s.x), 0.001)
    s.paint(card, (0.86, 0.85, 0.8), mottle=0.01)
    s.polish(card, 0.05, 4)
    for number, wide in enumerate((0.020, 0.017, 0.0145, 0.012, 0.010)):
        bar = soft(wide - np.abs(s.y + 0.11), 0.001) * soft(0.045 - np.abs(s.x - 0.145 * (number - 2)), 0.001)
        s.paint(bar, (0.1, 0.12, 0.2), mottle=0.01)
    return s.photograph(0.8)


def panel(seed, reading, lamp=True, width=2016):
    """An instrument panel behind its glass, the distance or the hours readable."""
    s = Scene(seed, width)
    s.paint(None, (0.035, 0.036, 0.04))
    s.height += 0.0008 * s.noise(0.006, 2)
    s.polish(1, 0.25, 20)
    for cx in (-0.21, 0.21):
        ring = np.exp(-(((s.away(cx, -0.06) - 0.185) / 0.009) ** 2))
        s.height += 0.01 * ring
        s.paint(ring, (0.5, 0.5, 0.52))
        s.polish(ring, 0.9, 50)
    picture = s.photograph(0.8)
    draw, w = ImageDraw.Draw(picture), s.w
    for cx, steps in ((-0.21, 8), (0.21, 14)):
        mx, my, r = (cx + 0.5) * w, s.h / 2 - 0.06 * w, 0.165 * w
        for step in range(steps + 1):
            a = np.deg2rad(220 - 260 * step / steps)
            line = [mx + 0.86 * r * np.cos(a), my - 0.86 * r * np.sin(a), mx + r * np.cos(a), my - r * np.sin(a)]
            draw.line(line, fill=(206, 204, 192), width=max(2, w // 400))
        a = np.deg2rad(218)
        draw.line([mx, my, mx + 0.8 * r * np.cos(a), my - 0.8 * r * np.sin(a)], fill=(196, 92, 44), width=w // 250)
        draw.ellipse([mx - w / 70, my - w / 70, mx + w / 70, my + w / 70], fill=(24, 24, 26))
    box = [0.62 * w, s.h / 2 + 0.18 * w, 0.90 * w, s.h / 2 + 0.245 * w]
    draw.rectangle(box, fill=(12, 13, 13), outline=(96, 98, 102), width=w // 600)
    draw.text(
        (box[0] + 0.02 * w, box[1] + 0.006 * w),
        reading,
        font=ImageFont.load_default(size=0.045 * w),
        fill=(214, 214, 200),
    )
    if lamp:
        glow = Image.new("RGB", picture.size)
        ImageDraw.Draw(glow).ellipse([0.15 * w, s.h / 2 + 0.18 * w, 0.19 * w, s.h / 2 + 0.22 * w], fill=(255, 60, 20))
        glow = glow.filter(ImageFilter.GaussianBlur(w / 130))
        picture = Image.fromarray(np.clip(np.asarray(picture).astype(int) + np.asarray(glow), 0, 255).astype(np.uint8))
    return picture.filter(ImageFilter.GaussianBlur(w / 2400))


def copper_face(seed, width=2016):
    """A copper head gasket, its fire ring leaking to the water side."""
    s = Scene(seed, width)
    s.paint(None, COPPER)
    s.height += 0.0006 * s.noise(0.05) + 0.0001 * s.lines(20, 0.002)
    s.polish(1, 0.6, 24)
    away = s.away(-0.2, 0)
    s.paint(soft(0.24 - away, 0.003), SOOT)
    fire = np.exp(-(((away - 0.265) / 0.02) ** 4))
    s.height += 0.003 * fire
    leak = fire * np.exp(-((np.arctan2(s.y, s.x + 0.2) - 0.2) ** 2) / 0.03)
    s.paint(leak, SOOT, 0.9)
    s.paint(soft(s.noise(0.15) + 0.2, 1), (0.22, 0.34, 0.28), 0.4)
    return s.photograph(0.8)

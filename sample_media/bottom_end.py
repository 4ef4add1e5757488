"""Bores, pins, shells, rods and what lies in the sump."""

from __future__ import annotations

import numpy as np
from render import ALLOY, COPPER, IRON, RUST, SOOT, STEEL, Scene, soft, stamp


def bore(seed, scores=0, ridge=True, hone=1.0, rust=0.0, width=2016):
    """A bore wall close up: hone marks, the wear ridge, upright scores with raised edges."""
    s = Scene(seed, width)
    s.paint(None, STEEL)
    s.height -= 0.9 * s.x**2
    s.height += 0.00022 * hone * (s.lines(27, 0.0016) + s.lines(-27, 0.0017)) + 0.00006 * s.noise(0.02, 2)
    s.polish(1, 0.75, 46)
    top = -0.25 + 0.004 * np.sin(9 * s.x)
    if ridge:
        s.height += 0.004 * soft(top - s.y, 0.006)
        s.paint(soft(top - s.y, 0.004), (0.24, 0.21, 0.18), 0.85)
        s.paint(np.exp(-(((s.y - top) / 0.006) ** 2)), SOOT, 0.7)
    for _ in range(scores):
        x, wide = s.rng.normal(0.02, 0.07), s.rng.uniform(0.0008, 0.0042)
        begin, end = top + s.rng.uniform(0.02, 0.1), s.rng.uniform(0.12, 0.42)
        line = np.exp(-(((s.x - x - 0.006 * np.sin(5 * s.y)) / wide) ** 2)) * soft(s.y - begin, 0.03)
        line *= soft(end - s.y, 0.05)
        side = np.exp(-(((s.x - x - 2.2 * wide) / wide) ** 2)) * (line.max(axis=1, keepdims=True) > 0.1)
        s.height += -0.0016 * line + 0.0005 * side
        s.paint(line, (0.30, 0.29, 0.28), 0.6)
    if rust:
        spots = soft(s.noise(0.05) + rust - 1.4, 0.5)
        s.paint(spots, RUST, 0.9)
        s.height -= 0.001 * spots
        s.polish(spots, 0.05, 6)
    s.oil(0.05 if scores else 0.3, 0.3)
    return s.photograph(0.9)


def shell(seed, wiped=0.0, grit=0, fatigue=0.0, width=2016):
    """A bearing shell lying open on the mat: oil groove, hole, locating tang."""
    s = Scene(seed, width)
    s.paint(None, (0.05, 0.055, 0.065))
    s.height += 0.0008 * s.lines(45, 0.012) + 0.0002 * s.grain(0.3)
    s.polish(1, 0.12, 8)
    inside = soft(0.36 - np.abs(s.x), 0.004) * soft(0.25 - np.abs(s.y), 0.004)
    curve = np.sqrt(np.clip(1 - (s.y / 0.262) ** 2, 0.02, 1))
    s.height = s.height * (1 - inside) + inside * (-0.16 * curve)
    s.paint(inside, (0.50, 0.50, 0.52))
    s.polish(inside, 0.55, 30)
    s.height += inside * 0.00016 * s.lines(0, 0.0015)
    groove = inside * np.exp(-(((s.x) / 0.016) ** 4))
    s.height -= 0.006 * groove
    s.paint(groove, (0.24, 0.24, 0.25), 0.8)
    hole = soft(0.024 - s.away(0, 0.03), 0.004)
    s.paint(hole, SOOT)
    s.height -= 0.01 * hole
    if wiped:
        patch = inside * soft(s.noise(0.22) + wiped - 2.6 * np.hypot(s.x - 0.1, s.y * 1.2), 0.5) * (1 - groove)
        s.paint(patch, COPPER, 0.85)
        s.height += patch * 0.0004 * s.lines(1.5, 0.003)
        rim = np.clip(1 - np.abs(patch - 0.5) * 3, 0, 1)
        s.paint(rim, (0.62, 0.58, 0.5), 0.6)
    if fatigue:
        flaked = inside * soft(s.noise(0.06) * s.noise(0.3) + fatigue - 1.3, 0.2)
        s.height -= 0.0022 * flaked
        s.paint(flaked, (0.42, 0.33, 0.25), 0.9)
    dots = []
    for _ in range(grit):
        x, y, size = s.rng.uniform(-0.32, 0.32), s.rng.uniform(-0.2, 0.2), s.rng.uniform(0.0012, 0.005)
        dots.append((x, y, size))
    for x, y, size in dots:
        near = s.window(x, y, size * 8)
        away = np.hypot(s.x[near] - x, s.y[near] - y)
        grain, halo = soft(size - away, size * 0.5), np.exp(-((away / (size * 2.6)) ** 2))
        s.height[near] += 0.0012 * halo + 0.001 * grain
        s.colour[near] = s.colour[near] * (1 - 0.5 * halo[..., None]) + 0.36 * halo[..., None]
        s.colour[near] *= 1 - 0.88 * grain[..., None]
    s.oil(-0.1, 0.25)
    return s.photograph(0.8)


def crankpin(seed, grooves=0, blue=0.0, width=2016):
    """A journal between its webs; too little oil and it takes the temper colours, straw to blue."""
    s = Scene(seed, width)
    s.paint(None, (0.30, 0.29, 0.285))
    s.height += 0.002 * s.noise(0.05)
    s.polish(1, 0.25, 12)
    on = soft(0.31 - np.abs(s.x), 0.01) * (np.abs(s.y) < 0.3)
    curve = np.sqrt(np.clip(1 - (s.y / 0.305) ** 2, 0.01, 1))
    s.height = s.height * (1 - on) + on * 0.26 * curve
    s.paint(on, STEEL)
    s.polish(on, 0.9, 70)
    s.height += on * 0.00008 * s.lines(90, 0.0012)
    for _ in range(grooves):
        x, wide = s.rng.uniform(-0.26, 0.26), s.rng.uniform(0.0007, 0.0035)
        line = on * np.exp(-(((s.x - x) / wide) ** 2))
        s.height -= 0.0014 * line
        s.paint(line, (0.34, 0.33, 0.32), 0.5)
    if blue:
        heat = np.clip(np.exp(-(((s.x + 0.02) / 0.2) ** 2)) * blue + 0.07 * s.noise(0.15, 3), 0, 1) * on
        for low, colour in ((0.22, (0.66, 0.52, 0.26)), (0.42, (0.46, 0.24, 0.30)), (0.6, (0.17, 0.21, 0.44))):
            s.paint(soft(heat - low, 0.14), colour, 0.75)
    edge = np.exp(-((s.away(0.03, -0.03) / 0.034) ** 8))
    s.height -= 0.02 * edge
    s.paint(edge, SOOT)
    s.oil(-0.2 if blue else 0.1, 0.3)
    return s.photograph(0.8)


def piston(seed, mark=False, melted=False, width=2016):
    """A crown with its carbon; a valve that touched it leaves a bright arc."""
    s = Scene(seed, width)
    s.paint(None, (0.06, 0.06, 0.065))
    away = s.away(0, 0)
    on = soft(0.345 - away, 0.004)
    s.height += 0.03 * on + on * 0.0022 * s.noise(0.06)
    s.paint(on, ALLOY)
    s.paint(on * soft(s.noise(0.16) + 0.9, 1.2), (0.13, 0.11, 0.09), 0.92)
    s.polish(on, 0.2, 12)
    for side in (-1, 1):
        pocket = soft(0.125 - s.away(side * 0.15, -0.07), 0.006) * on
        s.height -= 0.012 * pocket
    if mark:
        arc = np.exp(-(((s.away(0.15, -0.07) - 0.105) / 0.007) ** 2)) * (s.x > 0.16) * (s.y < -0.02)
        s.paint(arc, (0.82, 0.82, 0.8))
        s.polish(arc, 1, 60)
        s.height -= 0.003 * arc
    if melted:
        gone = soft(0.09 - s.away(-0.3, 0.1) + 0.012 * s.noise(0.03), 0.01)
        s.height -= 0.03 * gone
        s.paint(gone, SOOT, 0.9)
    s.oil(-0.4)
    return s.photograph(0.8)


def rod_cap(seed, rod_dots=3, cap_dots=3, width=2016):
    """A rod and its cap at the joint face, with the dots that say they belong together."""
    s = Scene(seed, width)
    s.paint(None, (0.07, 0.07, 0.075))
    s.height += 0.0006 * s.noise(0.02)
    for low, high in ((-0.24, -0.006), (0.006, 0.24)):
        block = soft(0.34 - np.abs(s.x) - 0.1 * np.abs(s.y), 0.01) * (s.y > low) * (s.y < high)
        s.height += block * (0.04 + 0.0003 * s.lines(86, 0.002) + 0.0008 * s.noise(0.08))
        s.paint(block, (0.44, 0.43, 0.42))
        s.polish(block, 0.45, 26)
    for y, dots in ((-0.09, rod_dots), (0.09, cap_dots)):
        for dot in range(dots):
            pit = s.away(-0.16 + dot * 0.06, y)
            s.height -= 0.012 * soft(0.016 - pit, 0.014)
            s.height += 0.002 * np.exp(-(((pit - 0.02) / 0.004) ** 2))
    s.oil(0.1, 0.2)
    return s.photograph(0.8)


def ring_pieces(seed, pieces=4, width=2016):
    """A broken ring laid out on the mat."""
    s = Scene(seed, width)
    s.paint(None, (0.09, 0.105, 0.13))
    s.height += 0.0007 * s.lines(0, 0.008) + 0.0007 * s.lines(90, 0.008)
    angle = np.arctan2(s.y, s.x)
    for number in range(pieces):
        cx, cy = s.rng.normal(0, 0.016, 2)
        wide = 2 * np.pi / (pieces + 1) * s.rng.uniform(0.6, 0.95)
        middle = -np.pi + (number + 0.5) * 2 * np.pi / (pieces + 0.7)
        part = (np.abs((angle - middle + np.pi) % (2 * np.pi) - np.pi) < wide / 2) * 1.0
        band = soft(0.012 - np.abs(s.away(cx, cy) - 0.24), 0.003) * part
        s.height += 0.01 * band
        s.paint(band, STEEL)
        s.polish(band, 0.8, 50)
    return s.photograph(0.8)


def strainer(seed, blocked=0.8, width=2016):
    """The oil pick-up's wire mesh, blinded by sludge and fibres."""
    s = Scene(seed, width)
    s.paint(None, (0.12, 0.11, 0.10))
    on = soft(0.33 - s.away(0, 0), 0.005)
    mesh = np.maximum(np.cos(s.x * 420) ** 6, np.cos(s.y * 420) ** 6)
    s.height += on * 0.003 * mesh
    s.paint(on * (mesh > 0.3), (0.55, 0.52, 0.45))
    s.paint(on * (mesh <= 0.3), SOOT)
    rim = np.exp(-(((s.away(0, 0) - 0.335) / 0.012) ** 2))
    s.height += 0.01 * rim
    s.paint(rim, (0.5, 0.48, 0.44))
    sludge = on * soft(s.noise(0.2) + blocked * 2 - 1.4, 0.5)
    s.height += sludge * (0.004 + 0.002 * s.noise(0.03))
    s.paint(sludge, (0.07, 0.055, 0.04), 0.97)
    s.polish(sludge, 0.6, 60)
    return s.photograph(0.8)


def swarf(seed, flakes=500, width=2016):
    """An opened filter: pleats, oil, bright flakes."""
    s = Scene(seed, width)
    s.height += 0.02 * np.sin(s.x * 210 + 0.8 * np.sin(5 * s.y)) + 0.0015 * s.noise(0.03)
    s.paint(None, (0.33, 0.24, 0.13))
    s.oil(0.6, 0.3)
    for _ in range(flakes):
        x, y, size = s.rng.normal(0, 0.2), s.rng.normal(0, 0.15), s.rng.uniform(0.0008, 0.004)
        view = s.window(x, y, size * 1.5)
        u, v, turn = s.x[view] - x, s.y[view] - y, s.rng.uniform(0, 3.14)
        flake = (np.abs(u * np.cos(turn) + v * np.sin(turn)) < size) & (
            np.abs(v * np.cos(turn) - u * np.sin(turn)) < size * 0.6
        )
        s.colour[view][flake] = (0.85, 0.83, 0.78) if s.rng.random() < 0.7 else COPPER
        s.shine[view][flake], s.gloss[view][flake] = 1.0, 20
        s.height[view] += np.where(flake, u * s.rng.normal(0, 0.6) + v * s.rng.normal(0, 0.6) + 0.004, 0)
    return s.photograph(0.9)


def number_pad(seed, text, width=2016):
    """The engine number on its machined pad, cast iron round it."""
    s = Scene(seed, width)
    s.height += 0.0035 * s.noise(0.012, 3) + 0.002 * s.noise(0.1)
    s.paint(None, IRON)
    s.paint(soft(s.noise(0.2) + 0.1, 0.8), RUST, 0.35)
    s.polish(1, 0.18, 9)
    pad = soft(0.41 - np.abs(s.x), 0.004) * soft(0.1 - np.abs(s.y), 0.004)
    s.height = s.height * (1 - pad) + pad * (0.006 + 0.0002 * s.lines(3, 0.002) + 0.0002 * s.lines(-4, 0.003))
    s.paint(pad, (0.5, 0.49, 0.46))
    s.polish(pad, 0.6, 30)
    stamp(s, text, 0, 0.0, 0.085)
    s.oil(-0.5, 0.3)
    return s.photograph(0.8)

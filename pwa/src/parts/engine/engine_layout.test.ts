import { describe, expect, it } from 'vitest'
import { type DrawnEngine, type Drawing, TOUCH, blockDrawing, crankLine, neighbour } from './engine_layout.ts'
import { jointDrawing, valveDrawing } from './engine_views.ts'

const pins = (...carried: number[][]) => carried

const engines: Record<string, DrawnEngine> = {
  'an inline four': { layout: 'inline', banks: [{ code: 'A', cylinders: [1, 2, 3, 4] }], crankpins: pins([1], [2], [3], [4]), mains: 5 },
  'an inline four on three mains': { layout: 'inline', banks: [{ code: 'A', cylinders: [1, 2, 3, 4] }], crankpins: pins([1], [2], [3], [4]), mains: 3 },
  'an inline six': { layout: 'inline', banks: [{ code: 'A', cylinders: [1, 2, 3, 4, 5, 6] }], crankpins: pins([1], [2], [3], [4], [5], [6]), mains: 7 },
  'a V6': { layout: 'v', banks: [{ code: 'A', cylinders: [1, 3, 5] }, { code: 'B', cylinders: [2, 4, 6] }], crankpins: pins([1, 2], [3, 4], [5, 6]), mains: 4, ends: { front: 'timing_drive', rear: 'flywheel' } },
  'a V8 counted bank by bank': { layout: 'v', banks: [{ code: 'A', cylinders: [1, 2, 3, 4] }, { code: 'B', cylinders: [5, 6, 7, 8] }], crankpins: pins([1, 5], [2, 6], [3, 7], [4, 8]), mains: 5 },
  'a V12': { layout: 'v', banks: [{ code: 'A', cylinders: [1, 2, 3, 4, 5, 6] }, { code: 'B', cylinders: [7, 8, 9, 10, 11, 12] }], crankpins: pins([1, 7], [2, 8], [3, 9], [4, 10], [5, 11], [6, 12]), mains: 7 },
  'a flat four': { layout: 'flat', banks: [{ code: 'A', cylinders: [1, 3] }, { code: 'B', cylinders: [2, 4] }], crankpins: pins([1], [2], [3], [4]), mains: 3 },
  'a single': { layout: 'single', banks: [{ code: 'A', cylinders: [1] }], crankpins: pins([1]), mains: 2 },
}

function overlaps(drawing: Drawing): string[] {
  const clashes: string[] = []
  drawing.spots.forEach((a, i) => {
    for (const b of drawing.spots.slice(i + 1)) {
      const dx = Math.abs(a.x - b.x)
      const dy = Math.abs(a.y - b.y)
      const round = a.shape === 'bore' && b.shape === 'bore'
      const clash = round ? Math.hypot(dx, dy) < (a.w + b.w) / 2 : dx < (a.touchW + b.touchW) / 2 - 0.01 && dy < (a.touchH + b.touchH) / 2 - 0.01
      if (clash) clashes.push(`${a.code} and ${b.code}`)
    }
  })
  return clashes
}

function reachable(drawing: Drawing): Set<string> {
  const seen = new Set([drawing.spots[0]!.code])
  const open = [drawing.spots[0]!]
  while (open.length) {
    const from = open.pop()!
    for (const key of ['ArrowUp', 'ArrowDown', 'ArrowLeft', 'ArrowRight']) {
      const to = neighbour(drawing.spots, from, key)
      if (to && !seen.has(to.code)) {
        seen.add(to.code)
        open.push(to)
      }
    }
  }
  return seen
}

function promises(drawing: Drawing) {
  expect(overlaps(drawing)).toEqual([])
  for (const spot of drawing.spots) {
    expect(Math.min(spot.touchW, spot.touchH), spot.code).toBeGreaterThanOrEqual(TOUCH)
    expect(spot.x - spot.touchW / 2, spot.code).toBeGreaterThanOrEqual(0)
    expect(spot.x + spot.touchW / 2, spot.code).toBeLessThanOrEqual(drawing.width)
    expect(spot.y - spot.touchH / 2, spot.code).toBeGreaterThanOrEqual(0)
    expect(spot.y + spot.touchH / 2, spot.code).toBeLessThanOrEqual(drawing.height)
  }
  expect(reachable(drawing).size).toBe(drawing.spots.length)
}

describe.each(Object.entries(engines))('the drawing of %s', (_name, engine) => {
  it.each([0, 430, 700])('gives every bore, main and pin a place of its own, with %d to draw in', (room) => {
    const drawing = blockDrawing(engine, room)
    const cylinders = engine.banks.flatMap((b) => b.cylinders)
    const codes = drawing.spots.map((s) => s.code)
    expect(codes).toEqual(expect.arrayContaining(cylinders.map((c) => `bore/${c}`)))
    expect(codes.filter((c) => c.startsWith('main/'))).toHaveLength(engine.mains)
    expect(codes.filter((c) => c.startsWith('crankpin/'))).toHaveLength(engine.crankpins.length)
    expect(new Set(codes).size).toBe(codes.length)
    promises(drawing)
  })

  it('puts every bore in the order of its bank, front at the top', () => {
    const drawing = blockDrawing(engine)
    const y = (c: number) => drawing.spots.find((s) => s.code === `bore/${c}`)!.y
    for (const bank of engine.banks) {
      expect([...bank.cylinders].sort((a, b) => y(a) - y(b))).toEqual(bank.cylinders)
    }
  })
})

it('a shaft begins and ends on a main, with the pins shared out between', () => {
  const line = (mains: number, n: number) =>
    crankLine({ layout: 'inline', banks: [], mains, crankpins: Array.from({ length: n }, (_, i) => [i + 1]) })
      .map((i) => i.sort[0]! + i.index)
      .join(' ')
  expect(line(5, 4)).toBe('m1 p1 m2 p2 m3 p3 m4 p4 m5')
  expect(line(3, 4)).toBe('m1 p1 p2 m2 p3 p4 m3')
  expect(line(4, 6)).toBe('m1 p1 p2 m2 p3 p4 m3 p5 p6 m4')
  expect(line(2, 1)).toBe('m1 p1 m2')
})

it('the fasteners of a head can each be touched, however close the maker put them', () => {
  const bolts = Array.from({ length: 14 }, (_, i) => {
    return { code: `head_bolt/A/${i + 1}`, label: String(i + 1), along: Math.floor(i / 2) * 31, across: (i % 2) * 90 }
  })
  promises(jointDrawing('head A', bolts, 6))
})

it.each([
  [1, 1],
  [2, 2],
  [2, 1],
])('%d inlet and %d exhaust valves can each be touched', (inlet, exhaust) => {
  const cylinders = [1, 3, 5].map((cylinder) => ({ cylinder, inlet, exhaust, plug: true, injector: true }))
  promises(valveDrawing('head A', cylinders))
})

it.each([4, 6, 8, 10])('a round flange keeps its %d fasteners in a ring', (count) => {
  const bolts = Array.from({ length: count }, (_, i) => {
    const turn = (i * 2 * Math.PI) / count
    return { code: `flywheel_bolt/${i + 1}`, label: String(i + 1), along: Math.round(40 * Math.cos(turn)), across: Math.round(40 * Math.sin(turn)) }
  })
  promises(jointDrawing('flywheel', bolts, 0))
})

import { readFileSync } from 'node:fs'
import { describe, expect, it } from 'vitest'
import { type DrawnType, drawingOf, viewFor, viewsOf, symbolFor, symbolsFor, tallyBySymbol } from './engine_drawings.ts'
import { spoken } from './EngineDrawing.tsx'
import { TOUCH } from './engine_layout.ts'

const file = new URL('../../../../server/witnessmark/trade/data/invented_engine_types.json', import.meta.url)
const types = JSON.parse(readFileSync(file, 'utf8')).engine_types as (DrawnType & { name: string })[]

describe.each(types.map((t) => [t.name, t] as const))('the sheets of the %s', (_name, type) => {
  it('show every fastener and every valve of the engine on some sheet, each once', () => {
    const drawn = viewsOf(type).flatMap((sheet) => drawingOf(type, sheet.code).spots.map((s) => s.code))
    const bolts = type.joints.flatMap((j) => j.fasteners.map((f) => `${j.code}/${f.label}`))
    const valves = type.banks.flatMap((b) => b.cylinders).flatMap((c) => [`valve/${c}/inlet/1`, `valve/${c}/exhaust/${type.valves.exhaust}`])
    expect(drawn).toEqual(expect.arrayContaining([...bolts, ...valves]))
    expect(new Set(drawn).size).toBe(drawn.length)
  })

  it.each(viewsOf(type).map((s) => s.code))('leave each place of %s room for a finger', (sheet) => {
    const { spots, width, height } = drawingOf(type, sheet)
    for (const a of spots) {
      expect(Math.min(a.touchW, a.touchH)).toBeGreaterThanOrEqual(TOUCH)
      expect(a.x - a.touchW / 2).toBeGreaterThanOrEqual(0)
      expect(a.x + a.touchW / 2).toBeLessThanOrEqual(width)
      expect(a.y + a.touchH / 2).toBeLessThanOrEqual(height)
      for (const b of spots) {
        const apart = Math.abs(a.x - b.x) >= (a.touchW + b.touchW) / 2 - 0.01 || Math.abs(a.y - b.y) >= (a.touchH + b.touchH) / 2 - 0.01
        const round = a.shape === 'bore' && b.shape === 'bore' && Math.hypot(a.x - b.x, a.y - b.y) >= a.w
        expect(a === b || apart || round, `${a.code} and ${b.code}`).toBe(true)
      }
    }
  })

  it('draw the left bank on the left', () => {
    const { spots } = drawingOf(type)
    const left = type.banks.find((b) => b.name === 'left')
    const right = type.banks.find((b) => b.name === 'right')
    if (!left || !right) return expect(type.banks).toHaveLength(1)
    const x = (cylinder: number) => spots.find((s) => s.code === `bore/${cylinder}`)!.x
    expect(x(left.cylinders[0]!)).toBeLessThan(x(right.cylinders[0]!))
  })
})

describe('a place that has no symbol of its own', () => {
  const type = types.find((t) => t.layout === 'v')!
  const block = drawingOf(type)
  it.each([
    ['piston/3', 'bore/3'],
    ['gudgeon_pin/6', 'bore/6'],
    ['main_cap/2', 'main/2'],
    ['valve/5/inlet/1', 'bore/5'],
    ['main_bolt/4/2', 'main/4'],
    ['sump', null],
  ])('%s is shown by %s', (place, symbol) => expect(symbolFor(block, place)).toBe(symbol))

  it('is counted and ringed where it is shown', () => {
    expect(tallyBySymbol(block, { 'bore/3': 2, 'piston/3': 3, 'main_cap/1': 1, sump: 9 })).toEqual({ 'bore/3': 5, 'main/1': 1 })
    expect([...symbolsFor(block, ['rod/1', 'sump', 'main_bearing/2'])]).toEqual(['bore/1', 'main/2'])
  })

  it('is found on the sheet that shows it best, and the sheet in hand is kept when it will do', () => {
    expect(viewFor(type, 'head_bolt/B/7')).toBe('head_bolt/B')
    expect(viewFor(type, 'piston/3')).toBe('block')
    expect(viewFor(type, 'valve/2/inlet/1', 'valve/B')).toBe('valve/B')
  })
})

it('a place says its name, its records and that evidence is wanted', () => {
  expect(spoken('bore 3, bank A', 0, false)).toBe('bore 3, bank A')
  expect(spoken('bore 3, bank A', 1, false)).toBe('bore 3, bank A, 1 record')
  expect(spoken('main journal 4', 12, true)).toBe('main journal 4, 12 records, evidence still needed')
})

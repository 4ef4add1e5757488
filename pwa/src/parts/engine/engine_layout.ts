// Where everything of an engine stands on the drawing: bores in their banks seen from above, the crank line between or
// beside them, front at the top. Lengths are drawing units; at the size of a phone one unit is about one CSS pixel,
// and no place that can be touched is smaller than TOUCH. Schematic: the order is true, the proportions are not.
import { say } from '../words/say.ts'

export interface DrawnEngine {
  layout: 'inline' | 'v' | 'flat' | 'single'
  /** Banks from left to right as drawn, the cylinders of each from front to rear. */
  banks: { code: string; cylinders: number[] }[]
  /** Crankpins from front to rear with the cylinders each one carries. */
  crankpins: number[][]
  mains: number
  /** Places at the two ends of the crank line, drawn when there is room. */
  ends?: { front?: string; rear?: string }
}

export type Shape = 'bore' | 'main' | 'pin' | 'end' | 'bolt' | 'valve' | 'plug'

export interface Spot {
  code: string
  shape: Shape
  /** Centre, and the width and height drawn. */
  x: number
  y: number
  w: number
  h: number
  /** Width and height that can be touched, about the same centre. */
  touchW: number
  touchH: number
  label: string
  under?: string
}

export interface Outline {
  x: number
  y: number
  w: number
  h: number
  label: string
  labelX: number
  labelY: number
}

export interface Line {
  x1: number
  y1: number
  x2: number
  y2: number
  sort: 'axis' | 'rod' | 'web'
}

export interface Circle {
  x: number
  y: number
  r: number
}

export interface Drawing {
  width: number
  height: number
  spots: Spot[]
  outlines: Outline[]
  lines: Line[]
  /** Circles that only show where something is, such as a chamber behind its bolts. */
  ghosts: Circle[]
  front: { x: number; y: number }
  /** Larger words that stand beside the drawing, such as the number of a cylinder. */
  words?: { x: number; y: number; text: string }[]
}

export const TOUCH = 44
export const WIDTH = 340
const LEAST_ROW = 45
const LEAST_BORE_PITCH = 76
const WIDEST_BORE = 50
const TOP = 24
const BOTTOM = 24

type Item = { sort: 'main' | 'pin' | 'front' | 'rear'; index: number }

/** Mains and crankpins in their order along the shaft: the pins are shared out evenly between the mains. */
export function crankLine(engine: DrawnEngine): Item[] {
  const items: Item[] = []
  const pins = engine.crankpins.length
  const gaps = Math.max(1, engine.mains - 1)
  let drawn = 0
  for (let main = 1; main <= Math.max(engine.mains, 1); main += 1) {
    items.push({ sort: 'main', index: main })
    const until = main >= engine.mains ? pins : Math.round((pins * main) / gaps)
    while (drawn < until && main < Math.max(engine.mains, 2)) {
      drawn += 1
      items.push({ sort: 'pin', index: drawn })
    }
  }
  if (engine.ends?.front) items.unshift({ sort: 'front', index: 0 })
  if (engine.ends?.rear) items.push({ sort: 'rear', index: 0 })
  return items
}

const pinOf = (engine: DrawnEngine, cylinder: number) => engine.crankpins.findIndex((pin) => pin.includes(cylinder))

function boreCentres(engine: DrawnEngine, pinAt: number[], stagger: number): Map<number, number> {
  const centres = new Map<number, number>()
  for (const bank of engine.banks) {
    bank.cylinders.forEach((cylinder, place) => {
      const pin = pinOf(engine, cylinder)
      const sharers = engine.crankpins[pin] ?? [cylinder]
      const y = pin < 0 ? (place + 1) * LEAST_BORE_PITCH : (pinAt[pin] ?? 0)
      centres.set(cylinder, y + (sharers.indexOf(cylinder) - (sharers.length - 1) / 2) * 2 * stagger)
    })
  }
  return centres
}

function leastPitch(engine: DrawnEngine, centres: Map<number, number>): number {
  let least = Infinity
  for (const bank of engine.banks) {
    const along = bank.cylinders.map((c) => centres.get(c) ?? 0).sort((a, b) => a - b)
    along.forEach((y, i) => i > 0 && (least = Math.min(least, y - along[i - 1]!)))
  }
  return least
}

function rows(items: Item[], mainH: number, pinH: number): { at: number[]; end: number } {
  let y = 0
  const at = items.map((item) => {
    const h = item.sort === 'pin' ? pinH : mainH
    y += h
    return y - h / 2
  })
  return { at, end: y }
}

/**
 * The block seen from above with its crank line.
 * `room` is the height on offer in units: rows are stretched towards it, never below what a finger needs.
 */
export function blockDrawing(engine: DrawnEngine, room = 0): Drawing {
  const items = crankLine(engine)
  const stretch = Math.min(60, Math.max(LEAST_ROW, (room - TOP - BOTTOM) / items.length))
  const twoBanks = engine.banks.length > 1
  const stagger = twoBanks && engine.crankpins.some((pin) => pin.length > 1) ? stretch * 0.34 : 0
  let pinH = stretch
  let at = rows(items, stretch, pinH)
  let centres = new Map<number, number>()
  let pitch = 0
  for (; pinH < 200; pinH += 2) {
    at = rows(items, stretch, pinH)
    const pinAt = items.flatMap((item, i) => (item.sort === 'pin' ? [at.at[i]!] : []))
    centres = boreCentres(engine, pinAt, stagger)
    pitch = leastPitch(engine, centres)
    if (pitch >= LEAST_BORE_PITCH) break
  }
  const blockW = twoBanks ? 112 : 132
  const radius = Math.min(WIDEST_BORE, blockW / 2 - 8, (pitch - 8) / 2)
  const bores = [...centres.values()]
  const top = Math.min(0, ...bores.map((y) => y - radius - 12))
  const down = TOP - top
  const bottom = Math.max(at.end, ...bores.map((y) => y + radius + 12)) + down
  const crankX = twoBanks ? WIDTH / 2 : 258
  const bankX = engine.banks.map((_, i) => (!twoBanks ? 108 : i % 2 === 0 ? 4 + blockW / 2 : WIDTH - 4 - blockW / 2))
  return {
    width: WIDTH,
    height: bottom + BOTTOM,
    spots: [...boreSpots(engine, centres, bankX, radius, down), ...crankSpots(engine, items, at.at, crankX, down)],
    outlines: engine.banks.map((bank, i) => bankOutline(bank, centres, bankX[i]!, blockW, radius, down, twoBanks)),
    lines: [
      { x1: crankX, y1: down - 6, x2: crankX, y2: at.end + down + 10, sort: 'axis' },
      ...rodLines(engine, centres, items, at.at, bankX, crankX, radius, down),
    ],
    ghosts: [],
    front: { x: crankX, y: Math.max(14, down - 12) },
  }
}

function boreSpots(engine: DrawnEngine, centres: Map<number, number>, bankX: number[], r: number, down: number): Spot[] {
  return engine.banks.flatMap((bank, i) =>
    bank.cylinders.map((cylinder): Spot => {
      const size = r * 2
      const y = (centres.get(cylinder) ?? 0) + down
      return { code: `bore/${cylinder}`, shape: 'bore', x: bankX[i]!, y, w: size, h: size, touchW: size, touchH: size, label: String(cylinder) }
    }),
  )
}

function crankSpots(engine: DrawnEngine, items: Item[], at: number[], x: number, down: number): Spot[] {
  return items.map((item, i): Spot => {
    const y = at[i]! + down
    const touch = { touchW: 68, touchH: TOUCH }
    if (item.sort === 'main') return { code: `main/${item.index}`, shape: 'main', x, y, w: 36, h: 26, label: String(item.index), ...touch }
    if (item.sort === 'pin') {
      const carried = engine.crankpins[item.index - 1] ?? []
      const rods = { rods: carried.join(', ') }
      const under = carried.length > 1 ? say('engine.rods', { ...rods }) : say('engine.rod', { ...rods })
      const label = say('engine.pin', { number: item.index })
      return { code: `crankpin/${item.index}`, shape: 'pin', x, y, w: 60, h: 40, label, under, ...touch }
    }
    const code = (item.sort === 'front' ? engine.ends?.front : engine.ends?.rear) ?? ''
    return { code, shape: 'end', x, y, w: 68, h: item.sort === 'front' ? 28 : 34, label: code.replaceAll('_', ' '), ...touch }
  })
}

function bankOutline(
  bank: { code: string; cylinders: number[] },
  centres: Map<number, number>,
  x: number,
  w: number,
  r: number,
  down: number,
  named: boolean,
): Outline {
  const along = bank.cylinders.map((c) => (centres.get(c) ?? 0) + down)
  const y = Math.min(...along) - r - 10
  const h = Math.max(...along) + r + 10 - y
  return { x: x - w / 2, y, w, h, label: named ? say('engine.bank', { bank: bank.code }) : say('engine.block'), labelX: x, labelY: y + h + 17 }
}

function rodLines(
  engine: DrawnEngine,
  centres: Map<number, number>,
  items: Item[],
  at: number[],
  bankX: number[],
  crankX: number,
  r: number,
  down: number,
): Line[] {
  const lines: Line[] = []
  const pinAt = items.flatMap((item, i) => (item.sort === 'pin' ? [at[i]! + down] : []))
  engine.banks.forEach((bank, i) => {
    for (const cylinder of bank.cylinders) {
      const pinY = pinAt[pinOf(engine, cylinder)]
      if (pinY === undefined) continue
      const y = (centres.get(cylinder) ?? 0) + down
      const side = bankX[i]! < crankX ? 1 : -1
      const fromY = pinY + Math.max(-10, Math.min(10, y - pinY))
      lines.push({ x1: crankX - side * 30, y1: fromY, x2: bankX[i]! + side * r, y2: y, sort: 'rod' })
    }
  })
  items.forEach((_, i) => {
    if (i === 0) return
    for (const dx of [-7, 7]) lines.push({ x1: crankX + dx, y1: at[i - 1]! + down, x2: crankX + dx, y2: at[i]! + down, sort: 'web' })
  })
  return lines
}

/** The place next to `from` in a direction, for the arrow keys; null when nothing lies that way. */
export function neighbour(spots: Spot[], from: Spot, key: string): Spot | null {
  const towards: Record<string, [number, number]> = { ArrowUp: [0, -1], ArrowDown: [0, 1], ArrowLeft: [-1, 0], ArrowRight: [1, 0] }
  const way = towards[key]
  if (!way) return null
  let best: Spot | null = null
  let least = Infinity
  for (const spot of spots) {
    const dx = spot.x - from.x
    const dy = spot.y - from.y
    const ahead = dx * way[0] + dy * way[1]
    const aside = Math.abs(dx * way[1]) + Math.abs(dy * way[0])
    const cost = ahead + aside * 2
    if (spot !== from && ahead > 4 && cost < least) [best, least] = [spot, cost]
  }
  return best
}

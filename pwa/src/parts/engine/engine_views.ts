// The other views of the engine: a joint with its fasteners, and the valves of a head from below. Front at the top, as on the block.
import { type Drawing, type Spot, TOUCH, WIDTH } from './engine_layout.ts'
import { say } from '../words/say.ts'

export interface Fastener {
  code: string
  label: string
  /** Millimetres along the engine from the front, and across it. */
  along: number
  across: number
}

const EDGE = 34
const TOP = 34

/** A joint face with its fasteners where they sit, within `room` units of height; stretched until fingers fit between neighbours. */
export function jointDrawing(label: string, fasteners: Fastener[], chambers: number, room = 0): Drawing {
  const along = fasteners.map((f) => f.along)
  const across = fasteners.map((f) => f.across)
  const wide = Math.max(...across, 1) - Math.min(...across)
  const long = Math.max(...along, 1) - Math.min(...along)
  const narrow = nearest(fasteners)
  const tall = Math.max(240, (room || 550) - 2 * EDGE - TOP - 34)
  const byX = wide > 0 ? Math.max((TOUCH + 8) / narrow, Math.min((WIDTH - 2 * EDGE - 60) / wide, tall / long)) : 1
  const byY = Math.max(spread(fasteners, byX), Math.min(tall / long, byX))
  const left = (WIDTH - wide * byX) / 2
  const place = (f: Fastener) => ({
    x: left + (f.across - Math.min(...across)) * byX,
    y: TOP + EDGE + (f.along - Math.min(...along)) * byY,
  })
  const w = Math.max(140, wide * byX + 2 * EDGE)
  const face = { x: (WIDTH - w) / 2, y: TOP, w, h: long * byY + 2 * EDGE }
  const spots = fasteners.map((f): Spot => {
    return { code: f.code, shape: 'bolt', ...place(f), w: 36, h: 36, touchW: TOUCH, touchH: TOUCH, label: f.label }
  })
  const pitch = face.h / Math.max(1, chambers)
  const r = Math.min(pitch / 2 - 8, face.w * 0.3)
  return {
    width: WIDTH,
    height: face.y + face.h + 34,
    spots,
    outlines: [{ ...face, label, labelX: WIDTH / 2, labelY: face.y + face.h + 20 }],
    lines: [{ x1: WIDTH / 2, y1: TOP - 8, x2: WIDTH / 2, y2: face.y + face.h + 4, sort: 'axis' }],
    ghosts: Array.from({ length: chambers }, (_, i) => ({ x: WIDTH / 2, y: face.y + pitch * (i + 0.5), r })),
    front: { x: WIDTH / 2, y: 18 },
  }
}

/** The least distance across between two fasteners that stand level with each other. */
function nearest(fasteners: Fastener[]): number {
  let least = Infinity
  for (const a of fasteners) {
    for (const b of fasteners) if (a.across < b.across && Math.abs(a.along - b.along) < 8) least = Math.min(least, b.across - a.across)
  }
  return least
}

/** The least stretch along the engine at which no two fasteners' touch areas overlap. */
function spread(fasteners: Fastener[], byX: number): number {
  let need = 0
  for (const a of fasteners) {
    for (const b of fasteners) {
      const apart = Math.abs(a.along - b.along)
      if (a === b || apart === 0 || Math.abs(a.across - b.across) * byX >= TOUCH) continue
      need = Math.max(need, (TOUCH + 2) / apart)
    }
  }
  return need
}

export interface ValvesOf {
  cylinder: number
  inlet: number
  exhaust: number
  plug?: boolean
  injector?: boolean
}

const CHAMBER = 118

/** The chambers of one head with their valves: inlet to the left, exhaust to the right, plug and injector beside. */
export function valveDrawing(label: string, cylinders: ValvesOf[]): Drawing {
  const x = 142
  const spots = cylinders.flatMap((c, i): Spot[] => {
    const y = TOP + 14 + CHAMBER * (i + 0.5)
    const beside = [c.plug && `plug/${c.cylinder}`, c.injector && `injector/${c.cylinder}`].filter((code): code is string => Boolean(code))
    return [
      ...valves(c.cylinder, 'inlet', c.inlet, x - 28, y),
      ...valves(c.cylinder, 'exhaust', c.exhaust, x + 28, y),
      ...beside.map((code, n): Spot => {
        const dy = beside.length > 1 ? (n - 0.5) * 52 : 0
        return { code, shape: 'end', x: 284, y: y + dy, w: 74, h: 32, touchW: 80, touchH: TOUCH, label: code.replace('/', ' ') }
      }),
    ]
  })
  const h = CHAMBER * cylinders.length + 28
  return {
    width: WIDTH,
    height: TOP + h + 34,
    spots,
    outlines: [{ x: 62, y: TOP, w: 160, h, label, labelX: x, labelY: TOP + h + 20 }],
    lines: [{ x1: x, y1: TOP - 8, x2: x, y2: TOP + h + 4, sort: 'axis' }],
    ghosts: cylinders.map((_, i) => ({ x, y: TOP + 14 + CHAMBER * (i + 0.5), r: 55 })),
    front: { x, y: 18 },
    words: cylinders.map((c, i) => ({ x: 34, y: TOP + 20 + CHAMBER * (i + 0.5), text: String(c.cylinder) })),
  }
}

function valves(cylinder: number, side: 'inlet' | 'exhaust', count: number, x: number, y: number): Spot[] {
  return Array.from({ length: count }, (_, i): Spot => {
    const dy = (i - (count - 1) / 2) * 50
    const size = side === 'inlet' ? 42 : 37
    const short = side === 'inlet' ? say('engine.inlet_short') : say('engine.exhaust_short')
    const label = count > 1 ? `${short} ${i + 1}` : short
    return { code: `valve/${cylinder}/${side}/${i + 1}`, shape: 'valve', x, y: y + dy, w: size, h: size, touchW: 48, touchH: 48, label }
  })
}

// Where the fasteners of a joint stand on the sheet, from their places in millimetres. One unit is one CSS pixel.
import { tag } from '../../trade/ground/sentences.ts'
import { TOUCH } from '../engine/engine_layout.ts'
import { say } from '../words/say.ts'

export interface JointFastener {
  label: string
  x_mm: number
  y_mm: number
}

export interface JointSpot {
  label: string
  x: number
  y: number
}

export interface JointLayout {
  width: number
  height: number
  /** Of a head; its washer is WASHER times as large. */
  radius: number
  /** Side of the square that can be touched, about the same centre. */
  touch: number
  spots: JointSpot[]
}

export const WASHER = 1.34
const [LEAST_RADIUS, MOST_RADIUS, MOST_TOUCH, LEAST_PITCH] = [13, 25, 64, TOUCH + 3]
// Beside the outermost heads: the washer, the ring, below also the number in the order.
const EDGE = { x: 46, above: 44, below: 56 }
const CLOSE = { x: 46, above: 30, below: 42 }
/** Below this height every line counts. */
const SHORT = 200
/** What a number in the order takes below a head. */
const NUMBER = 11
/** How much wider than true two rows are drawn apart, where a long joint leaves room. */
const APART = 1.9
const LONG = 1.6

/**
 * The joint within `width` and `height`, larger where fingers would not fit between neighbours: then it is wider than
 * the screen and slides. The order of places is true; a long joint is drawn wider across than it is.
 */
export function jointLayout(fasteners: readonly JointFastener[], width: number, height: number): JointLayout {
  const [left, right] = ends(fasteners.map(({ x_mm }) => x_mm))
  const [top, bottom] = ends(fasteners.map(({ y_mm }) => y_mm))
  const edge = height < SHORT ? CLOSE : EDGE
  const room = { x: Math.max(1, width - 2 * edge.x), y: Math.max(1, height - edge.above - edge.below) }
  let byX = finite(Math.min(scale(room.x, right - left), scale(room.y, bottom - top)))
  let byY = byX
  if (right - left > LONG * (bottom - top)) byY = Math.max(byX, Math.min(byX * APART, scale(room.y, bottom - top)))
  else if (bottom - top > LONG * (right - left)) byX = Math.max(byY, Math.min(byY * APART, scale(room.x, right - left)))
  const more = Math.max(1, ...pairs(fasteners).map(([x, y]) => Math.min(LEAST_PITCH / (x * byX), (LEAST_PITCH + NUMBER) / (y * byY))))
  ;[byX, byY] = [byX * more, byY * more]
  const pitch = Math.max(LEAST_PITCH, Math.min(...pairs(fasteners).map(([x, y]) => Math.max(x * byX, y * byY - NUMBER))))
  const size = {
    width: Math.max(width, (right - left) * byX + 2 * edge.x),
    height: Math.max(height, (bottom - top) * byY + edge.above + edge.below),
  }
  const middle = { x: size.width / 2, y: (size.height + edge.above - edge.below) / 2 }
  return {
    ...size,
    radius: Math.min(MOST_RADIUS, Math.max(LEAST_RADIUS, pitch * 0.33)),
    touch: Math.min(MOST_TOUCH, pitch - 1),
    spots: fasteners.map(({ label, x_mm, y_mm }) => ({
      label,
      x: middle.x + (x_mm - (left + right) / 2) * byX,
      y: middle.y + (y_mm - (top + bottom) / 2) * byY,
    })),
  }
}

const ends = (values: number[]): [number, number] => (values.length ? [Math.min(...values), Math.max(...values)] : [0, 0])
/** Without an extent nothing is stretched. */
const scale = (room: number, extent: number) => (extent > 0 ? room / extent : Infinity)
const finite = (by: number) => (Number.isFinite(by) ? by : 1)

/** How far apart each two fasteners stand, along and across; two at one spot are left out. */
function pairs(fasteners: readonly JointFastener[]): [x: number, y: number][] {
  const all = fasteners.flatMap((fastener, index) =>
    fasteners.slice(0, index).map((other): [number, number] => [Math.abs(fastener.x_mm - other.x_mm), Math.abs(fastener.y_mm - other.y_mm)]),
  )
  return all.filter(([x, y]) => x + y > 0)
}

const ordinals = new Intl.PluralRules(tag, { type: 'ordinal' })
const ORDINALS = { zero: 'ordinal.other', one: 'ordinal.one', two: 'ordinal.two', few: 'ordinal.few', many: 'ordinal.other', other: 'ordinal.other' } as const

/** "1st", "2nd", "3rd", "4th" … "11th": a place in the order is never mistaken for the number of a bolt. */
export const ordinal = (n: number): string => say(ORDINALS[ordinals.select(n)], { number: String(n) })

/** The fastener that arrow keys step to; null where there is none in that direction. */
export function beside(spots: readonly JointSpot[], from: JointSpot, key: string): JointSpot | null {
  const way = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, -1], ArrowDown: [0, 1] }[key]
  if (!way) return null
  let nearest: JointSpot | null = null
  let best = Infinity
  for (const spot of spots) {
    const [dx, dy] = [spot.x - from.x, spot.y - from.y]
    const ahead = dx * way[0]! + dy * way[1]!
    const aside = Math.abs(dx * way[1]!) + Math.abs(dy * way[0]!)
    if (ahead < 1 || ahead + 3 * aside >= best) continue
    nearest = spot
    best = ahead + 3 * aside
  }
  return nearest
}

// Where a joint's fasteners lie on the drawing. Floats are for drawing only; positions stay whole millimetres.

import type { Fastener } from '../../../trade/engine/parts.ts'

export interface Frame {
  /** Drawing units. */
  width: number
  height: number
  /** Units to the millimetre, and where the centre of the joint (0, 0) lies. */
  unit: number
  x0: number
  y0: number
  /** Of a bolt head. */
  radius: number
}

const ROOM = { width: 560, height: 330 }
const MARGIN = 52
const LARGEST = 24
const SMALLEST = 11
/** A joint with all fasteners at one spot is drawn as if it were this wide. */
const LEAST_MM = 60

/** A frame round all fasteners; `tags` leaves room under each for two order numbers. */
export function frameOf(fasteners: Fastener[], tags = false): Frame {
  const [xs, ys] = [fasteners.map(({ x_mm }) => x_mm), fasteners.map(({ y_mm }) => y_mm)]
  const [left, right] = [Math.min(0, ...xs), Math.max(0, ...xs)]
  const [top, foot] = [Math.min(0, ...ys), Math.max(0, ...ys)]
  const wide = Math.max(right - left, LEAST_MM)
  const unit = Math.min((ROOM.width - 2 * MARGIN) / wide, (ROOM.height - 2 * MARGIN) / Math.max(foot - top, LEAST_MM / 2))
  const radius = Math.max(SMALLEST, Math.min(LARGEST, nearest(fasteners) * unit * (tags ? 0.33 : 0.42)))
  const under = tags ? 14 : 0
  return {
    width: ROOM.width,
    height: Math.max((foot - top) * unit, radius) + 2 * MARGIN + under,
    unit,
    x0: ROOM.width / 2 - ((left + right) / 2) * unit,
    y0: MARGIN - top * unit + (foot === top ? radius / 2 : 0),
    radius,
  }
}

/** Millimetres between the two that are closest. */
export function nearest(fasteners: Fastener[]): number {
  let least = Infinity
  fasteners.forEach((fastener, i) => {
    for (const other of fasteners.slice(i + 1)) {
      const apart = Math.hypot(fastener.x_mm - other.x_mm, fastener.y_mm - other.y_mm)
      if (apart > 0) least = Math.min(least, apart)
    }
  })
  return least
}

/** Where a spot of the joint lies on the paper, and back. */
export function onPaper(frame: Frame, x_mm: number, y_mm: number): { x: number; y: number } {
  return { x: frame.x0 + x_mm * frame.unit, y: frame.y0 + y_mm * frame.unit }
}

export function onJoint(frame: Frame, x: number, y: number): { x_mm: number; y_mm: number } {
  return { x_mm: Math.round((x - frame.x0) / frame.unit), y_mm: Math.round((y - frame.y0) / frame.unit) }
}

export const ARROWS: Record<string, [dx: number, dy: number]> = {
  ArrowRight: [1, 0],
  ArrowLeft: [-1, 0],
  ArrowDown: [0, 1],
  ArrowUp: [0, -1],
}

/** The fastener that lies next in the direction of an arrow key; undefined where there is none. */
export function neighbour(fasteners: Fastener[], from: Fastener, key: string): Fastener | undefined {
  const step = ARROWS[key]
  if (!step) return undefined
  const [dx, dy] = step
  const cost = (fastener: Fastener) => {
    const [x, y] = [fastener.x_mm - from.x_mm, fastener.y_mm - from.y_mm]
    const ahead = x * dx + y * dy
    return ahead <= 0 ? Infinity : ahead + 2 * Math.abs(x * dy + y * dx)
  }
  return fasteners.reduce<Fastener | undefined>(
    (nearest, fastener) => (cost(fastener) < (nearest ? cost(nearest) : Infinity) ? fastener : nearest),
    undefined,
  )
}

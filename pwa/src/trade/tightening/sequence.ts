// The order in which to tighten a joint, proposed from where its fasteners stand: the twin of trade/sequence.py.
// Whole numbers only: a place is multiplied by the number of fasteners, which makes the centre whole too.

import type { Fastener } from '../engine/parts.ts'

export type Shape = 'single' | 'pair' | 'round' | 'long'

export interface Proposal {
  order: string[]
  shape: Shape
  words: string
}

export const CONFIRM = "Proposed from the positions; the maker's own order goes first. Confirm it before it counts."
export const WORDS: Record<Shape, string> = {
  single: 'One fastener.',
  pair: 'Two fasteners, one after the other.',
  round: 'Criss-cross: opposite fasteners in turn.',
  long:
    'From the centre outward, opposite sides in turn. A round flange with a gap is taken for a long joint: put its ' +
    'order criss-cross by hand.',
}

/** A fastener seen from the centre, in millimetres times the number of fasteners; `square` of its distance. */
interface Spot {
  index: number
  x: number
  y: number
  square: number
}

/** The order for fasteners at different spots, in whole millimetres. */
export function propose(fasteners: Fastener[]): Proposal {
  const spots = fromTheCentre(fasteners)
  let shape: Shape = spots.length === 2 ? 'pair' : 'single'
  let found = spots
  if (spots.length > 2) {
    const around = clockwise(spots)
    shape = isRound(around) ? 'round' : 'long'
    found = shape === 'round' ? star(around) : outward(spots)
  }
  const order = found.map((spot) => fasteners[spot.index]!.label)
  return { order, shape, words: `${WORDS[shape]} ${CONFIRM}` }
}

/** The order in which to let go what was tightened in `order`. */
export function loosening(order: string[]): string[] {
  return [...order].reverse()
}

function fromTheCentre(fasteners: Fastener[]): Spot[] {
  const count = fasteners.length
  const across = fasteners.reduce((sum, one) => sum + one.x_mm, 0)
  const down = fasteners.reduce((sum, one) => sum + one.y_mm, 0)
  return fasteners.map((one, index) => {
    const [x, y] = [count * one.x_mm - across, count * one.y_mm - down]
    return { index, x, y, square: x * x + y * y }
  })
}

const cross = (one: Spot, other: Spot) => one.x * other.y - one.y * other.x

/** The spots round their centre as drawn (y downwards), the first of the list first. */
function clockwise(spots: Spot[]): Spot[] {
  const half = (spot: Spot) => (spot.y > 0 || (spot.y === 0 && spot.x > 0) ? 0 : 1)
  const around = [...spots].sort(
    (one, other) =>
      half(one) - half(other) || cross(other, one) || one.square - other.square || one.index - other.index,
  )
  const first = around.findIndex((spot) => spot.index === 0)
  return [...around.slice(first), ...around.slice(0, first)]
}

/**
 * True when all stand about as far from the centre (the nearest at 9/10 of the farthest, for positions are whole
 * millimetres), and five or more leave no gap wider than about 120 degrees (7 by 4 instead of the root of 3).
 */
function isRound(around: Spot[]): boolean {
  const squares = around.map((spot) => spot.square)
  if (100 * Math.min(...squares) < 81 * Math.max(...squares)) return false
  if (around.length < 5) return true
  return around.every((one, place) => {
    const other = around[(place + 1) % around.length]!
    const turned = cross(one, other)
    return turned > 0 && -7 * (one.x * other.x + one.y * other.y) <= 4 * turned
  })
}

const upTo = (count: number) => Array.from({ length: count }, (_, place) => place)

function star(around: Spot[]): Spot[] {
  const count = around.length
  const half = Math.floor(count / 2)
  // No fastener has an opposite; the two nearest to it are half the circle away, one of them in turn.
  if (count % 2) return upTo(count).map((place) => around[(place * half) % count]!)
  if (half % 2) {
    const firsts = upTo(half).map((place) => (place * Math.max(1, Math.floor(half / 2))) % half)
    return firsts.flatMap((first) => [around[first]!, around[first + half]!])
  }
  // Four at a time: opposite, then the two a quarter turn on. The fours follow each other half a quarter apart.
  const quarter = half / 2
  const stride = Math.max(1, Math.floor(quarter / 2))
  const firsts = upTo(stride).flatMap((start) => upTo(quarter).filter((first) => first % stride === start))
  return firsts.flatMap((first) => [0, half, quarter, half + quarter].map((step) => around[first + step]!))
}

/** By distance; of those equally far the topmost first (of these the rightmost), then the one farthest from it. */
function outward(spots: Spot[]): Spot[] {
  const left = [...spots].sort((a, b) => a.square - b.square || a.y - b.y || b.x - a.x || a.index - b.index)
  const found: Spot[] = []
  while (left.length) {
    const one = left.shift()!
    found.push(one)
    const ring = left.filter((other) => other.square === one.square)
    if (!ring.length) continue
    const far = ring.reduce((best, other) => (apart(one, other) > apart(one, best) ? other : best))
    found.push(far)
    left.splice(left.indexOf(far), 1)
  }
  return found
}

const apart = (one: Spot, other: Spot) => (one.x - other.x) ** 2 + (one.y - other.y) ** 2

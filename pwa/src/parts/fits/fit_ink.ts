// Where the ink of a fit goes: the zones of hole and shaft about the zero line. Plain numbers, for placing lines only.

import { asNumber, minus } from '../../trade/ground/amounts.ts'
import { actual, type Fit, fit, type Limits } from '../../trade/proposals/fits.ts'
import type { Fraction } from '../../trade/ground/units.ts'
import { say } from '../words/say.ts'

export const WIDE = 360
export const HIGH = 244
export const [TOP, BOTTOM] = [50, 222]

export interface Span {
  top: number
  bottom: number
}

/** A dimension of the fit: what it spans, and how it is read out. */
export interface Dimension extends Span {
  number: number
  x: number
  /** Where its extension lines begin: at the hole, at the shaft. */
  from: [number, number]
}

export interface Ink {
  zero: number
  hole: Span | null
  shaft: Span | null
  holeAt: number | null
  shaftAt: number | null
  /** A measured size lies so far off that its mark stands at the edge of the drawing. */
  off: boolean
  dimensions: Dimension[]
}

/** What is drawn: zones and measured sizes, each where it is known. */
export interface Drawn {
  hole: Limits | null
  shaft: Limits | null
  holeSize: Fraction | null
  shaftSize: Fraction | null
  nominal: Fraction
}

const MICRON = 1e-6
// Measured sizes stretch the drawing by no more than this share of it, so that the zones stay readable.
const STRETCH = 0.45

export function inkOf({ hole, shaft, holeSize, shaftSize, nominal }: Drawn): Ink {
  const edges = [hole, shaft].flatMap((zone) => (zone ? [asNumber(zone.upper), asNumber(zone.lower)] : []))
  const sizes = [holeSize, shaftSize].map((size) => (size ? asNumber(minus(size, nominal)) : null))
  const [least, most] = [Math.min(0, ...edges), Math.max(0, ...edges)]
  const room = STRETCH * Math.max(most - least, MICRON)
  const near = sizes.map((size) => (size === null ? null : Math.min(most + room, Math.max(least - room, size))))
  const shown = near.filter((size) => size !== null)
  const [low, high] = [Math.min(least, ...shown), Math.max(most, ...shown)]
  const y = (deviation: number) => BOTTOM - ((deviation - low) / Math.max(high - low, MICRON)) * (BOTTOM - TOP)
  const span = (zone: Limits | null) => zone && { top: y(asNumber(zone.upper)), bottom: y(asNumber(zone.lower)) }
  const [holeAt, shaftAt] = near.map((size) => (size === null ? null : y(size))) as [number | null, number | null]
  const ink = { zero: y(0), hole: span(hole), shaft: span(shaft), holeAt, shaftAt, off: near.some((n, i) => n !== sizes[i]) }
  return { ...ink, dimensions: dimensionsOf(ink) }
}

function dimensionsOf({ hole, shaft, holeAt, shaftAt }: Omit<Ink, 'dimensions'>): Dimension[] {
  const dimensions: Dimension[] = []
  const add = (number: number, x: number, from: [number, number]) =>
    dimensions.push({ number, x, from, top: Math.min(...from), bottom: Math.max(...from) })
  if (hole && shaft) {
    add(1, 292, [hole.top, shaft.bottom])
    add(2, 320, [hole.bottom, shaft.top])
  }
  if (holeAt !== null && shaftAt !== null) add(3, 347, [holeAt, shaftAt])
  return dimensions
}

type Extreme = 'least' | 'greatest'

/** The dimensions in words, in the order of their balloons: `greatest clearance` and the amount in metres. */
export function dimensionWords(drawn: Drawn): { number: number; words: string; amount: Fraction }[] {
  const { hole, shaft, holeSize, shaftSize } = drawn
  const dimensions = []
  if (hole && shaft) {
    const made = fit(hole, shaft)
    dimensions.push({ number: 1, ...extreme(made, made.greatest, 'greatest', 'least') })
    dimensions.push({ number: 2, ...extreme(made, made.least, 'least', 'greatest') })
  }
  if (holeSize && shaftSize) {
    const { kind, least } = actual(holeSize, shaftSize)
    const words = kind === 'clearance' ? say('fits.clearance_measured') : say('fits.interference_measured')
    dimensions.push({ number: 3, words, amount: positive(least) })
  }
  return dimensions
}

const positive = (a: Fraction): Fraction => ({ ...a, over: a.over < 0n ? -a.over : a.over })

const clearanceWords = (extreme: Extreme) => (extreme === 'least' ? say('fits.least_clearance') : say('fits.greatest_clearance'))
const interferenceWords = (extreme: Extreme) => (extreme === 'least' ? say('fits.least_interference') : say('fits.greatest_interference'))

function extreme({ kind }: Fit, amount: Fraction, loose: Extreme, tight: Extreme) {
  const clear = amount.over > 0n || (amount.over === 0n && kind === 'clearance')
  return { words: clear ? clearanceWords(loose) : interferenceWords(tight), amount: positive(amount) }
}

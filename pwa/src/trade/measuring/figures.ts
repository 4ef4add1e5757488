// Figures: what the readings at a place amount to by a procedure, exact, with the weight of every reading in them.
// The twin of trade/measuring/figures.py. Amounts are fractions in the SI unit of their kind.

import { by, compare, minus, NOTHING, plus, times } from '../ground/amounts.ts'
import * as gradients from './gradients.ts'
import { fractionOf, isGap, size, value } from './gradients.ts'
import type { Held, Typed, Value } from './gradients.ts'
import { gridCodes, pointWords, quantityOf, readingCodes, type FigureLine, type Procedure } from './procedures.ts'
import { fraction, fromSi, QUANTITIES, UNITS, usualUnit, type Fraction } from '../ground/units.ts'

// Decimals shown where nobody typed any.
export const PLACES: Record<string, number> = Object.fromEntries(Object.entries(UNITS).map(([code, { places }]) => [code, places]))
const MOST_PLACES = 6

/** A reading (the mean of its repeats) or a size: `amount` in SI; the decimals as typed, null for a vulgar fraction. */
export interface Input {
  amount: Fraction
  unit: string
  places: number | null
}

/**
 * One figure. `amount` is null when something is missing: `missing` then names the readings and sizes, or says why.
 * `picked` are the readings that the amount comes from; `unit` and `places` are for showing.
 */
export interface Figure {
  code: string
  words: string
  kind: string
  amount: Fraction | null
  weights: Record<string, Fraction>
  missing: string[]
  unit: string
  places: number
  picked: string[]
}

/** One comparison over all places; see trade/measuring/figures.py for what `places` are in each. */
export interface Across {
  code: string
  words: string
  kind: string
  amount: Fraction | null
  places: string[]
  pairs: [string, string][]
}

export interface AcrossRow {
  place: string
  bank: string
  /** Position in its bank. */
  index: number
  values: Record<string, Fraction | null>
}

const KIND_OF: Record<string, string> = Object.fromEntries(QUANTITIES.map((quantity) => [quantity.code, quantity.kind]))

/** All figures of a sound procedure in the order of its lines. */
export function evaluate(
  procedure: Procedure,
  inputs: Record<string, Input | undefined>,
  lists: Record<string, Input[] | undefined>,
): Figure[] {
  const readings = readingCodes(procedure)
  const grid = gridCodes(procedure)
  const { held, sets } = given(procedure, readings, inputs, lists)
  const words = new Map(readings.map((code) => [code, pointWords(procedure, code)]))
  for (const line of [...procedure.sizes, ...procedure.figures]) words.set(line.code, line.words)
  return procedure.figures.map((line) => {
    const names = line.of.flatMap((name) => (name === 'grid' ? grid : [name]))
    const value = line.along
      ? ALONG[line.do]!(groups(procedure, line.along, held))
      : plain(line, names, held, sets, words)
    held.set(line.code, value)
    return figure(line, value, readings)
  })
}

function given(
  procedure: Procedure,
  readings: string[],
  inputs: Record<string, Input | undefined>,
  lists: Record<string, Input[] | undefined>,
): { held: Map<string, Held>; sets: Map<string, Value[]> } {
  const held = new Map<string, Held>()
  const sets = new Map<string, Value[]>()
  const beside = procedure.readings.filter((reading) => reading.optional).map((reading) => reading.code)
  const may = new Set([...procedure.optional, ...beside])
  const typed = (input: Input, kind: string, reading: boolean): Typed[] => [
    { kind, unit: input.unit, places: input.places, reading },
  ]
  const gap = (code: string, mayBe: boolean): Held => ({ missing: [code], may: mayBe, typed: [] })
  for (const code of readings) {
    const input = Object.hasOwn(inputs, code) ? inputs[code] : undefined
    const kind = KIND_OF[quantityOf(procedure, code)]!
    held.set(code, input ? value(input.amount, typed(input, kind, true), code) : gap(code, may.has(code)))
  }
  for (const { code, quantity, many } of procedure.sizes) {
    if (quantity === '') continue
    const kind = KIND_OF[quantity]!
    const input = Object.hasOwn(inputs, code) ? inputs[code] : undefined
    if (many) sets.set(code, (Object.hasOwn(lists, code) ? lists[code]! : []).map((member) => value(member.amount, typed(member, kind, false))))
    else held.set(code, input ? value(input.amount, typed(input, kind, false)) : gap(code, false))
  }
  return { held, sets }
}

function plain(
  line: FigureLine, names: string[], held: Map<string, Held>, sets: Map<string, Value[]>, words: Map<string, string>,
): Held {
  const last = names.at(-1)!
  const first = held.get(names[0]!)!
  if (line.do === 'nearest') return gradients.nearest(first, sets.get(last)!, last)
  const of = names.map((name) => held.get(name)!)
  const divisor = words.get(last)!
  switch (line.do) {
    // Two of one kind give a number of nobody's unit; otherwise the unit of the first stays.
    case 'quotient':
      return gradients.quotient(first, of[1]!, divisor, line.kind === 'number' || line.kind === 'share')
    case 'per_thousand':
      return gradients.quotient(first, of[1]!, divisor, false, gradients.THOUSAND)
    case 'ratio_of_volumes':
      return gradients.ratioOfVolumes(first, of[1]!, divisor)
    case 'scaled':
      return gradients.scaled(first, fractionOf(line.by))
    case 'taken':
      return first
    default:
      return PLAIN[line.do]!(of)
  }
}

const PLAIN: Record<string, (of: Held[]) => Held> = {
  largest: (of) => gradients.largest(of),
  smallest: (of) => gradients.largest(of, -1),
  mean: gradients.mean,
  sum: gradients.add,
  spread: gradients.spread,
  difference: (of) => gradients.difference(of[0]!, of[1]!),
  distance: (of) => gradients.distance(of[0]!, of[1]!),
  product: (of) => gradients.product(of[0]!, of[1]!),
  cylinder_volume: (of) => gradients.cylinderVolume(of[0]!, of[1]!),
}
const ALONG: Record<string, (groups: Held[][]) => Held> = {
  largest_spread: gradients.largestSpread,
  largest_drop: gradients.largestDrop,
  middle_less_ends: gradients.middleLessEnds,
}

/** The grid in groups that differ only along an axis, groups and their members in grid order. */
function groups(procedure: Procedure, along: string, held: Map<string, Held>): Held[][] {
  const position = procedure.grid.findIndex((axis) => axis.axis === along)
  const heldByCode = new Map<string, Held[]>()
  for (const code of gridCodes(procedure)) {
    const rest = code.split('/').filter((_, i) => i !== position).join('/')
    heldByCode.set(rest, [...(heldByCode.get(rest) ?? []), held.get(code)!])
  }
  return [...heldByCode.values()]
}

function figure(line: FigureLine, held: Held, readings: string[]): Figure {
  const head = { code: line.code, words: line.words, kind: line.kind }
  if (isGap(held)) {
    const shown = showing(line.kind, held.typed, null, false, false)
    const unread = readings.filter((code) => held.missing.includes(code))
    const missing = [...unread, ...held.missing.filter((code) => !unread.includes(code))]
    return { ...head, amount: null, weights: {}, missing, ...shown, picked: [] }
  }
  const weighted = readings.filter((code) => held.weights.has(code))
  return {
    ...head,
    amount: held.amount,
    weights: Object.fromEntries(weighted.map((code) => [code, held.weights.get(code)!])),
    missing: [],
    ...showing(line.kind, held.typed, held.amount, held.finer, held.computed),
    picked: readings.filter((code) => held.picked.has(code)),
  }
}

/** Unit and decimals: those of the readings when they agree, else the usual ones of the kind. */
function showing(
  kind: string, typed: Typed[], amount: Fraction | null, finer: boolean, computed: boolean,
): { unit: string; places: number } {
  const same = typed.filter((typedAmount) => typedAmount.kind === kind)
  const read = same.filter((typedAmount) => typedAmount.reading)
  const units = new Set((read.length ? read : same).map((typedAmount) => typedAmount.unit))
  const unit = units.size === 1 ? [...units][0]! : usualUnit(kind)
  const usual = PLACES[unit] ?? 3
  const decimals = same.flatMap((typedAmount) => (typedAmount.unit === unit && typedAmount.places !== null ? [typedAmount.places] : []))
  let places = decimals.length ? Math.max(...decimals) : usual
  if (computed || same.some((typedAmount) => typedAmount.unit !== unit || typedAmount.places === null)) places = Math.max(places, usual)
  if (finer) places += 1
  if (computed && amount && amount.over !== 0n) {
    const shown = size(fromSi(amount, unit))
    // A share of 0.00072 shown as 0.001 would say nothing.
    while (places < MOST_PLACES && shown.over * 10n ** BigInt(places) < 10n * shown.under) places += 1
  }
  return { unit, places }
}

/** The lines of `across` over the places of an engine, in their order; places without a value are left out. */
export function across(procedure: Procedure, rows: AcrossRow[], rules: { compression_share: string }): Across[] {
  const kinds = new Map(procedure.figures.map((line) => [line.code, line.kind]))
  for (const code of readingCodes(procedure)) kinds.set(code, KIND_OF[quantityOf(procedure, code)]!)
  return procedure.across.map((line) => {
    const there = rows.flatMap((row) => {
      const amount = Object.hasOwn(row.values, line.of) ? row.values[line.of] : null
      return amount ? [{ row, place: row.place, amount }] : []
    })
    const kind = line.do === 'spread_share' ? 'share' : kinds.get(line.of)!
    const say = (amount: Fraction | null, places: string[], pairs: [string, string][] = []): Across => ({
      code: line.code, words: line.words, kind, amount, places, pairs,
    })
    if (!there.length) return say(null, [])
    const order = [...there].sort((a, b) => compare(a.amount, b.amount))
    const [low, high] = [order[0]!.amount, order.at(-1)!.amount]
    const at = (wanted: Fraction) => there.filter((value) => compare(value.amount, wanted) === 0).map((value) => value.place)
    const range = minus(high, low)
    const ends = range.over === 0n ? [] : [at(high)[0]!, at(low)[0]!]
    switch (line.do) {
      case 'highest':
        return say(high, at(high))
      case 'lowest':
        return say(low, at(low))
      case 'mean': {
        const sum = there.reduce((so, value) => plus(so, value.amount), NOTHING)
        return say(by(sum, fraction(BigInt(there.length))), [])
      }
      case 'spread':
        return say(range, ends)
      case 'spread_share':
        return high.over === 0n ? say(null, []) : say(by(range, high), ends)
      case 'ranking': {
        // Of pressures the lowest is the worst; of leaks, wear and clearances the highest.
        const worst = kind === 'pressure' ? order : [...there].sort((a, b) => compare(b.amount, a.amount))
        return say(worst[0]!.amount, worst.map((value) => value.place))
      }
    }
    const given = line.share === 'rule' ? `${rules.compression_share}/100` : line.share
    const bar = times(fractionOf(given), high)
    const under = there.filter((value) => compare(value.amount, bar) < 0).map((value) => value.row)
    if (line.do === 'under_share') return say(bar, under.map((row) => row.place))
    const pairs = under.flatMap((row) =>
      under
        .filter((other) => other.bank === row.bank && other.index - row.index === 1)
        .map((other): [string, string] => [row.place, other.place]),
    )
    const both = new Set(pairs.flat())
    return say(bar, under.map((row) => row.place).filter((place) => both.has(place)), pairs)
  })
}

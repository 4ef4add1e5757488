// A reading far from its neighbours asks 'again?' once. It forbids nothing. The twin of trade/sheets/odd_reading.py, where the
// thresholds are explained.

import { by, compare, largest, minus, negative, smallest, times, whole } from '../ground/amounts.ts'
import { orNull } from '../ground/errors.ts'
import { say } from '../ground/say.ts'
import type { Sheet } from './types.ts'
import { numberPart, written } from './words.ts'
import { decimalText, fraction, fromSi, read, toSi, UNITS, type Fraction } from '../ground/units.ts'

const LEAST: Record<string, Fraction> = {
  length: fraction(75n, 1_000_000n),
  share: fraction(1n, 4n),
  angle: fraction(2n),
}
const SMALL = fraction(5n, 1000n)
const FROM_NOMINAL = fraction(2n, 1000n)
const TWO = whole(2)

type There = Map<string, Map<string, Fraction>>

/**
 * The question to ask once about a reading that is about to be kept, "" when there is none. `amount` and `unit` as
 * typed; what cannot be read is not odd but wrong, and refused elsewhere.
 */
export function odd(sheet: Sheet, place: string, reading: string, amount: string, unit: string): string {
  const typed = orNull(() => read(amount, unit))
  if (!typed) return ''
  const kind = UNITS[typed.unit]!.kind
  const size = toSi(typed.amount, typed.unit)
  const there = amounts(sheet, kind)
  const again = there.get(place)?.get(reading)
  const beside = again ? [again] : neighbours(grid(sheet), there, place, reading)
  const near = beside.length ? nearest(size, kind, beside) : nominal(sheet, size, kind)
  if (!near) return ''

  const its = fromSi(near, typed.unit)
  const apart = positive(minus(typed.amount, its))
  let places = typed.places ?? 3
  // 0.4 and 0.04 to one decimal would read as 0.4 apart from 0.0.
  while (compare(fraction(4n, 10n ** BigInt(places)), apart) > 0) places += 1
  const [value, away, other] = [numberPart(amount), decimalText(apart, places), decimalText(its, places)].map((text) =>
    `${text} ${typed.unit}`.trimEnd(),
  ) as [string, string, string]
  if (again) return say('sheets.odd_before', { value, away, other })
  return say(beside.length ? 'sheets.odd_neighbour' : 'sheets.odd_nominal', { value, away, other })
}

/** Sets `odd` on every reading of a sheet that lies far from its neighbours. */
export function mark(sheet: Sheet): void {
  const byKind = new Map<string, There>()
  const inGrid = grid(sheet)
  for (const { place, readings } of sheet.places) {
    for (const [code, shown] of Object.entries(readings)) {
      if (shown.borrowed || shown.mean === '') continue
      const kind = UNITS[shown.unit]!.kind
      const there = byKind.get(kind) ?? amounts(sheet, kind)
      byKind.set(kind, there)
      const amount = there.get(place)!.get(code)!
      shown.odd = nearest(amount, kind, neighbours(inGrid, there, place, code)) !== null
    }
  }
}

/** The neighbour nearest to an amount that is far from all of them, null when it is not far. SI units. */
function nearest(amount: Fraction, kind: string, beside: Fraction[]): Fraction | null {
  if (beside.length === 0) return null
  const apartFrom = (mean: Fraction) => positive(minus(mean, amount))
  const near = beside.reduce((a, b) => {
    const closer = compare(apartFrom(b), apartFrom(a))
    return closer < 0 || (closer === 0 && compare(b, a) < 0) ? b : a
  })
  const apart = apartFrom(near)
  const half = by(positive(near), TWO)
  let least = LEAST[kind] ?? half
  if (kind === 'length' && compare(positive(near), SMALL) < 0) least = largest([least, half])
  if (beside.length > 1) least = largest([least, times(TWO, minus(largest(beside), smallest(beside)))])
  return apart.over > 0n && compare(apart, least) >= 0 ? near : null
}

function positive(number: Fraction): Fraction {
  return number.over < 0n ? negative(number) : number
}

/** The readings of one kind, in SI units, by place and reading; borrowed ones were not read here. */
function amounts(sheet: Sheet, kind: string): There {
  return new Map(
    sheet.places.map(({ place, readings }) => {
      const counted = Object.entries(readings).filter(
        ([, taken]) => !taken.borrowed && taken.mean !== '' && UNITS[taken.unit]!.kind === kind,
      )
      return [place, new Map(counted.map(([code, taken]) => [code, toSi(written(taken.mean).amount, taken.unit)]))]
    }),
  )
}

/** The other readings of the grid at this place; where there are none, the same reading at the other places. */
function neighbours(inGrid: Set<string>, there: There, place: string, reading: string): Fraction[] {
  if (inGrid.has(reading)) {
    const here = [...(there.get(place) ?? [])].filter(([code]) => code !== reading && inGrid.has(code))
    if (here.length) return here.map(([, amount]) => amount)
  }
  return [...there].flatMap(([code, readings]) => (code !== place && readings.get(reading)) || [])
}

function grid(sheet: Sheet): Set<string> {
  if (sheet.axes.length === 0) return new Set()
  return new Set(
    sheet.axes.reduce<string[]>(
      (codes, axis) => codes.flatMap((code) => axis.values.map((value) => (code ? `${code}/${value.code}` : value.code))),
      [''],
    ),
  )
}

function nominal(sheet: Sheet, size: Fraction, kind: string): Fraction | null {
  const known = sheet.sizes['nominal']
  if (!known || kind !== 'length' || UNITS[known.unit]?.kind !== kind) return null
  const amount = toSi(written(known.values[0]!).amount, known.unit)
  return compare(positive(minus(amount, size)), FROM_NOMINAL) > 0 ? amount : null
}

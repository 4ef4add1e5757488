// Wear: how much a figure changed between two visits of the same engine. The twin of trade/wear.py.

import { by, minus, times, whole } from '../ground/amounts.ts'
import { significant } from '../ground/exact.ts'
import type { Sheet, SheetFigure, Wear } from './types.ts'
import { written } from './words.ts'
import { convert, decimalText, fraction, UNITS, type Fraction } from '../ground/units.ts'

interface Distance {
  size: Fraction
  sort: 'km' | 'h'
  per: number
  words: string
}

// The mile is the international one: 1760 yards of 0.9144 m (1959).
const DISTANCES: Record<string, Distance> = {
  km: { size: fraction(1n), sort: 'km', per: 10000, words: '10 000 km' },
  mi: { size: fraction(1609344n, 1000000n), sort: 'km', per: 10000, words: '10 000 mi' },
  h: { size: fraction(1n), sort: 'h', per: 1000, words: '1000 h' },
}
const TYPED = /^(?<number>[0-9][0-9 \u00a0\u202f.,']*)(?<unit>km|mi|h)$/
const GROUPED = /^[0-9]{1,3}(?:[ \u00a0\u202f.,'][0-9]{3})+$/

const ONE_AT_20 = ' (only one visit as at 20 °C)'

/**
 * The change of each figure that both sheets of one procedure have, place by place, in the order of the later one.
 * The words say when only one of the two was brought to 20 °C: then what the part grew counts as wear.
 * Distances as in the job: "182400 km", "4180 h", "" when unknown; `per` is "" unless both are known, of one sort, and
 * the later is larger.
 */
export function wear(now: Sheet, distanceNow: string, then: Sheet, distanceThen: string): Wear[] {
  const between = covered(distanceNow, distanceThen)
  const earlier = new Map<string, SheetFigure>()
  for (const { place, figures } of then.places) {
    for (const one of figures) if (one.value !== null) earlier.set(`${place} ${one.code}`, one)
  }
  return now.places.flatMap(({ place, figures }) =>
    figures.flatMap((one) => {
      const was = earlier.get(`${place} ${one.code}`)
      if (one.value === null || !was || kind(one) !== kind(was)) return []
      // Another edition may mean another thing by the same name.
      if (one.definition !== was.definition) return []
      const value = written(one.value)
      const change = minus(value.amount, convert(written(was.value!).amount, was.unit, one.unit))
      const text = decimalText(change, value.places ?? 0)
      return {
        place,
        figure: one.code,
        words: one.words + (one.corrected === was.corrected ? '' : ONE_AT_20),
        change: text.startsWith('-') || !/[1-9]/.test(text) ? text : `+${text}`,
        unit: one.unit,
        per: between ? significant(times(by(change, between.amount), whole(between.per)), 2) : '',
        per_words: between?.words ?? '',
      }
    }),
  )
}

function kind(figure: SheetFigure): string {
  return UNITS[figure.unit]!.kind
}

/** The distance between two visits in the unit of the later, per how many of it wear is given, and that in words. */
function covered(now: string, then: string): { amount: Fraction; per: number; words: string } | null {
  const [later, earlier] = [distance(now), distance(then)]
  if (!later || !earlier || later.in.sort !== earlier.in.sort) return null
  const amount = minus(later.amount, by(times(earlier.amount, earlier.in.size), later.in.size))
  return amount.over > 0n ? { amount, per: later.in.per, words: later.in.words } : null
}

function distance(text: string): { amount: Fraction; in: Distance } | null {
  const found = TYPED.exec(text.trim())?.groups
  if (!found) return null
  const number = found['number']!.trim()
  const unit = DISTANCES[found['unit']!]!
  if (GROUPED.test(number)) return { amount: fraction(BigInt(number.replace(/[^0-9]/g, ''))), in: unit }
  const plain = /^([0-9]{1,9})(?:[.,]([0-9]{1,3}))?$/.exec(number)
  if (!plain) return null
  const decimals = plain[2] ?? ''
  return { amount: fraction(BigInt(plain[1]! + decimals), 10n ** BigInt(decimals.length)), in: unit }
}

// Limits and fits after ISO 286: from a code such as `20 H7/p6` to limits of size and to the kind of fit.
// Amounts are exact fractions in metres; the tables and what they are worth: data/iso286.json.

import table from '../../../../server/witnessmark/trade/data/iso286.json'
import { by, compare, largest, minus, negative, NOTHING, plus, smallest, times, whole } from '../ground/amounts.ts'
import { Refusal } from '../ground/errors.ts'
import { say } from '../ground/say.ts'
import { convert, decimalText, type Fraction, fraction, read, toSi, UNITS } from '../ground/units.ts'

const LETTERS = [...'abcdefgh', 'js', ...'kmnprstux']
const GRADES = [5, 6, 7, 8, 9, 10, 11, 12, 13]
export const USUAL: { code: string; words: string }[] = table.usual
export const USUAL_SOURCE: string = table.usual_source

const [LEAST, MOST] = [1, table.main.at(-1)!] // mm
const MICRON = fraction(1n, 1_000_000n)
const LONGEST = 60 // characters of a code

const CLASS = '(?:[A-Z]{1,2}|[a-z]{1,2})[0-9]{1,2}'
const WRITTEN = new RegExp(
  `^\\s*[Øø⌀]?\\s*(?<size>[^Øø⌀]*?)\\s*(?<first>${CLASS})(?:\\s*[/\\-\\s]\\s*(?<second>${CLASS}))?\\s*$`,
  'u',
)

/** One tolerance zone at one nominal size: `code` as `H7`, deviations and sizes in metres. */
export interface Limits {
  code: string
  hole: boolean
  nominal: Fraction
  upper: Fraction
  lower: Fraction
  largest: Fraction
  smallest: Fraction
}

/** What was typed: the nominal size in metres and as text (`20 mm`), and the zones, '' where one is not given. */
export interface Code {
  nominal: Fraction
  size: string
  hole: string
  shaft: string
}

/**
 * `least` and `greatest` clearance in metres, below zero where parts interfere. A clearance or interference of exactly
 * nothing still counts as one (ISO 286-1:2010, 3.3, from memory).
 */
export interface Fit {
  kind: 'clearance' | 'transition' | 'interference'
  least: Fraction
  greatest: Fraction
}

const refuse = (message: string): never => {
  throw new Refusal('bad_value', 'code', message)
}
const small = (text: string) => text[0]! >= 'a'

/**
 * Reads `20 H7/p6`, `20H7`, `Ø50 H8/f7`, `12,5 g6`, `2 in H7/s6`; millimetres unless a unit is written. Throws Refusal
 * for anything else.
 */
export function readCode(text: string): Code {
  const plain = text.trim().split(/\s+/).join(' ')
  // Nobody writes a longer one, and the pattern takes long over what is none.
  const groups = plain.length <= LONGEST ? WRITTEN.exec(plain)?.groups : undefined
  if (!groups?.['size']) return refuse(say('proposals.no_size', { text: plain.slice(0, 40) }))
  const reading = read(groups['size'])
  const unit = reading.unit || 'mm'
  if (UNITS[unit]!.kind !== 'length') refuse(say('proposals.no_length', { unit }))
  const [first, second] = [groups['first']!, groups['second'] ?? '']
  if (second && (small(first) || !small(second))) {
    refuse(say('proposals.hole_first'))
  }
  const [hole, shaft] = small(first) ? ['', first] : [first, second]
  const bare = groups['size'].replaceAll('\u2212', '-')
  return { nominal: toSi(reading.amount, unit), size: reading.unit ? bare : `${bare} mm`, hole, shaft }
}

/** The zone `code` at a nominal size in metres. Throws Refusal for a size, letter or grade not in the tables. */
export function limits(nominal: Fraction, code: string): Limits {
  const size = times(nominal, whole(1000))
  if (compare(size, whole(LEAST)) < 0 || compare(size, whole(MOST)) > 0) {
    refuse(say('proposals.outside_tables', { size: decimalText(size, 3), least: LEAST, most: MOST }))
  }
  const match = /^([A-Z]{1,2}|[a-z]{1,2})([0-9]{1,2})$/.exec(code)
  if (!match) return refuse(say('proposals.no_class', { text: code.slice(0, 20) }))
  const [letter, grade, hole] = [match[1]!.toLowerCase(), Number(match[2]), !small(match[1]!)]
  if (!LETTERS.includes(letter)) {
    const known = LETTERS.map((symbol) => (hole ? symbol.toUpperCase() : symbol)).join(', ')
    refuse(say('proposals.no_letter', { letter: match[1]!, known }))
  }
  if (!GRADES.includes(grade)) {
    refuse(say('proposals.no_grade', { grade, first: GRADES[0]!, last: GRADES.at(-1)! }))
  }
  const [high, low] = (hole ? ofHole : ofShaft)(size, letter, grade)
  const [upper, lower] = [times(high, MICRON), times(low, MICRON)]
  return { code, hole, nominal, upper, lower, largest: plus(nominal, upper), smallest: plus(nominal, lower) }
}

/** The fit of a hole with a shaft. */
export function fit(hole: Limits, shaft: Limits): Fit {
  const [least, greatest] = [minus(hole.smallest, shaft.largest), minus(hole.largest, shaft.smallest)]
  return { kind: least.over >= 0n ? 'clearance' : greatest.over <= 0n ? 'interference' : 'transition', least, greatest }
}

/** The fit of two measured sizes in metres, taken as they are: what the gauges leave open is the caller's to add. */
export function actual(hole: Fraction, shaft: Fraction): Fit {
  const clearance = minus(hole, shaft)
  return { kind: clearance.over >= 0n ? 'clearance' : 'interference', least: clearance, greatest: clearance }
}

/** By how much a measured size lies outside its limits: above as a positive, below as a negative amount, else 0. */
export function beyond(size: Fraction, zone: Limits): Fraction {
  return plus(largest([minus(size, zone.largest), NOTHING]), smallest([minus(size, zone.smallest), NOTHING]))
}

/** An amount in metres as micrometres, with the decimal that half a grade may need: `+7`, `-6.5`, `0`. */
export function microns(amount: Fraction, sign = false): string {
  const value = convert(amount, 'm', 'um')
  const shown = decimalText(value, value.under === 1n ? 0 : 1)
  return sign && value.over > 0n ? `+${shown}` : shown
}

function gradeOf(size: Fraction, grade: number): Fraction {
  return whole((table.grades as Record<string, number[]>)[grade]![step(size, table.main)]!)
}

function step(size: Fraction, steps: number[]): number {
  return steps.findIndex((top) => compare(size, whole(top)) <= 0)
}

function fundamental(size: Fraction, letter: string, written: string): Fraction {
  const row = (table.fundamental as Record<string, (number | null)[]>)[letter]!
  const deviation = row[step(size, row.length === table.main.length ? table.main : table.fine)]!
  if (deviation === null) {
    return refuse(say('proposals.no_deviation', { letter: written, size: decimalText(size, 3) }))
  }
  return whole(deviation)
}

type Pair = [upper: Fraction, lower: Fraction]

function ofShaft(size: Fraction, letter: string, grade: number): Pair {
  const it = gradeOf(size, grade)
  if (letter === 'js') return [by(it, whole(2)), negative(by(it, whole(2)))]
  const start = fundamental(size, letter, letter)
  if (letter <= 'h') return [start, minus(start, it)]
  const low = letter === 'k' && grade > 7 ? NOTHING : start
  return [plus(low, it), low]
}

function ofHole(size: Fraction, letter: string, grade: number): Pair {
  const it = gradeOf(size, grade)
  if (letter === 'js') return [by(it, whole(2)), negative(by(it, whole(2)))]
  const start = fundamental(size, letter, letter.toUpperCase())
  if (letter <= 'h') return [minus(it, start), negative(start)]
  const upper = upperOfTightHole(size, letter, grade, start)
  return [upper, minus(upper, it)]
}

// Holes K to X: the shaft's deviation turned round, plus the step between this grade and the finer one, so that H7/p6
// and P7/h6 give the same fit. For K, M, N up to grade 8, from P on up to grade 7, above 3 mm.
function upperOfTightHole(size: Fraction, letter: string, grade: number, start: Fraction): Fraction {
  const smallestStep = compare(size, whole(table.main[0]!)) <= 0
  if (letter === 'k' && grade > 8 && !smallestStep) {
    refuse(say('proposals.no_k', { grade }))
  }
  if (letter === 'n' && grade > 8 && !smallestStep) return NOTHING
  // The one cell the standard sets by hand (ISO 286-1:2010, note to the table of holes, from memory).
  const byHand = letter === 'm' && grade === 6 && compare(size, whole(250)) > 0 && compare(size, whole(315)) <= 0
  if (byHand) return whole(-9)
  if (smallestStep || grade > ('kmn'.includes(letter) ? 8 : 7)) return negative(start)
  return plus(negative(start), minus(gradeOf(size, grade), gradeOf(size, grade - 1)))
}

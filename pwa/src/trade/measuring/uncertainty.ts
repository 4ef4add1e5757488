// The uncertainty of a figure, from the gauges and readings that it comes from, as a budget that a person can read.
// The twin of trade/measuring/uncertainty.py, which says what every source gives and why.

import coverage from '../../../../server/witnessmark/trade/data/coverage.json'
import materials from '../../../../server/witnessmark/trade/data/materials.json'
import { by, compare, exactText, largest, minus, NOTHING, plus, square, times, whole } from '../ground/amounts.ts'
import { exact } from '../ground/described.ts'
import { significant, sqrt } from '../ground/exact.ts'
import { say } from '../ground/say.ts'
import type { GaugeInSi } from './gauges.ts'
import { MATERIALS } from './limits.ts'
import type { Rules } from './rules.ts'
import { type Fraction, fraction, toSi, UNITS } from '../ground/units.ts'

export type Column = 'k' | 'one_95' | 'two_95'
export type Factors = Record<Column, Fraction>

/** How one reading came about; temperatures in °C, `alpha` per kelvin, null when not taken or not known. */
export interface Made {
  code: string
  amounts: Fraction[]
  gauge: GaugeInSi | null
  gaugeName: string
  partC: Fraction | null
  gaugeC: Fraction | null
  alpha: Fraction | null
  /** For sentences; made from `code` and the gauge when empty. */
  words?: string
  unit?: string
  /** Not to be brought to 20 °C although it could: others that go into the same figures cannot. */
  asRead?: boolean
}

/** What one source gives: its variance in the figure and its degrees of freedom, null for as many as you like. */
export interface Share {
  source: string
  words: string
  variance: Fraction
  freedom: number | null
  /** The gauge it belongs to, "" for none. */
  gauge: string
}

export interface Line {
  source: string
  words: string
  variance: Fraction
  share: Fraction
}

export interface Budget {
  /** null when a source is unknown: `unknown` says which. */
  variance: Fraction | null
  /** null for infinite. */
  dof: number | null
  k: Fraction
  lines: Line[]
  unknown: string[]
}

const MILLION = fraction(1_000_000n)
const ONE = fraction(1n)
const sum = (all: Fraction[]) => all.reduce(plus, NOTHING)

const REFERENCE = fraction(20n) // °C, at which sizes hold (ISO 1)
const GAUGE_EXPANSION = by(exact(materials.gauge.alpha), MILLION)
// A shorter length grows too little, in a workshop, for its temperature to be worth a word.
const SHORT = fraction(10n, 1000n)

const factors = (row: string[]): Factors => ({ k: exact(row[0]!), one_95: exact(row[1]!), two_95: exact(row[2]!) })

export const INFINITE: Factors = factors(coverage.infinite)
/** Degrees of freedom and their factors, the fewest first. */
export const ROWS = coverage.rows.map(([freedom, ...row]): [number, Factors] => [
  Number(freedom),
  factors(row.map(String)),
])

/** What a budget calls its sources. */
export const SOURCES: Record<string, string> = {
  scatter: say('measuring.source_scatter'),
  repeatability: say('measuring.source_repeatability'),
  resolution: say('measuring.source_resolution'),
  'permissible error': say('measuring.source_error'),
  temperature: say('measuring.source_temperature'),
}

/** From here on more degrees of freedom change no digit that counts. */
const MOST_FREEDOM = ROWS.at(-1)![0]

/** The budget of a figure from its partial derivatives by the readings, and the readings by the same names. */
export function combine(weights: Record<string, Fraction>, made: Record<string, Made>, rules: Rules): Budget {
  const unknown = unknowns(weights, made)
  if (unknown.length) return { variance: null, dof: null, k: factor(null), lines: [], unknown }
  const budget = shares(weights, made, rules)
  const [variance, dof] = total(budget)
  const lines = budget.map((share) => ({
    source: share.source,
    words: share.words,
    variance: share.variance,
    share: variance.over ? by(share.variance, variance) : NOTHING,
  }))
  lines.sort((a, b) => compare(b.variance, a.variance))
  return { variance, dof, k: factor(dof), lines, unknown: [] }
}

/** The factor for so many degrees of freedom, those of the row below between two rows. */
export function factor(dof: number | null, column: Column = 'k'): Fraction {
  return dof === null ? INFINITE[column] : ROWS.findLast(([freedom]) => freedom <= dof)![1][column]
}

/** The variance of all shares and their effective degrees of freedom, cut to a whole number, at most MOST_FREEDOM. */
export function total(budget: Share[]): [Fraction, number | null] {
  const variance = sum(budget.map((share) => share.variance))
  const spread = spreadOf(budget)
  if (!spread.over) return [variance, null]
  const freedom = by(square(variance), spread)
  return [variance, Math.min(Number(freedom.over / freedom.under), MOST_FREEDOM)]
}

/** Degrees of freedom in words: "∞", "5", "10000 or more". */
export const freedomText = (dof: number | null): string =>
  dof === null ? '∞' : dof === MOST_FREEDOM ? say('measuring.freedom_or_more', { freedom: String(dof) }) : String(dof)

/** What the squared variances of few degrees of freedom come to: 0 when there are none. */
export const spreadOf = (budget: Share[]): Fraction =>
  sum(budget.map((share) => (share.freedom === null ? NOTHING : by(square(share.variance), whole(share.freedom)))))

export const mean = (made: Made): Fraction => by(sum(made.amounts), whole(made.amounts.length))

/** The square of the standard deviation of single readings; 0 for fewer than two. */
export function scatter(made: Made): Fraction {
  const [middle, n] = [mean(made), made.amounts.length]
  return n > 1 ? by(sum(made.amounts.map((amount) => square(minus(amount, middle)))), whole(n - 1)) : NOTHING
}

/** The coefficient of expansion of a material, per kelvin; null for another. */
export function expansion(material: string): Fraction | null {
  return Object.hasOwn(MATERIALS, material) ? by(exact(MATERIALS[material]!.alpha), MILLION) : null
}

/**
 * The mean of the repeats as it would be at 20 °C. Corrected only where it is a length and the temperatures of part
 * and gauge and the material are known: part of them would be a guess at the rest. The gauge is taken to be steel.
 */
export function corrected(made: Made, _rules: Rules): Fraction {
  const { partC, gaugeC, alpha } = made
  if (!atReference(made) || !partC || !gaugeC || !alpha) return mean(made)
  const gauge = plus(ONE, times(GAUGE_EXPANSION, minus(gaugeC, REFERENCE)))
  return by(times(mean(made), gauge), plus(ONE, times(alpha, minus(partC, REFERENCE))))
}

/** Whether a reading is brought to 20 °C. */
export function atReference(made: Made): boolean {
  return !made.asRead && canCorrect(made) && made.partC !== null && made.gaugeC !== null && made.alpha !== null
}

/** Whether a reading is a length that grows enough for its temperature to matter. */
export const isLong = (made: Made): boolean => canCorrect(made) && !small(mean(made))

/** The gauge of a reading for which `unknowns` had nothing to say. */
export const gaugeOf = (made: Made): GaugeInSi => made.gauge!

export const readingWords = (made: Made): string =>
  made.words || made.code.split(':').at(-1)!.replaceAll('/', ', ')

/** A width (an error, a scatter) in SI as two digits that count, with the unit. */
export const widthText = (width: Fraction, unit: string, show = significant): string =>
  `${show(by(width, step(unit)), 2)} ${unit}`.trimEnd()

/** The permissible error of a gauge: "± 0.003 mm". */
export const errorText = (gauge: GaugeInSi): string =>
  `± ${exactText(by(gauge.mpe, step(gauge.unit)))} ${gauge.unit}`.trimEnd()

/** Why the uncertainty cannot be known, a sentence for each gauge; none when it can. */
export function unknowns(weights: Record<string, Fraction>, made: Record<string, Made>): string[] {
  const alike = new Map<string, Made[]>()
  for (const [name, weight] of Object.entries(weights)) {
    const reason = weight.over ? unknown(made[name]!, '') : ''
    if (reason) alike.set(reason, [...(alike.get(reason) ?? []), made[name]!])
  }
  return [...alike.values()].map((those) => unknown(those[0]!, those.map(readingWords).join('; ')))
}

/** Why the error of a reading is not known, said of these points; "" when it is known. */
function unknown(made: Made, points: string): string {
  const { gauge, gaugeName, unit } = made
  if (!gauge && gaugeName) return say('measuring.not_registered', { gauge: gaugeName, points })
  if (!gauge) return say('measuring.no_gauge_named', { points })
  const wanted = unit ? UNITS[unit]!.kind : gauge.kind
  if (wanted === gauge.kind) return ''
  return say('measuring.gauge_of_other_kind', { gauge: gauge.name, kind: gauge.kind, wanted, points })
}

type Weighted = [weight: Fraction, made: Made]

/**
 * Every share in the variance of a figure whose gauges are all known: repeats, then resolution and permissible error by
 * gauge, then temperature.
 */
export function shares(weights: Record<string, Fraction>, made: Record<string, Made>, rules: Rules): Share[] {
  const counting = Object.entries(weights).filter(([, weight]) => weight.over)
  const taken = counting.map(([name, weight]): Weighted => [weight, made[name]!])
  const budget: Share[] = []
  const gauges = new Map<string, GaugeInSi>()
  const [resolution, repeatability, errors] = [lists(), lists(), lists()]
  const unstudied = new Set<string>()
  for (const [weight, number] of taken) {
    const gauge = gaugeOf(number)
    gauges.set(gauge.id, gauge)
    errors.add(gauge.id, times(weight, gauge.mpe))
    const [n, floor] = [number.amounts.length, by(square(gauge.resolution), whole(12))]
    const studied = square(gauge.repeatability ?? NOTHING)
    if (n === 1 && gauge.repeatability === null) unstudied.add(gauge.name)
    if (n > 1 && compare(by(scatter(number), whole(n)), floor) > 0) budget.push(scattered(weight, number))
    else if (n === 1 && compare(studied, floor) > 0) repeatability.add(gauge.id, times(square(weight), studied))
    else resolution.add(gauge.id, times(square(weight), floor))
  }
  for (const [id, gauge] of gauges) {
    const add = (source: string, words: string, variance: Fraction) =>
      budget.push({ source, words, variance, freedom: null, gauge: id })
    if (repeatability.has(id)) {
      const width = widthText(gauge.repeatability ?? NOTHING, gauge.unit)
      const words = say('measuring.share_repeatability', { gauge: gauge.name, width })
      add('repeatability', words, sum(repeatability.of(id)))
    }
    if (resolution.has(id)) {
      const finest = `${exactText(by(gauge.resolution, step(gauge.unit)))} ${gauge.unit}`.trimEnd()
      add('resolution', say('measuring.share_resolution', { gauge: gauge.name, step: finest }), sum(resolution.of(id)))
    }
    if (gauge.mpe.over) {
      const words = say('measuring.share_error', { gauge: gauge.name, error: errorText(gauge) })
      add('permissible error', words, rectangular(errors.of(id)))
    }
  }
  return [...budget, ...unseen([...unstudied]), ...temperature(taken, rules)]
}

/** Single readings show no scatter: where the gauge's was not studied either, the budget says what it leaves out. */
function unseen(gauges: string[]): Share[] {
  if (!gauges.length) return []
  const words = say('measuring.share_unstudied', { gauges: gauges.join(', ') })
  return [{ source: 'scatter', words, variance: NOTHING, freedom: null, gauge: '' }]
}

function lists() {
  const all = new Map<string, Fraction[]>()
  return {
    has: (id: string) => all.has(id),
    of: (id: string) => all.get(id) ?? [],
    add: (id: string, variance: Fraction) => all.set(id, [...(all.get(id) ?? []), variance]),
  }
}

function scattered(weight: Fraction, number: Made): Share {
  const [n, s2] = [number.amounts.length, scatter(number)]
  const shown = widthText(sqrt(s2), number.unit || gaugeOf(number).unit)
  const words = say('measuring.share_scatter', { readings: n, point: readingWords(number), scatter: shown })
  const variance = by(times(square(weight), s2), whole(n))
  return { source: 'scatter', words, variance, freedom: n - 1, gauge: '' }
}

/** The variance of half widths that are all alike or each for itself, whichever is more. */
const rectangular = (widths: Fraction[]): Fraction =>
  by(largest([square(sum(widths)), sum(widths.map(square))]), whole(3))

function temperature(taken: Weighted[], rules: Rules): Share[] {
  const known = taken.filter(([, number]) => atReference(number))
  const left = taken.map(([, number]) => number).filter((number) => isLong(number) && !atReference(number))
  const budget: Share[] = []
  const add = (words: string, variance: Fraction) =>
    budget.push({ source: 'temperature', words, variance, freedom: null, gauge: '' })
  if (known.length) {
    const [kelvin, perCent] = [rules.temperature_half_width, rules.expansion_half_width]
    const variance = warmth(known, exact(kelvin), by(exact(perCent), whole(100)))
    add(say('measuring.share_temperature', { kelvin, percent: perCent }), variance)
  }
  if (left.length) add(notCorrected(left), NOTHING)
  return budget
}

const small = (length: Fraction) => compare(length.over < 0n ? minus(NOTHING, length) : length, SHORT) < 0

function notCorrected(left: Made[]): string {
  if (left.some((number) => number.asRead)) return say('measuring.as_read_not_all')
  const temperatures = left.flatMap((number) => [number.partC, number.gaugeC])
  if (!temperatures.includes(null)) return say('measuring.as_read_material')
  const none = temperatures.every((temperature) => temperature === null)
  return say(none ? 'measuring.as_read_not_taken' : 'measuring.as_read_not_both')
}

/** Four sources: the temperatures of parts and gauges, the expansion of each material and of the gauges. */
function warmth(known: Weighted[], kelvin: Fraction, share: Fraction): Fraction {
  const [parts, gauges, steel]: [Fraction[], Fraction[], Fraction[]] = [[], [], []]
  const metals = new Map<string, Fraction[]>()
  for (const [weight, number] of known) {
    const length = times(weight, mean(number))
    const [byPart, byGauge] = [times(length, number.alpha!), times(length, GAUGE_EXPANSION)]
    parts.push(times(byPart, kelvin))
    gauges.push(times(byGauge, kelvin))
    steel.push(times(times(byGauge, share), minus(number.gaugeC!, REFERENCE)))
    const metal = `${number.alpha!.over}/${number.alpha!.under}`
    metals.set(metal, [...(metals.get(metal) ?? []), times(times(byPart, share), minus(number.partC!, REFERENCE))])
  }
  return sum([parts, gauges, steel, ...metals.values()].map(rectangular))
}

function canCorrect(made: Made): boolean {
  return (made.unit ? UNITS[made.unit]!.kind : made.gauge?.kind) === 'length'
}

/** One step of a unit in SI, without its offset. */
export const step = (unit: string): Fraction => minus(toSi(ONE, unit), toSi(NOTHING, unit))

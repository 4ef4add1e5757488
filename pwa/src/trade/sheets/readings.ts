// Readings of a job as a sheet takes them: repeats together, what cannot be counted with kept aside but in sight.
// The twin of trade/sheets/readings.py.

import { by, compare, minus, NOTHING, plus, square, whole } from '../ground/amounts.ts'
import { orNull } from '../ground/errors.ts'
import type { Input } from '../measuring/figures.ts'
import { inSi, overdue, type Gauge, type GaugeInSi } from '../measuring/gauges.ts'
import { gaugeOf, rulesOf, type Known } from '../measuring/known.ts'
import type { MeasuredBody, ReadingIn, Taken as ShownReading, TakenValue } from './types.ts'
import { byText, kindOf, numberPart, spreadText, usualPlaces } from './words.ts'
import { corrected, expansion, type Made } from '../measuring/uncertainty.ts'
import { convert, decimalText, fromSi, read, readQuantity, toSi, type Fraction } from '../ground/units.ts'

/** One standing reading. `amount` is in SI, null when it cannot be counted with: no number, or of another kind. */
export interface SingleReading {
  given: ReadingIn
  body: MeasuredBody
  text: string
  unit: string
  amount: Fraction | null
  places: number | null
  gauge: Gauge | null
  overdue: boolean
}

type Counted = SingleReading & { amount: Fraction }

/** All standing readings of one thing at one place, in the order of their identifiers. */
export interface Taken {
  code: string
  values: SingleReading[]
  made: Made | null
  input: Input | null
}

const counted = (reading: SingleReading): reading is Counted => reading.amount !== null
const placesOf = (reading: SingleReading) => reading.places ?? usualPlaces(reading.unit)
const meanOf = (all: Fraction[]) => by(all.reduce(plus, NOTHING), whole(all.length))

/**
 * The repeats of one reading. `kind` is what its procedure wants ("" for any), `material` what the engine type says where
 * the reading does not; with `asRead` nothing is brought to 20 °C.
 */
export function take(
  code: string,
  words: string,
  kind: string,
  readings: ReadingIn[],
  known: Known,
  material: string,
  asRead: boolean,
): Taken {
  const inOrder = [...readings].sort((a, b) => byText(a.id, b.id))
  const values = inOrder.map((given) => singleReading(given, kind, known))
  const good = values.filter(counted)
  if (good.length === 0) return { code, values, made: null, input: null }
  const first = good[0]!
  const made = madeOf(code, words, good, material, asRead)
  const same = good.every((each) => each.unit === first.unit)
  const places = good.length === 1 ? first.places : Math.max(...good.map(placesOf)) + 1
  const amount = corrected(made, rulesOf(known))
  return { code, values, made, input: { amount, unit: first.unit, places: same ? places : null } }
}

const SIZES = new WeakMap<Gauge, GaugeInSi>()

/** A gauge's numbers in SI, worked out once: all readings of a sheet come from a few gauges. */
function sizeOf(gauge: Gauge): GaugeInSi {
  const gaugeInSi = SIZES.get(gauge) ?? inSi(gauge)
  SIZES.set(gauge, gaugeInSi)
  return gaugeInSi
}

function singleReading(given: ReadingIn, kind: string, known: Known): SingleReading {
  const body = given.body as unknown as MeasuredBody
  const gauge = gaugeOf(known, body.basis ?? [], body.gauge_id ?? '', given.claimed)
  const about = { given, body, gauge, overdue: gauge !== null && overdue(gauge, given.claimed) }
  const typed = orNull(() => readQuantity(body.quantity, body.value, body.unit))
  if (!typed) return { ...about, text: body.value.trim(), unit: body.unit, amount: null, places: null }
  const amount = kind === '' || kind === kindOf(typed.unit) ? toSi(typed.amount, typed.unit) : null
  return { ...about, text: numberPart(body.value), unit: typed.unit, amount, places: typed.places }
}

function madeOf(code: string, words: string, good: Counted[], material: string, asRead: boolean): Made {
  const { body } = good.at(-1)!
  const gauge = coarsest(good)
  return {
    code,
    amounts: good.map((each) => each.amount),
    gauge: gauge && sizeOf(gauge),
    gaugeName: gauge?.name ?? body.gauge ?? '',
    partC: temperature(good, 'part_temperature'),
    gaugeC: temperature(good, 'gauge_temperature'),
    alpha: expansion(body.material || material),
    words,
    unit: good[0]!.unit,
    asRead,
  }
}

/**
 * The gauge that answers for the repeats: of several the one with the largest permissible error, and none when one of
 * them was read with a gauge that nobody knows.
 */
function coarsest(good: Counted[]): Gauge | null {
  const gauges = good.map((each) => each.gauge)
  if (gauges.some((gauge) => gauge === null)) return null
  if (gauges.every((gauge) => gauge === gauges[0])) return gauges[0]!
  return (gauges as Gauge[]).reduce((a, b) => {
    const larger = compare(sizeOf(b).mpe, sizeOf(a).mpe)
    return larger > 0 || (larger === 0 && byText(b.id, a.id) > 0) ? b : a
  })
}

/** In °C, the mean over the repeats; null unless it was taken each time. */
function temperature(good: Counted[], name: 'part_temperature' | 'gauge_temperature'): Fraction | null {
  if (good.some(({ body }) => !body[name])) return null
  const typed = orNull(() => good.map(({ body }) => read(body[name] ?? '')))
  return typed && meanOf(typed.map(({ amount, unit }) => convert(amount, unit || '°C', '°C')))
}

/** The readings as a sheet shows them: each as typed; the mean of repeats with one digit more. */
export function shown(taken: Taken): ShownReading {
  const good = taken.values.filter(counted)
  let [mean, unit, scatter] = ['', taken.values[0]!.unit, '']
  if (good.length) unit = good[0]!.unit
  if (good.length === 1) mean = good[0]!.text
  else if (good.length) {
    const middle = meanOf(good.map((each) => each.amount))
    mean = decimalText(fromSi(middle, unit), Math.max(...good.map(placesOf)) + 1)
    const squares = good.map((each) => square(minus(each.amount, middle))).reduce(plus, NOTHING)
    scatter = spreadText(by(squares, whole(good.length - 1)), unit)
  }
  return { mean, unit, n: good.length, scatter, values: taken.values.map(value), odd: false, borrowed: null }
}

function value(each: SingleReading): TakenValue {
  const { given, body, gauge } = each
  return {
    id: given.id,
    exhibit: given.exhibit,
    value: each.text,
    unit: each.unit,
    gauge: body.gauge || (gauge?.name ?? ''),
    gauge_id: body.gauge_id ?? '',
    overdue: each.overdue,
    claimed: given.claimed,
  }
}

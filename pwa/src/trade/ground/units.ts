// Typed values and their units: the twin of trade/ground/units.py. What was typed stays as it was typed; beside it stands the
// exact number, as a fraction of two whole numbers of any length.

import table from '../../../../server/witnessmark/trade/data/quantities.json'
import { Refusal } from './errors.ts'
import { say } from './say.ts'

export interface Fraction {
  over: bigint
  /** Always above zero, no common divisor with `over`. */
  under: bigint
}

export interface Unit {
  kind: string
  words: string
  scale: string[]
  offset?: string[]
  /** Decimals shown where nobody typed any. */
  places: number
  /** Stands right behind the figure, without a space. */
  close?: boolean
  /** Typed spellings; then what people call it, the usual name first. */
  also: string[]
  said: string[]
  /** How often it is heard in a workshop: often, sometimes or seldom. */
  heard: string
  /** How recognisers write it behind a figure. */
  written: string[]
}

export interface Quantity {
  code: string
  words: string
  kind: string
  units: string[]
  parts: string[]
}

/** `text` exactly as typed, `amount` its exact number in `unit`, `places` decimals typed (null for a vulgar fraction). */
export interface Reading {
  text: string
  amount: Fraction
  unit: string
  places: number | null
}

export const UNITS: Record<string, Unit> = table.units
export const QUANTITIES: Quantity[] = table.quantities

const TYPED = new RegExp(
  '^(?<sign>[+\\-\\u2212]?)\\s*' +
    '(?:(?:(?<whole>[0-9]{1,9})\\s+)?(?<over>[0-9]{1,6})/(?<under>[0-9]{1,6})' +
    '|(?<number>[0-9]{1,15}(?:[.,][0-9]{1,15})?|[.,][0-9]{1,15}))' +
    '\\s*(?<unit>[^0-9\\s.,+\\-/][^0-9]{0,18}[^\\s]?|)$',
  'u',
)


export function fraction(over: bigint, under: bigint = 1n): Fraction {
  const common = divisor(over < 0n ? -over : over, under < 0n ? -under : under)
  const sign = under < 0n ? -1n : 1n
  return { over: (sign * over) / common, under: (sign * under) / common }
}

const SAFE = BigInt(Number.MAX_SAFE_INTEGER)

/** The greatest common divisor of two numbers not below zero; plain numbers, where they suffice, are far quicker. */
function divisor(a: bigint, b: bigint): bigint {
  while (b > SAFE) [a, b] = [b, a % b]
  if (b === 0n) return a
  let [x, y] = [Number(b), Number(a % b)]
  while (y) [x, y] = [y, x % y]
  return BigInt(x)
}

const times = (a: Fraction, b: Fraction) => fraction(a.over * b.over, a.under * b.under)
const plus = (a: Fraction, b: Fraction) => fraction(a.over * b.under + b.over * a.under, a.under * b.under)
const rational = (pair: string[]) => fraction(BigInt(pair[0]!), BigInt(pair[1]!))

function spellings(): Map<string, string> {
  const exact = Object.entries(UNITS).flatMap(([code, unit]) => [code, ...unit.also].map((spelling) => [spelling, code] as const))
  const real = exact.filter(([spelling]) => spelling !== '')
  // Exact spelling first, so that Pa and pA stay two things; then small letters for those who shout.
  return new Map([...real.map(([spelling, code]) => [spelling.toLowerCase(), code] as const), ...real])
}

const SPELLINGS = spellings()

/** The unit somebody wrote ("Nm", "lb ft", "deg C") by its code. Throws Refusal for an unknown one. */
function unitCode(typed: string): string {
  const bare = typed.trim().split(/\s+/).join(' ')
  if (bare === '') return ''
  const code = SPELLINGS.get(bare) ?? SPELLINGS.get(bare.toLowerCase())
  if (code === undefined) {
    const known = Object.keys(UNITS).filter(Boolean).join(', ')
    throw new Refusal('bad_value', 'unit', say('ground.unknown_unit', { unit: bare, known }))
  }
  return code
}

/**
 * The value in `text`. `unit` is the unit chosen beside it; a unit in the text must not contradict it.
 * Comma and point both mark decimals; a second mark or a thousands mark is refused, never guessed.
 */
export function read(text: string, unit = ''): Reading {
  const parts = TYPED.exec(text.trim())?.groups
  if (!parts) {
    throw new Refusal('bad_value', 'value', say('ground.not_readable', { text: text.trim().slice(0, 40) }))
  }
  const [written, chosen] = [unitCode(parts['unit'] ?? ''), unitCode(unit)]
  if (written && chosen && written !== chosen) {
    throw new Refusal('bad_value', 'unit', say('ground.units_differ', { written, chosen }))
  }
  let amount: Fraction
  let places: number | null = null
  if (parts['under'] !== undefined) {
    const under = BigInt(parts['under'])
    if (under === 0n) throw new Refusal('bad_value', 'value', say('ground.over_nothing'))
    amount = fraction(BigInt(parts['whole'] ?? 0) * under + BigInt(parts['over']!), under)
  } else {
    const [whole, decimals = ''] = parts['number']!.replace(',', '.').split('.') as [string, string?]
    amount = fraction(BigInt(whole + decimals), 10n ** BigInt(decimals.length))
    places = decimals.length
  }
  const minus = parts['sign'] === '-' || parts['sign'] === '\u2212'
  return { text, amount: minus ? { ...amount, over: -amount.over } : amount, unit: written || chosen, places }
}

/**
 * As `read`, and the unit must be of the quantity's kind; with none given it is the quantity's usual one.
 * A quantity that is not in the table may have any unit.
 */
export function readQuantity(quantity: string, text: string, unit = ''): Reading {
  const reading = read(text, unit)
  const known = QUANTITIES.find((candidate) => candidate.code === quantity)
  if (!known) return reading
  const code = reading.unit || known.units[0]!
  if (UNITS[code]!.kind !== known.kind) {
    const allowed = known.units.join(', ') || say('ground.no_unit')
    throw new Refusal('bad_value', 'unit', say('ground.wrong_unit', { quantity: known.words, unit: code, units: allowed }))
  }
  return { ...reading, unit: code }
}

/** The unit in which a kind is mostly given, that of its first quantity: "mm" for a length; "" for a plain number. */
export function usualUnit(kind: string): string {
  return QUANTITIES.find((quantity) => quantity.kind === kind)?.units[0] ?? ''
}

/** A value with its unit as they stand on paper: "60 N·m", "90°", "12%". */
export function withUnit(value: string, unit: string): string {
  return value + (unit && !UNITS[unit]?.close ? ` ${unit}` : unit)
}

/** The exact amount in the SI unit of its kind: m, N·m, Pa, m³, K, kg; ° and r/min stay as they are. */
export function toSi(amount: Fraction, unit: string): Fraction {
  const spec = UNITS[unit]!
  return times(plus(amount, rational(spec.offset ?? ['0', '1'])), rational(spec.scale))
}

/** The exact amount in `unit` of an amount in the SI unit of its kind. */
export function fromSi(amount: Fraction, unit: string): Fraction {
  const spec = UNITS[unit]!
  const offset = rational(spec.offset ?? ['0', '1'])
  const scale = rational(spec.scale)
  return plus(times(amount, fraction(scale.under, scale.over)), { ...offset, over: -offset.over })
}

/** The exact amount in another unit of the same kind. Throws Refusal between kinds (a torque is no length). */
export function convert(amount: Fraction, unit: string, into: string): Fraction {
  if (UNITS[unit]!.kind !== UNITS[into]!.kind) {
    const plain = say('ground.plain_number')
    throw new Refusal('bad_value', 'unit', say('ground.not_convertible', { unit: unit || plain, into: into || plain }))
  }
  return fromSi(toSi(amount, unit), into)
}

/** The amount to `places` decimals, halves rounded away from zero, for showing only. */
export function decimalText(amount: Fraction, places: number): string {
  const scaled = (amount.over < 0n ? -amount.over : amount.over) * 10n ** BigInt(places)
  const digits = String((2n * scaled + amount.under) / (2n * amount.under)).padStart(places + 1, '0')
  const sign = amount.over < 0n && /[1-9]/.test(digits) ? '-' : ''
  return sign + (places ? `${digits.slice(0, -places)}.${digits.slice(-places)}` : digits)
}

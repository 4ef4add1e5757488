// From what is typed under Fits to what is shown there: every figure as text, every fault beside its field.

import elastic from '../../../../server/witnessmark/trade/data/elastic.json'
import metals from '../../../../server/witnessmark/trade/data/materials.json'
import { compare, exactText, negative, NOTHING, whole } from '../../trade/ground/amounts.ts'
import { Refusal } from '../../trade/ground/errors.ts'
import { beyond, type Code, fit, type Fit, type Limits, limits, microns, readCode, USUAL } from '../../trade/proposals/fits.ts'
import { force, heatCautions, heatForSlip, press, type Material, torque } from '../../trade/proposals/press_fit.ts'
import { convert, decimalText, type Fraction, fraction, fromSi, read, toSi, UNITS } from '../../trade/ground/units.ts'
import { dimensionWords, type Drawn } from './fit_ink.ts'
import { say } from '../words/say.ts'

/** All fields, each as typed. Lengths are in mm unless a unit is typed with them. */
export const BLANK = {
  code: '20 H7/p6',
  hole: '',
  shaft: '',
  hubOuter: '',
  shaftBore: '',
  length: '',
  friction: '0.12',
  hub: '',
  hubModulus: '',
  hubPoisson: '',
  hubAlpha: '',
  shaftOf: '',
  shaftModulus: '',
  shaftPoisson: '',
  shaftAlpha: '',
  slip: '0.03',
  shaftTemperature: '20',
}
export type Typed = typeof BLANK
export type Wrong = Partial<Record<keyof Typed, string>>

export const MATERIALS = metals.materials.flatMap((metal) => {
  const known = elastic.materials.find(({ code }) => code === metal.code)
  return known ? [{ ...metal, ...known }] : []
})
export const MATERIAL_SOURCE = { elastic: elastic.source, expansion: metals.source }

/** What choosing a material writes into the fields of the hub or the shaft, to be overtyped. */
export function ofMaterial(part: 'hub' | 'shaft', code: string): Partial<Typed> {
  const { modulus, poisson, alpha } = MATERIALS.find((metal) => metal.code === code) ?? { modulus: '', poisson: '', alpha: '' }
  return part === 'hub'
    ? { hub: code, hubModulus: modulus, hubPoisson: poisson, hubAlpha: alpha }
    : { shaftOf: code, shaftModulus: modulus, shaftPoisson: poisson, shaftAlpha: alpha }
}

export interface ZoneRow {
  name: 'hole' | 'shaft'
  code: string
  smallest: string
  largest: string
  upper: string
  lower: string
  measured: string
  /** How the measured size stands to its limits, '' when none was typed. */
  standing: string
}

/** One interference that may arise, with all that follows from it. */
export interface Case {
  name: string
  interference: string
  press: { name: string; value: string }[]
  heat: string
}

export interface Sums {
  wrong: Wrong
  size: string
  drawn: Drawn | null
  rows: ZoneRow[]
  /** 'interference fit'; '' while one part of the fit is missing. */
  kind: string
  /** What such a fit is usual for, '' for none of the usual ones. */
  usual: string
  dimensions: { number: number; words: string; amount: string }[]
  cases: Case[]
  /** Why there is nothing to press or to heat, or what is still to be typed; '' when all is there. */
  pressWants: string
  heatWants: string
  cautions: string[]
}

const KINDS = { clearance: 'fits.kind_clearance', transition: 'fits.kind_transition', interference: 'fits.kind_interference' } as const

const inMicrons = (amount: Fraction) => `${microns(amount)} µm`

export function sums(typed: Typed): Sums {
  const wrong: Wrong = {}
  const code = attempt(wrong, 'code', () => (typed.code.trim() ? readCode(typed.code) : null))
  const zone = (name: string) => (code && name ? attempt(wrong, 'code', () => limits(code.nominal, name)) : null)
  const [hole, shaft] = [zone(code?.hole ?? ''), zone(code?.shaft ?? '')]
  const [holeSize, shaftSize] = [lengthOf(typed, 'hole', wrong), lengthOf(typed, 'shaft', wrong)]
  const drawn = code && (hole || shaft) ? { hole, shaft, holeSize, shaftSize, nominal: code.nominal } : null
  const made = hole && shaft ? fit(hole, shaft) : null
  return {
    wrong,
    size: code?.size ?? '',
    drawn,
    rows: [hole && rowOf('hole', hole, holeSize, typed.hole), shaft && rowOf('shaft', shaft, shaftSize, typed.shaft)].filter((row) => row !== null),
    kind: made ? say(KINDS[made.kind]) : '',
    usual: (code && USUAL.find((fit) => fit.code === `${code.hole}/${code.shaft}`)?.words) ?? '',
    dimensions: drawn ? dimensionWords(drawn).map(({ amount, ...dimension }) => ({ ...dimension, amount: inMicrons(amount) })) : [],
    ...seats(typed, wrong, code, made, holeSize, shaftSize),
  }
}

function attempt<T>(wrong: Wrong, field: keyof Typed, make: () => T): T | null {
  try {
    return make()
  } catch (error) {
    if (!(error instanceof Refusal)) throw error
    wrong[field] ??= error.message
    return null
  }
}

function lengthOf(typed: Typed, field: keyof Typed, wrong: Wrong): Fraction | null {
  return attempt(wrong, field, () => {
    if (!typed[field].trim()) return null
    const reading = read(typed[field])
    const unit = reading.unit || 'mm'
    if (UNITS[unit]!.kind !== 'length') throw new Refusal('bad_value', field, say('fits.not_a_length', { unit }))
    return toSi(reading.amount, unit)
  })
}

function numberOf(typed: Typed, field: keyof Typed, wrong: Wrong): Fraction | null {
  return attempt(wrong, field, () => {
    if (!typed[field].trim()) return null
    const reading = read(typed[field])
    if (reading.unit) throw new Refusal('bad_value', field, say('fits.number_only'))
    return reading.amount
  })
}

function rowOf(name: 'hole' | 'shaft', zone: Limits, size: Fraction | null, measured: string): ZoneRow {
  const off = size && beyond(size, zone)
  return {
    name,
    code: zone.code,
    smallest: exactText(fromSi(zone.smallest, 'mm'), 3),
    largest: exactText(fromSi(zone.largest, 'mm'), 3),
    upper: microns(zone.upper, true),
    lower: microns(zone.lower, true),
    measured: measured.trim(),
    standing: off ? standing(off) : '',
  }
}

function standing(off: Fraction): string {
  if (off.over === 0n) return say('fits.within')
  return off.over > 0n ? say('fits.above', { amount: inMicrons(off) }) : say('fits.below', { amount: inMicrons(negative(off)) })
}

interface Seat {
  name: string
  over: Fraction
  diameter: Fraction
}

function seats(typed: Typed, wrong: Wrong, code: Code | null, made: Fit | null, hole: Fraction | null, shaft: Fraction | null) {
  const seats: Seat[] = []
  const add = (name: string, clearance: Fraction, diameter: Fraction) => {
    if (clearance.over < 0n) seats.push({ name, over: negative(clearance), diameter })
  }
  if (made && code) {
    add(say('fits.least'), made.greatest, code.nominal)
    add(say('fits.greatest'), made.least, code.nominal)
  }
  if (hole && shaft) add(say('fits.as_measured'), { over: hole.over * shaft.under - shaft.over * hole.under, under: hole.under * shaft.under }, hole)
  const known = made || (hole && shaft)
  const nothing = seats.length ? '' : known ? say('fits.no_interference') : say('fits.type_both')
  const pressed = pressing(typed, wrong, seats)
  const heated = heating(typed, wrong, seats)
  return {
    cases: seats.map((seat, at) => ({
      name: seat.name,
      interference: inMicrons(fraction(seat.over.over, seat.over.under)),
      press: pressed.lines[at] ?? [],
      heat: heated.temperatures[at] ?? '',
    })),
    pressWants: nothing || pressed.wants,
    heatWants: nothing || heated.wants,
    cautions: heated.cautions,
  }
}

const stillToType = (what: (string | false)[]) => say('fits.still_to_type', { what: what.filter(Boolean).join(', ') })

function pressing(typed: Typed, wrong: Wrong, seats: Seat[]) {
  const outer = lengthOf(typed, 'hubOuter', wrong)
  const inner = lengthOf(typed, 'shaftBore', wrong) ?? NOTHING
  const [length, friction] = [lengthOf(typed, 'length', wrong), numberOf(typed, 'friction', wrong)]
  const [hub, shaft] = [elasticOf(typed, 'hubModulus', 'hubPoisson', wrong), elasticOf(typed, 'shaftModulus', 'shaftPoisson', wrong)]
  if (!outer || !hub || !shaft) {
    const wanted = [!outer && say('fits.needs_hub_outside'), !hub && say('fits.needs_hub_material'), !shaft && say('fits.needs_shaft_material')]
    return { lines: [], wants: stillToType(wanted) }
  }
  const lines = seats.map((seat) => {
    const made = attempt(wrong, 'hubOuter', () => press(seat.diameter, seat.over, outer, hub, inner, shaft))
    if (!made) return []
    const results = [
      { name: say('fits.pressure'), value: mega(made.pressure) },
      { name: say('fits.hub_hoop'), value: mega(made.hubHoop) },
      { name: say('fits.shaft_hoop'), value: mega(made.shaftHoop) },
    ]
    if (made.shaftBoreHoop && made.closing) {
      results.push({ name: say('fits.shaft_bore_hoop'), value: mega(made.shaftBoreHoop) })
      results.push({ name: say('fits.closing'), value: decimalText(convert(made.closing, 'm', 'um'), 1) })
    }
    if (length && friction) {
      const axial = force(made.pressure, seat.diameter, length, friction)
      results.push({ name: say('fits.press_force'), value: decimalText(over(axial, 1000n), 2) })
      results.push({ name: say('fits.torque'), value: decimalText(torque(axial, seat.diameter), 1) })
    }
    return results
  })
  return { lines, wants: length && friction ? '' : say('fits.needs_for_force') }
}

function elasticOf(typed: Typed, modulus: keyof Typed, poisson: keyof Typed, wrong: Wrong): Material | null {
  const [gpa, ratio] = [numberOf(typed, modulus, wrong), numberOf(typed, poisson, wrong)]
  return gpa && ratio ? { modulus: fraction(gpa.over * 1_000_000_000n, gpa.under), poisson: ratio } : null
}

function heating(typed: Typed, wrong: Wrong, seats: Seat[]) {
  const [hub, shaft] = [alphaOf(typed, 'hubAlpha', wrong), alphaOf(typed, 'shaftAlpha', wrong)]
  const slip = lengthOf(typed, 'slip', wrong)
  const cold = temperatureOf(typed, wrong)
  if (!hub || !slip || !cold || (!shaft && compare(cold, whole(20)) !== 0)) {
    const wanted = [
      !hub && say('fits.needs_hub_expansion'),
      !slip && say('fits.needs_slip'),
      !cold && say('fits.needs_temperature'),
      !shaft && cold !== null && compare(cold, whole(20)) !== 0 && say('fits.needs_shaft_expansion'),
    ]
    return { temperatures: [], wants: stillToType(wanted), cautions: heatCautions(whole(20)) }
  }
  const warm = seats.map((seat) => attempt(wrong, 'hubAlpha', () => heatForSlip(seat.diameter, seat.over, slip, hub, shaft ?? NOTHING, cold)) ?? whole(20))
  const hottest = warm.reduce((a, b) => (compare(b, a) > 0 ? b : a), whole(20))
  return { temperatures: warm.map(heatWords), wants: '', cautions: heatCautions(hottest, cold) }
}

const heatWords = (t: Fraction): string => (compare(t, whole(20)) <= 0 ? say('fits.no_heat') : ceiling(t))

function alphaOf(typed: Typed, field: keyof Typed, wrong: Wrong): Fraction | null {
  const typedAs = numberOf(typed, field, wrong)
  return typedAs && over(typedAs, 1_000_000n)
}

function temperatureOf(typed: Typed, wrong: Wrong): Fraction | null {
  return attempt(wrong, 'shaftTemperature', () => {
    if (!typed.shaftTemperature.trim()) return null
    const reading = read(typed.shaftTemperature)
    const unit = reading.unit || '°C'
    if (UNITS[unit]!.kind !== 'temperature') throw new Refusal('bad_value', 'shaftTemperature', say('fits.not_a_temperature', { unit }))
    return convert(reading.amount, unit, '°C')
  })
}

const over = (a: Fraction, by: bigint): Fraction => fraction(a.over, a.under * by)
const mega = (pascal: Fraction): string => decimalText(over(pascal, 1_000_000n), 1)
// Rounded up: a degree more never hinders, a degree less can. Only for amounts above zero.
const ceiling = (a: Fraction): string => String((a.over + a.under - 1n) / a.under)

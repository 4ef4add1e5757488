// From what is typed on the sheet of fits to what stands on it: every figure as text, every fault beside its field.

import elastic from '../../../../server/witnessmark/trade/data/elastic.json'
import metals from '../../../../server/witnessmark/trade/data/materials.json'
import { compare, exactText, negative, NOTHING, whole } from '../../trade/ground/amounts.ts'
import { Refusal } from '../../trade/ground/errors.ts'
import { beyond, type Code, fit, type Fit, type Limits, limits, microns, readCode, USUAL } from '../../trade/proposals/fits.ts'
import { force, heatCautions, heatForSlip, press, type Material, torque } from '../../trade/proposals/press_fit.ts'
import { convert, decimalText, type Fraction, fraction, fromSi, read, toSi, UNITS } from '../../trade/ground/units.ts'
import { dimensionWords, type Drawn } from './fit_ink.ts'

/** All fields of the sheet, each as typed. Lengths are in mm unless they say otherwise. */
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
  const found = elastic.materials.find((one) => one.code === metal.code)
  return found ? [{ ...metal, ...found }] : []
})
export const MATERIAL_SOURCE = `Modulus and Poisson's ratio: ${elastic.source}. Expansion: ${metals.source}.`

/** What choosing a material writes into the fields of the hub or the shaft, to be overtyped. */
export function ofMaterial(part: 'hub' | 'shaft', code: string): Partial<Typed> {
  const { modulus, poisson, alpha } = MATERIALS.find((one) => one.code === code) ?? { modulus: '', poisson: '', alpha: '' }
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
    rows: [hole && rowOf('hole', hole, holeSize, typed.hole), shaft && rowOf('shaft', shaft, shaftSize, typed.shaft)].filter((one) => one !== null),
    kind: made ? `${made.kind} fit` : '',
    usual: (code && USUAL.find((one) => one.code === `${code.hole}/${code.shaft}`)?.words) ?? '',
    dimensions: drawn ? dimensionWords(drawn).map((one) => ({ ...one, amount: `${microns(one.amount)} µm` })) : [],
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
    if (UNITS[unit]!.kind !== 'length') throw new Refusal('bad_value', field, `${unit} is no unit of length. Take mm or in.`)
    return toSi(reading.amount, unit)
  })
}

function numberOf(typed: Typed, field: keyof Typed, wrong: Wrong): Fraction | null {
  return attempt(wrong, field, () => {
    if (!typed[field].trim()) return null
    const reading = read(typed[field])
    if (reading.unit) throw new Refusal('bad_value', field, 'Only the number is wanted here: its unit stands above.')
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
  if (off.over === 0n) return 'within its limits of size'
  return off.over > 0n ? `${microns(off)} µm above its largest size` : `${microns(negative(off))} µm below its smallest size`
}

interface Seat {
  name: string
  over: Fraction
  diameter: Fraction
}

function seats(typed: Typed, wrong: Wrong, code: Code | null, made: Fit | null, hole: Fraction | null, shaft: Fraction | null) {
  const found: Seat[] = []
  const add = (name: string, clearance: Fraction, diameter: Fraction) => {
    if (clearance.over < 0n) found.push({ name, over: negative(clearance), diameter })
  }
  if (made && code) {
    add('least', made.greatest, code.nominal)
    add('greatest', made.least, code.nominal)
  }
  if (hole && shaft) add('as measured', { over: hole.over * shaft.under - shaft.over * hole.under, under: hole.under * shaft.under }, hole)
  const known = made || (hole && shaft)
  const nothing = found.length ? '' : known ? 'No interference: the parts go together without force.' : 'Type a hole and a shaft above first.'
  const pressed = pressing(typed, wrong, found)
  const heated = heating(typed, wrong, found)
  return {
    cases: found.map((seat, at) => ({
      name: seat.name,
      interference: `${microns({ ...fraction(seat.over.over, seat.over.under) })} µm`,
      press: pressed.told[at] ?? [],
      heat: heated.told[at] ?? '',
    })),
    pressWants: nothing || pressed.wants,
    heatWants: nothing || heated.wants,
    cautions: heated.cautions,
  }
}

function pressing(typed: Typed, wrong: Wrong, found: Seat[]) {
  const outer = lengthOf(typed, 'hubOuter', wrong)
  const inner = lengthOf(typed, 'shaftBore', wrong) ?? NOTHING
  const [length, friction] = [lengthOf(typed, 'length', wrong), numberOf(typed, 'friction', wrong)]
  const [hub, shaft] = [elasticOf(typed, 'hubModulus', 'hubPoisson', wrong), elasticOf(typed, 'shaftModulus', 'shaftPoisson', wrong)]
  if (!outer || !hub || !shaft) {
    const wanted = [!outer && 'the outside of the hub', !hub && 'what the hub is made of', !shaft && 'what the shaft is made of']
    return { told: [], wants: `Still to be typed: ${wanted.filter(Boolean).join(', ')}.` }
  }
  const told = found.map((seat) => {
    const made = attempt(wrong, 'hubOuter', () => press(seat.diameter, seat.over, outer, hub, inner, shaft))
    if (!made) return []
    const lines = [
      { name: 'contact pressure, MPa', value: mega(made.pressure) },
      { name: 'hub, around its bore, MPa', value: mega(made.hubHoop) },
      { name: 'shaft, around at the seat, MPa', value: mega(made.shaftHoop) },
    ]
    if (made.shaftBoreHoop && made.closing) {
      lines.push({ name: 'shaft, around its bore, MPa', value: mega(made.shaftBoreHoop) })
      lines.push({ name: 'its bore closes by, µm', value: decimalText(convert(made.closing, 'm', 'um'), 1) })
    }
    if (length && friction) {
      const axial = force(made.pressure, seat.diameter, length, friction)
      lines.push({ name: 'press force, kN', value: decimalText(over(axial, 1000n), 2) })
      lines.push({ name: 'torque it holds, N·m', value: decimalText(torque(axial, seat.diameter), 1) })
    }
    return lines
  })
  return { told, wants: length && friction ? '' : 'For the press force: the length of the seat and the friction.' }
}

function elasticOf(typed: Typed, modulus: keyof Typed, poisson: keyof Typed, wrong: Wrong): Material | null {
  const [gpa, ratio] = [numberOf(typed, modulus, wrong), numberOf(typed, poisson, wrong)]
  return gpa && ratio ? { modulus: fraction(gpa.over * 1_000_000_000n, gpa.under), poisson: ratio } : null
}

function heating(typed: Typed, wrong: Wrong, found: Seat[]) {
  const [hub, shaft] = [alphaOf(typed, 'hubAlpha', wrong), alphaOf(typed, 'shaftAlpha', wrong)]
  const slip = lengthOf(typed, 'slip', wrong)
  const cold = temperatureOf(typed, wrong)
  if (!hub || !slip || !cold || (!shaft && compare(cold, whole(20)) !== 0)) {
    const wanted = [!hub && 'how the hub expands', !slip && 'the slip wanted', !cold && 'how warm the shaft is', !shaft && cold && compare(cold, whole(20)) !== 0 && 'how the shaft expands']
    return { told: [], wants: `Still to be typed: ${wanted.filter(Boolean).join(', ')}.`, cautions: heatCautions(whole(20)) }
  }
  const warm = found.map((seat) => attempt(wrong, 'hubAlpha', () => heatForSlip(seat.diameter, seat.over, slip, hub, shaft ?? NOTHING, cold)) ?? whole(20))
  const hottest = warm.reduce((a, b) => (compare(b, a) > 0 ? b : a), whole(20))
  return { told: warm.map(heatWords), wants: '', cautions: heatCautions(hottest, cold) }
}

const heatWords = (t: Fraction): string => (compare(t, whole(20)) <= 0 ? 'no heat' : ceiling(t))

function alphaOf(typed: Typed, field: keyof Typed, wrong: Wrong): Fraction | null {
  const typedAs = numberOf(typed, field, wrong)
  return typedAs && over(typedAs, 1_000_000n)
}

function temperatureOf(typed: Typed, wrong: Wrong): Fraction | null {
  return attempt(wrong, 'shaftTemperature', () => {
    if (!typed.shaftTemperature.trim()) return null
    const reading = read(typed.shaftTemperature)
    const unit = reading.unit || '°C'
    if (UNITS[unit]!.kind !== 'temperature') throw new Refusal('bad_value', 'shaftTemperature', `${unit} is no temperature. Take °C or °F.`)
    return convert(reading.amount, unit, '°C')
  })
}

const over = (a: Fraction, by: bigint): Fraction => fraction(a.over, a.under * by)
const mega = (pascal: Fraction): string => decimalText(over(pascal, 1_000_000n), 1)
// Rounded up: a degree more never hinders, a degree less can. Only for amounts above zero.
const ceiling = (a: Fraction): string => String((a.over + a.under - 1n) / a.under)

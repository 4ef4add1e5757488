// Press and shrink fits: contact pressure, what it does to both parts, the force of the press, the heat for a slip fit.
// The server has a twin of the heat alone, trade/proposals/press_fit.py. Thick-walled rings after Lamé, as in Shigley, Mechanical Engineering Design, 9th
// edition, equations 3-56 and 3-57: both parts elastic, equally long, without friction along the seat while they settle.
// Exact fractions in SI throughout; friction, moduli and coefficients of expansion are typed, never known by themselves.

import { by, compare, minus, negative, NOTHING, plus, square, times, whole } from '../ground/amounts.ts'
import { Refusal } from '../ground/errors.ts'
import { PI } from '../ground/exact.ts'
import { type Fraction, fraction } from '../ground/units.ts'

export const REFERENCE_C = 20 // sizes on drawings hold at 20 °C (ISO 1)
export const HOT_C = 150
export const FORMULA =
  'p = δ / (D·[((Do² + D²)/(Do² - D²) + νo)/Eo + ((D² + di²)/(D² - di²) - νi)/Ei]), Lamé; ' +
  'Shigley, Mechanical Engineering Design, 9th edition, equation 3-56, with diameters'
export const FORCE_FORMULA = 'F = μ·p·π·D·L, T = F·D/2'
export const HEAT_FORMULA = 't = 20 °C + (δ + slip + αi·D·(ti - 20 °C)) / (αo·D)'

export const PRESS_CAUTIONS = [
  "The maker's data comes first: force, aid and direction named there count.",
  'A press and a part under load can let fly: guard closed, nobody in line, the part square and supported beside the ' +
    'seat.',
  "The figure holds while both parts stay elastic: compare the stresses with the maker's material before pressing.",
]
export const HEAT_CAUTIONS = [
  "The maker's data comes first: a temperature or a method named there counts.",
  'Hardened and tempered parts, rolling bearings among them, lose their hardness above the temperature they were ' +
    'tempered at. Ask the maker for it.',
  'Seals, plastic cages, bonded rings, coatings and grease do not stand heat: take them off, or stay below what ' +
    'their maker allows.',
  'Hot parts burn: gloves, tongs and a dry place to put them down. Heat evenly, never with a flame in one spot, and ' +
    'measure the temperature.',
]
export const VERY_HOT = `This is above ${HOT_C} °C: many bearings and tempered parts do not stand it (common practice).`
export const COLD_CAUTION =
  'Dry ice and liquid nitrogen burn the skin and take the air to breathe: ventilate, wear gloves and goggles, ' +
  'and leave it to somebody trained for it. Far below room temperature metals shrink less than their coefficient says.'

/** Modulus of elasticity in Pa and Poisson's ratio. */
export interface Material {
  modulus: Fraction
  poisson: Fraction
}

/**
 * `pressure` in the seat; stresses in Pa, tension above zero: around the hub at its bore, around the shaft at the seat
 * and at its own bore (null when it is solid). `closing`: by how much the shaft's bore becomes smaller, in m.
 */
export interface Press {
  pressure: Fraction
  hubHoop: Fraction
  shaftHoop: Fraction
  shaftBoreHoop: Fraction | null
  closing: Fraction | null
}

const refuse = (where: string, message: string): never => {
  throw new Refusal('bad_value', where, message)
}

/**
 * Two rings pressed together at the diameter `seat`, all diameters in m; `shaftInner` 0 for a solid shaft. Throws
 * Refusal for parts that cannot be.
 */
export function press(
  seat: Fraction,
  interference: Fraction,
  hubOuter: Fraction,
  hub: Material,
  shaftInner: Fraction,
  shaft: Material,
): Press {
  if (interference.over <= 0n) {
    refuse('interference', 'There is no interference, so nothing presses. Check both sizes.')
  }
  if (shaftInner.over < 0n || compare(shaftInner, seat) >= 0) {
    refuse('shaft_inner', 'The bore of the shaft must be smaller than the seat; 0 if solid.')
  }
  if (compare(hubOuter, seat) <= 0) {
    refuse('hub_outer', 'The outside of the hub must be larger than the seat. Check both.')
  }
  for (const [name, { modulus, poisson }] of [['hub', hub] as const, ['shaft', shaft] as const]) {
    if (modulus.over <= 0n || poisson.over < 0n || compare(poisson, fraction(1n, 2n)) >= 0) {
      refuse(name, `The ${name} needs a modulus above 0 and a Poisson's ratio from 0 to below 0.5.`)
    }
  }
  const [outer, at, inner] = [square(hubOuter), square(seat), square(shaftInner)]
  const hubFactor = by(plus(outer, at), minus(outer, at))
  const shaftFactor = by(plus(at, inner), minus(at, inner))
  const yielding = plus(
    by(plus(hubFactor, hub.poisson), hub.modulus),
    by(minus(shaftFactor, shaft.poisson), shaft.modulus),
  )
  const pressure = by(interference, times(seat, yielding))
  const hollow = shaftInner.over > 0n
  const boreHoop = by(times(times(whole(-2), pressure), at), minus(at, inner))
  return {
    pressure,
    hubHoop: times(pressure, hubFactor),
    shaftHoop: negative(times(pressure, shaftFactor)),
    shaftBoreHoop: hollow ? boreHoop : null,
    closing: hollow ? by(times(negative(boreHoop), shaftInner), shaft.modulus) : null,
  }
}

/** The axial force in N that moves a seat of this diameter and length in m, with the typed friction. */
export function force(pressure: Fraction, seat: Fraction, length: Fraction, friction: Fraction): Fraction {
  return [pressure, PI, seat, length].reduce(times, friction)
}

/** The torque in N·m that the same friction carries. */
export function torque(axial: Fraction, seat: Fraction): Fraction {
  return by(times(axial, seat), whole(2))
}

/** By how much a diameter grows when it becomes so much warmer; below zero when it becomes colder. */
export function growth(diameter: Fraction, alpha: Fraction, kelvin: Fraction): Fraction {
  return times(times(diameter, alpha), kelvin)
}

/**
 * The temperature in °C at which the hub goes over the shaft with `slip` to spare (diametral, m). Coefficients per
 * kelvin; `shaftC` is how warm or cold the shaft is. Sizes are those at 20 °C. The answer may lie at or below 20 °C:
 * then nothing needs heat. Throws Refusal without a coefficient.
 */
export function heatForSlip(
  seat: Fraction,
  interference: Fraction,
  slip: Fraction,
  alphaHub: Fraction,
  alphaShaft: Fraction = NOTHING,
  shaftC: Fraction = whole(REFERENCE_C),
): Fraction {
  if (alphaHub.over <= 0n) refuse('alpha', "Heating needs the hub's coefficient of expansion, above 0.")
  const shaftGrowth = growth(seat, alphaShaft, minus(shaftC, whole(REFERENCE_C)))
  const wanted = plus(plus(interference, slip), shaftGrowth)
  return plus(whole(REFERENCE_C), by(wanted, times(alphaHub, seat)))
}

/** What to mind at these temperatures, the most general first. */
export function heatCautions(hubC: Fraction, shaftC: Fraction = whole(REFERENCE_C)): string[] {
  return [
    ...HEAT_CAUTIONS,
    ...(compare(hubC, whole(HOT_C)) > 0 ? [VERY_HOT] : []),
    ...(shaftC.over < 0n ? [COLD_CAUTION] : []),
  ]
}

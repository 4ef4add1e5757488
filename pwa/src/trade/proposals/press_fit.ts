// Press and shrink fits: contact pressure, what it does to both parts, the force of the press, the heat for a slip fit.
// The server has a twin of the heat alone, trade/proposals/press_fit.py. Thick-walled rings after Lamé, as in Shigley, Mechanical Engineering Design, 9th
// edition, equations 3-56 and 3-57: both parts elastic, equally long, without friction along the seat while they settle.
// Exact fractions in SI throughout; friction, moduli and coefficients of expansion are typed, never known by themselves.

import { by, compare, minus, negative, NOTHING, plus, square, times, whole } from '../ground/amounts.ts'
import { Refusal } from '../ground/errors.ts'
import { PI } from '../ground/exact.ts'
import { say } from '../ground/say.ts'
import { type Fraction, fraction } from '../ground/units.ts'

const REFERENCE_C = 20 // sizes on drawings hold at 20 °C (ISO 1)
const HOT_C = 150
export const FORMULA = say('proposals.press_formula')
export const FORCE_FORMULA = 'F = μ·p·π·D·L, T = F·D/2'
export const HEAT_FORMULA = 't = 20 °C + (δ + slip + αi·D·(ti - 20 °C)) / (αo·D)'

export const PRESS_CAUTIONS = [
  say('proposals.press_maker'),
  say('proposals.press_guard'),
  say('proposals.press_elastic'),
]
export const HEAT_CAUTIONS = [
  say('proposals.heat_maker'),
  say('proposals.heat_temper'),
  say('proposals.heat_seals'),
  say('proposals.heat_burns'),
]
const VERY_HOT = say('proposals.very_hot', { temperature: HOT_C })
const COLD_CAUTION = say('proposals.cold')

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
    refuse('interference', say('proposals.no_interference'))
  }
  if (shaftInner.over < 0n || compare(shaftInner, seat) >= 0) {
    refuse('shaft_inner', say('proposals.shaft_bore'))
  }
  if (compare(hubOuter, seat) <= 0) {
    refuse('hub_outer', say('proposals.hub_outside'))
  }
  for (const [name, { modulus, poisson }, reason] of [
    ['hub', hub, 'proposals.hub_material'] as const,
    ['shaft', shaft, 'proposals.shaft_material'] as const,
  ]) {
    if (modulus.over <= 0n || poisson.over < 0n || compare(poisson, fraction(1n, 2n)) >= 0) {
      refuse(name, say(reason))
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
  if (alphaHub.over <= 0n) refuse('alpha', say('proposals.no_alpha'))
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

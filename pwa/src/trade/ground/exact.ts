// Roots, the circle and the two distributions in whole numbers, and rounding for showing: the twin of trade/ground/exact.py,
// digit by digit. Divisions are of numbers that are not below zero, since both sides round those alike.

import { NOTHING } from './amounts.ts'
import { type Fraction, fraction } from './units.ts'

/** Cut off after fifty decimals. */
export const PI: Fraction = fraction(314159265358979323846264338327950288419716939937510n, 10n ** 50n)

const ONE = 10n ** 45n // inside the distributions; what comes out is good to 18
const OUT = 10n ** 18n
const FARTHEST = 10n // standard deviations; beyond it nothing is left in 18 digits

const abs = (a: bigint) => (a < 0n ? -a : a)

/** The square root of a whole number, cut off. */
function rootOf(n: bigint): bigint {
  if (n < 2n) return n
  let x = 1n << BigInt((n.toString(2).length + 1) >> 1)
  for (;;) {
    const next = (x + n / x) >> 1n
    if (next >= x) return x
    x = next
  }
}

/** The square root, cut off after `digits` decimals. Throws RangeError below zero. */
export function sqrt(amount: Fraction, digits = 20): Fraction {
  if (amount.over < 0n) throw new RangeError(`${amount.over}/${amount.under} has no square root.`)
  return fraction(rootOf((amount.over * 100n ** BigInt(digits)) / amount.under), 10n ** BigInt(digits))
}

/** The share of a normal distribution that lies below z standard deviations, to 18 decimals. */
export function normalBelow(z: Fraction): Fraction {
  const size = abs(z.over)
  if (size >= FARTHEST * z.under) return z.over > 0n ? fraction(1n) : NOTHING
  const x = (size * ONE) / z.under
  const square = (x * x) / ONE
  let [term, total, odd] = [x, 0n, 1n]
  while (term) {
    total += term
    odd += 2n
    term = (term * square) / ONE / odd
  }
  return out((density(square) * total) / ONE, z.over < 0n)
}

/** The share of Student's distribution that lies below t, to 18 decimals. `freedom` is a whole number above zero. */
export function tBelow(t: Fraction, freedom: number): Fraction {
  const [nu, over, under] = [BigInt(freedom), t.over * t.over, t.under * t.under]
  const cos2 = (nu * under * ONE) / (nu * under + over)
  const sine = root(ONE - cos2)
  let inside: bigint
  if (freedom % 2 === 0) {
    let [term, total] = [ONE, ONE]
    for (let k = 2n; k < nu - 1n; k += 2n) {
      term = (((term * cos2) / ONE) * (k - 1n)) / k
      total += term
    }
    inside = (sine * total) / ONE
  } else {
    let [term, total] = [root(cos2), 0n]
    for (let k = 3n; k <= nu; k += 2n) {
      total += term
      term = (((term * cos2) / ONE) * (k - 1n)) / k
    }
    inside = (2n * (angle(sine, root(cos2)) + (sine * total) / ONE) * ONE) / pi
  }
  return out(inside / 2n, t.over < 0n)
}

function out(aboveHalf: bigint, mirrored: boolean): Fraction {
  const rounded = (2n * aboveHalf * OUT + ONE) / (2n * ONE)
  const above = rounded < OUT / 2n ? rounded : OUT / 2n
  return fraction(mirrored ? OUT / 2n - above : OUT / 2n + above, OUT)
}

/** exp(-square/2) / root of 2 pi. */
function density(square: bigint): bigint {
  const half = square / 2n
  let [term, total, k] = [ONE, 0n, 0n]
  while (term) {
    total += term
    k += 1n
    term = (term * half) / ONE / k
  }
  return (((ONE * ONE) / total) * ONE) / root(2n * pi)
}

const pi = (PI.over * ONE) / PI.under

const root = (amount: bigint) => rootOf(amount * ONE)

/** The angle from 0 to a right one: halved four times, then x - x^3/3 + x^5/5 ... of its tangent. */
function angle(sine: bigint, cosine: bigint): bigint {
  let x = (sine * ONE) / (ONE + cosine)
  for (let i = 0; i < 3; i += 1) x = (x * ONE) / (ONE + root(ONE + (x * x) / ONE))
  const square = (x * x) / ONE
  let [power, odd, plus, minus] = [x, 1n, 0n, 0n]
  while (power) {
    plus += power / odd
    ;[power, odd] = [(power * square) / ONE, odd + 2n]
    minus += power / odd
    ;[power, odd] = [(power * square) / ONE, odd + 2n]
  }
  return 16n * (plus - minus)
}

/** The amount with so many digits that count, halves away from zero: 0.0012, 120, 0.10. */
export const significant = (amount: Fraction, digits: number): string => shown(amount, digits, 'nearest')

/** As `significant`, away from zero: what is shown never claims less uncertainty than there is. */
export const roundUp = (amount: Fraction, digits: number): string => shown(amount, digits, 'up')

/** As `significant`, towards zero. */
export const roundDown = (amount: Fraction, digits: number): string => shown(amount, digits, 'down')

function shown(amount: Fraction, digits: number, mode: 'nearest' | 'up' | 'down'): string {
  if (amount.over === 0n) return '0'
  const ten = (power: number) => 10n ** BigInt(Math.max(power, 0))
  let [over, under] = [abs(amount.over), amount.under]
  let power = String(over).length - String(under).length
  if (over * ten(-power) < under * ten(power)) power -= 1
  let places = digits - 1 - power
  ;[over, under] = [over * ten(places), under * ten(-places)]
  let [cut, rest] = [over / under, over % under]
  if ((mode === 'nearest' && 2n * rest >= under) || (mode === 'up' && rest)) cut += 1n
  if (cut === ten(digits)) [cut, places] = [cut / 10n, places - 1]
  const sign = amount.over < 0n ? '-' : ''
  if (places <= 0) return `${sign}${cut * ten(-places)}`
  const text = String(cut).padStart(places + 1, '0')
  return `${sign}${text.slice(0, -places)}.${text.slice(-places)}`
}

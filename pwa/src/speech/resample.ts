// Another sampling rate, with what the lower one cannot hold taken out before: a windowed sinc, one set of taps for each phase.

/** How far down everything is that would fold back, decibels. */
export const STOP_DB = 80
/** As much of the lower rate's band stays untouched; from here to its end the filter falls. */
export const PASS = 0.875

/** Kaiser's rules for a window that reaches a stop band: Oppenheim and Schafer, Discrete-Time Signal Processing, "Kaiser window". */
const BETA = 0.1102 * (STOP_DB - 8.7)
const tapsFor = (fall: number) => Math.ceil((STOP_DB - 7.95) / (2.285 * 2 * Math.PI * fall)) + 1

function bessel(x: number): number {
  let sum = 1
  let term = 1
  for (let k = 1; term > sum * 1e-12; k++) sum += term *= (x / (2 * k)) ** 2
  return sum
}

const divisor = (a: number, b: number): number => (b ? divisor(b, a % b) : a)

interface Filter {
  up: number
  down: number
  half: number
  phases: Float64Array[]
}

const filters = new Map<string, Filter>()

function filter(from: number, to: number): Filter {
  const key = `${from}/${to}`
  const made = filters.get(key)
  if (made) return made
  const common = divisor(from, to)
  const up = to / common
  const lower = Math.min(from, to)
  // In cycles a sample of the rate that comes in: where it falls to half, and over what width it falls.
  const edge = ((1 + PASS) / 4) * (lower / from)
  const fall = ((1 - PASS) / 2) * (lower / from)
  const half = Math.ceil(tapsFor(fall) / 2)
  const whole = bessel(BETA)
  const phases = Array.from({ length: up }, (_, phase) => {
    const taps = new Float64Array(2 * half)
    let sum = 0
    for (let k = 0; k < taps.length; k++) {
      const x = k - half + 1 - phase / up
      const inside = 1 - (x / half) ** 2
      const sinc = x === 0 ? 2 * edge : Math.sin(2 * Math.PI * edge * x) / (Math.PI * x)
      sum += taps[k] = inside > 0 ? (sinc * bessel(BETA * Math.sqrt(inside))) / whole : 0
    }
    return taps.map((tap) => tap / sum)
  })
  const fresh = { up, down: from / common, half, phases }
  filters.set(key, fresh)
  return fresh
}

/** The same sound at another rate. Both rates are whole numbers of samples a second; the length follows them. */
export function resample(pcm: Float32Array, from: number, to: number): Float32Array<ArrayBuffer> {
  if (from === to) return Float32Array.from(pcm)
  const { up, down, half, phases } = filter(from, to)
  const out = new Float32Array(Math.floor((pcm.length * up) / down))
  for (let n = 0; n < out.length; n++) {
    const at = n * down
    const first = Math.floor(at / up) - half + 1
    const taps = phases[at % up] as Float64Array
    const begin = Math.max(0, -first)
    const end = Math.min(taps.length, pcm.length - first)
    let sum = 0
    for (let k = begin; k < end; k++) sum += (taps[k] as number) * (pcm[first + k] as number)
    out[n] = sum
  }
  return out
}

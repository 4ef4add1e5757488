import { describe, expect, it } from 'vitest'
import { PASS, STOP_DB, resample } from './resample.ts'

const tone = (hz: number, rate: number, seconds = 0.5) => Float32Array.from({ length: rate * seconds }, (_, n) => Math.sin((2 * Math.PI * hz * n) / rate))
/** The middle of a sound: its ends ring. */
const middle = (pcm: Float32Array) => pcm.subarray(pcm.length / 4, (pcm.length * 3) / 4)
const loud = (pcm: Float32Array) => Math.sqrt(pcm.reduce((sum, x) => sum + x * x, 0) / pcm.length)
/** The largest difference of two sounds, ends left out. */
function apart(samples: Float32Array, other: Float32Array): number {
  const [a, b] = [middle(samples), middle(other)]
  return a.reduce((worst, x, n) => Math.max(worst, Math.abs(x - (b[n] as number))), 0)
}
const decibels = (ratio: number) => 20 * Math.log10(ratio)

describe('another sampling rate', () => {
  it('keeps a known tone: 1 kHz at 48 kHz is 1 kHz at 16 kHz, sample for sample', () => {
    expect(apart(resample(tone(1000, 48_000), 48_000, 16_000), tone(1000, 16_000))).toBeLessThan(1e-3)
  })

  it.each([300, 1000, 3400, 8000 * PASS])('leaves %d Hz as loud as it was, within a tenth of a decibel', (hz) => {
    const before = loud(middle(tone(hz, 48_000)))
    expect(Math.abs(decibels(loud(middle(resample(tone(hz, 48_000), 48_000, 16_000))) / before))).toBeLessThan(0.1)
  })

  it.each([8000, 8100, 9000, 12_000, 15_900, 23_000])('lets nothing of %d Hz fold back: at least the stop band down', (hz) => {
    const before = loud(middle(tone(hz, 48_000)))
    // A tone exactly on the edge has its phase to thank: moved by a quarter turn it would show.
    const pcm = tone(hz, 48_000).map((x, n) => x + Math.cos((2 * Math.PI * hz * n) / 48_000))
    expect(decibels(loud(middle(resample(pcm, 48_000, 16_000))) / before)).toBeLessThan(-STOP_DB + 3)
  })

  it.each([44_100, 22_050, 8000, 16_000, 48_000])('brings %d Hz to the rate of the denoiser', (rate) => {
    const got = resample(tone(440, rate), rate, 48_000)
    expect(got.length).toBe(24_000)
    expect(apart(got, tone(440, 48_000))).toBeLessThan(1e-3)
  })

  it('takes an empty sound and a single sample', () => {
    expect(resample(new Float32Array(0), 48_000, 16_000).length).toBe(0)
    expect(resample(new Float32Array(1), 48_000, 16_000).length).toBe(0)
  })
})

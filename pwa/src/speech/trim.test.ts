import { describe, expect, it } from 'vitest'
import { spokenSpan } from './trim.ts'

/** Frames of ten milliseconds, each likely or unlikely to be speech. */
const frames = (...runs: [number, number][]) => runs.flatMap(([length, likely]) => Array.from({ length }, () => likely))

describe('what is said is cut out of what the microphone heard', () => {
  it('stands from a little before the first word to a little after the last', () => {
    expect(spokenSpan(frames([100, 0], [80, 0.9], [200, 0.1]))).toEqual([100 - 25, 180 + 30])
  })

  it('a pause within a sentence stays in it', () => {
    const [from, to] = spokenSpan(frames([50, 0], [40, 1], [150, 0], [40, 1], [90, 0])) as [number, number]
    expect(from).toBeLessThan(50)
    expect(to).toBeGreaterThan(280)
  })

  it('speech from the first to the last moment is kept whole', () => {
    expect(spokenSpan(frames([120, 0.95]))).toEqual([0, 120])
  })

  it('a knock of thirty milliseconds is no word, nor is silence, nor nothing', () => {
    expect(spokenSpan(frames([100, 0], [3, 1], [100, 0]))).toBeNull()
    expect(spokenSpan(frames([300, 0.2]))).toBeNull()
    expect(spokenSpan([])).toBeNull()
  })
})

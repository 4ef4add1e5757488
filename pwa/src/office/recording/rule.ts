// A rule laid along a recording: its graduations, and the word that is played at a moment. Pure.

import type { TimedWord } from './timed_words.ts'

/** Steps between labels in milliseconds, and into how many parts each is divided. */
const STEPS: [number, number][] = [
  [500, 5],
  [1000, 10],
  [2000, 4],
  [5000, 5],
  [10_000, 10],
  [30_000, 6],
  [60_000, 6],
  [300_000, 5],
  [600_000, 10],
  [3_600_000, 6],
]
const MOST_LABELS = 7

export interface Graduations {
  ticks: { ms: number; long: boolean }[]
  labels: { ms: number; words: string }[]
}

/** Where the rule is marked: at most seven labels, the last one left out where it would stand at the very end. */
export function graduations(lengthMs: number): Graduations {
  const [step, parts] = STEPS.find(([ms]) => lengthMs / ms <= MOST_LABELS) ?? STEPS.at(-1)!
  const small = step / parts
  const ticks = Array.from({ length: Math.floor(lengthMs / small) + 1 }, (_, n) => ({ ms: n * small, long: n % parts === 0 }))
  const labels = ticks.filter(({ ms, long }) => long && ms > 0 && ms < lengthMs * 0.97).map(({ ms }) => ({ ms, words: moment(ms) }))
  return { ticks, labels }
}

/** "0.5", "12", "1:30": seconds, and minutes once there are any. */
function moment(ms: number): string {
  if (ms < 60_000) return String(ms / 1000)
  return `${Math.floor(ms / 60_000)}:${String((ms / 1000) % 60).padStart(2, '0')}`
}

/** The word that is played at a moment: its place in the line, or null in a pause. A word without length has its first millisecond. */
export function litAt(words: readonly TimedWord[], at: number): number | null {
  const index = words.findIndex(([, from, to]) => at >= from && at < Math.max(to, from + 1))
  return index < 0 ? null : index
}

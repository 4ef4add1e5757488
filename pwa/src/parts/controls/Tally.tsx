import { say } from '../words/say.ts'
import { MOST_STROKES, tallyPath, tallyWidth } from './tally.ts'
import './signs.css'

const WORDS = { records: 'tally.records', readings: 'tally.readings' } as const

/** Tally strokes for a count of records, in line with the words; a screen reader hears the number. */
export function Tally({ count, of = 'records' }: { count: number; of?: keyof typeof WORDS }) {
  if (count === 0) return null
  const words = <span class="unseen">{say(WORDS[of], { count })}</span>
  const width = tallyWidth(count) + 6
  if (count > MOST_STROKES) {
    return (
      <span class="tally-figure figure">
        <span aria-hidden="true">{count}</span>
        {words}
      </span>
    )
  }
  return (
    <span class="tally">
      <svg width={width} height="14" viewBox={`-4 -2 ${width} 14`} aria-hidden="true">
        <path d={tallyPath(count, 0, 0)} fill="none" stroke="currentColor" stroke-width="1.5" />
      </svg>
      {words}
    </span>
  )
}

import { MOST_STROKES, tallyPath, tallyWidth } from './tally.ts'

/** Tally strokes for a count of records, as a word would stand in a line; a screen reader hears the number. */
export function Tally({ count, of = 'records' }: { count: number; of?: string }) {
  if (count === 0) return null
  if (count > MOST_STROKES) return <span class="tally-figure figure">{count}<span class="unseen"> {of}</span></span>
  const width = tallyWidth(count) + 6
  return (
    <span class="tally">
      <svg width={width} height="14" viewBox={`-4 -2 ${width} 14`} aria-hidden="true">
        <path d={tallyPath(count, 0, 0)} fill="none" stroke="currentColor" stroke-width="1.5" />
      </svg>
      <span class="unseen">
        {count} {of}
      </span>
    </span>
  )
}

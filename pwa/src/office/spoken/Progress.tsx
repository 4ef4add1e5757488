import { address } from '../frame/route.ts'
import { count } from '../frame/words.ts'
import type { Tally } from './shapes.ts'
import { progressWords } from './words.ts'

/** How many recordings have their words, and what stands in the way of the others. */
export function Progress({ tally }: { tally: Tally | null }) {
  if (!tally) return <div class="spoken-progress" />
  const usable = tally.recognisers.filter((one) => one.usable).length
  const all = tally.transcribed + tally.waiting
  return (
    <div class="spoken-progress">
      {tally.waiting > 0 && <progress max={all} value={tally.transcribed} aria-label="Transcribing" />}
      <p role="status">
        {progressWords(tally)}
        {tally.waiting > 0 && usable > 0 && ' The work goes on when you leave this sheet.'}
      </p>
      {tally.coming > 0 && <p>{count(tally.coming, 'recording')} on the way from the phones.</p>}
      {tally.undecodable > 0 && <p>{count(tally.undecodable, 'recording')} cannot be decoded.</p>}
      {usable === 0 && (
        <p class="caution">
          <b>No recogniser is usable here, so nothing is transcribed.</b> <a href={address(['spoken', 'recognisers'])}>Why, and what to do</a>
        </p>
      )}
    </div>
  )
}

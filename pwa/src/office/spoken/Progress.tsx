import { address } from '../frame/route.ts'
import type { Tally } from './shapes.ts'
import { progressWords } from './words.ts'
import { say } from '../frame/say.ts'

/** How many recordings are transcribed, and what prevents the others. */
export function Progress({ tally }: { tally: Tally | null }) {
  if (!tally) return <div class="spoken-progress soft" />
  const usable = tally.recognisers.filter(({ usable }) => usable).length
  const all = tally.transcribed + tally.waiting
  return (
    <div class="spoken-progress soft">
      {tally.waiting > 0 && <progress max={all} value={tally.transcribed} aria-label={say('spoken.transcribing')} />}
      <p role="status">
        {progressWords(tally)}
        {tally.waiting > 0 && usable > 0 && ` ${say('spoken.may_leave')}`}
      </p>
      {tally.coming > 0 && <p>{say('spoken.coming', { count: tally.coming })}</p>}
      {tally.undecodable > 0 && <p>{say('spoken.undecodable', { count: tally.undecodable })}</p>}
      {usable === 0 && (
        <p class="caution">
          <b>{say('spoken.no_recogniser')}</b> <a href={address(['spoken', 'recognisers'])}>{say('spoken.why_no_recogniser')}</a>
        </p>
      )}
    </div>
  )
}

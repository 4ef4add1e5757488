import { nameOf } from '../frame/words.ts'
import { dayAndClock } from '../frame/words.ts'
import type { Note } from '../frame/shapes.ts'
import { standingWords } from './words.ts'
import { say } from '../frame/say.ts'

/** Who transcribed it: drawn broken while only a machine has, whole once a person has listened and confirmed. */
export function Stamp({ note }: { note: Note }) {
  if (note.state === 'confirmed') {
    const by = note.confirmed
    return (
      <span class="stamp is-person">
        <b>{say('spoken.confirmed')}</b>
        {by && (
          <>
            {' '}
            {say('spoken.by_at', { name: nameOf(by.author), time: dayAndClock(by.claimed) })}
          </>
        )}
      </span>
    )
  }
  if (!note.text) return null
  const more = standingWords(note)
  return (
    <span class="stamp is-machine">
      <b>{say('spoken.machine_transcript')}</b>
      {more && `, ${more}`}
    </span>
  )
}

/** A flag as on a drawing: something here needs an answer. */
export function QueryMark({ words = say('spoken.query') }: { words?: string }) {
  return (
    <span class="query-mark caution bold">
      <svg viewBox="0 0 22 20" width="22" height="20" aria-hidden="true">
        <path class="hollow" d="M11 1.5 21 18.5H1Z" />
        <text x="11" y="16">
          ?
        </text>
      </svg>
      <span>{words}</span>
    </span>
  )
}

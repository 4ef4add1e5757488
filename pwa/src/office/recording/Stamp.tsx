import { nameOf } from '../frame/words.ts'
import { dayAndClock } from '../frame/words.ts'
import type { Note } from '../frame/shapes.ts'
import { standingWords } from './words.ts'

/** Who stands behind the words: drawn broken while only a machine does, whole once a person has listened. */
export function Stamp({ note }: { note: Note }) {
  if (note.state === 'confirmed') {
    const by = note.confirmed
    return (
      <span class="stamp is-person">
        <b>confirmed</b>
        {by && (
          <>
            {' '}
            by {nameOf(by.author)}, {dayAndClock(by.claimed)}
          </>
        )}
      </span>
    )
  }
  if (!note.text) return null
  const more = standingWords(note)
  return (
    <span class="stamp is-machine">
      <b>machine transcript</b>
      {more && `, ${more}`}
    </span>
  )
}

/** A flag note of the drawing office: something here waits for an answer. */
export function QueryMark({ words = 'query' }: { words?: string }) {
  return (
    <span class="query-mark">
      <svg viewBox="0 0 22 20" width="22" height="20" aria-hidden="true">
        <path d="M11 1.5 21 18.5H1Z" />
        <text x="11" y="16">
          ?
        </text>
      </svg>
      <span>{words}</span>
    </span>
  )
}

import { Fragment } from 'preact'
import type { Note } from '../frame/shapes.ts'
import { marked } from './marked.ts'
import { by } from './words.ts'

/** The words of a recording that a search found, with the words that were searched for marked. */
export function Hit({ note, sought }: { note: Note; sought: string[] }) {
  return (
    <span class="found-text own-line">
      “
      {marked(note.text, sought).map(([text, hit], number) => (
        <Fragment key={number}>{hit ? <mark>{text}</mark> : text}</Fragment>
      ))}
      ” <span class={`stamp is-${note.by === 'person' ? 'person' : 'machine'}`}>{by(note)}</span>
    </span>
  )
}

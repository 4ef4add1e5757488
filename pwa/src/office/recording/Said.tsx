import { useEffect } from 'preact/hooks'
import { useGet } from '../frame/useGet.ts'
import { original } from '../frame/Thumb.tsx'
import { address } from '../frame/route.ts'
import type { Item, Media, Note } from '../frame/shapes.ts'
import { SpokenSound } from './SpokenSound.tsx'
import { QueryMark, Stamp } from './Stamp.tsx'
import { by, wordsFor } from './words.ts'
import { say } from '../frame/say.ts'

/** A recording in the record, with its words and who confirmed them. */
export function RecordedSound({ item, medium }: { item: Item; medium: Media }) {
  // Lists leave out when each word is heard; the record alone has it.
  const path = item.spoken?.text ? `/api/entries/${item.id}` : null
  const { data: record, reload } = useGet<Item>(path)
  const whole = record?.id === item.id && record.spoken ? record.spoken : item.spoken
  useEffect(reload, [item.spoken?.text, item.spoken?.state])
  const note = item.spoken ? { ...whole!, ...item.spoken, results: whole!.results, words: whole!.words ?? [] } : null
  return (
    <>
      <SpokenSound
        key={item.id}
        src={original(medium.sha256)}
        seconds={Number(item.body['duration_ms'] ?? 0) / 1000}
        name={say('spoken.recording_of', { number: String(item.exhibit) })}
        text={note?.text ?? ''}
        words={note ? wordsFor(note) : []}
      />
      {note && (
        <p class="slip-stamp along wrapped">
          {note.query && <QueryMark />}
          {note.text ? <Stamp note={note} /> : <span class="soft">{by(note)}</span>}{' '}
          <a href={address(['spoken'], { sound: item.id, job: item.job?.id })}>
            {linkWords(note)}
          </a>
        </p>
      )}
    </>
  )
}

function linkWords(note: Note): string {
  if (note.query) return say('spoken.answer_query')
  return note.state === 'confirmed' ? say('spoken.see_heard') : say('spoken.confirm_or_write')
}

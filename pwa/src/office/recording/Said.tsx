import { useEffect } from 'preact/hooks'
import { useAsk } from '../frame/useAsk.ts'
import { original } from '../frame/Thumb.tsx'
import { address } from '../frame/route.ts'
import type { Item, Media } from '../frame/shapes.ts'
import { SpokenSound } from './SpokenSound.tsx'
import { QueryMark, Stamp } from './Stamp.tsx'
import { by, wordsFor } from './words.ts'

/** A recording in the record, with what is said in it and who stands behind the words. */
export function Said({ item, medium }: { item: Item; medium: Media }) {
  // Lists leave out when each word is heard; the record alone has it.
  const asks = item.spoken?.text ? `/api/entries/${item.id}` : null
  const { told, again } = useAsk<Item>(asks)
  const whole = told?.id === item.id && told.spoken ? told.spoken : item.spoken
  useEffect(again, [item.spoken?.text, item.spoken?.state])
  const note = item.spoken ? { ...whole!, ...item.spoken, results: whole!.results, words: whole!.words ?? [] } : null
  return (
    <>
      <SpokenSound
        key={item.id}
        src={original(medium.sha256)}
        seconds={Number(item.body['duration_ms'] ?? 0) / 1000}
        name={`Recording, exhibit ${item.exhibit}`}
        text={note?.text ?? ''}
        words={note ? wordsFor(note) : []}
      />
      {note && (
        <p class="slip-stamp">
          {note.query && <QueryMark />}
          {note.text ? <Stamp note={note} /> : <span class="soft">{by(note)}</span>}{' '}
          <a href={address(['spoken'], { sound: item.id, job: item.job?.id })}>
            {note.query ? 'Answer the query' : note.state === 'confirmed' ? 'What was heard' : 'Confirm or write what is said'}
          </a>
        </p>
      )}
    </>
  )
}

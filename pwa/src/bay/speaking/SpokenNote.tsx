import { useState } from 'preact/hooks'
import { confirmTranscript } from '../../capture/index.ts'
import { Field } from '../../parts/controls/Field.tsx'
import { Sheet } from '../../parts/controls/Sheet.tsx'
import { type Row, spokenOf } from '../../store/index.ts'
import type { SpokenNote as Note } from '../../trade/spoken/notes.ts'
import { Told } from '../frame/Frame.tsx'
import { useAsked } from '../frame/useAsked.ts'
import { useSaving } from '../frame/useSaving.ts'
import { nameOf } from '../frame/who.ts'
import { clockTime } from '../frame/words.ts'

/** What is said in a recording: by machine until a person has listened and says so. */
export function SpokenNote({ row }: { row: Row }) {
  const note = useAsked<Note | null>(null, () => spokenOf(row.id), [row.id])
  const [writing, setWriting] = useState(false)
  const { told, busy, keep } = useSaving()
  if (!note) return null
  const confirm = async (text: string) => {
    if (await keep(() => confirmTranscript(row, text), 'Saved.')) setWriting(false)
  }
  const listened = note.state === 'confirmed'
  return (
    <section class="transcript" aria-label="What is said">
      <p class={listened || !note.text ? 'transcript-by' : 'transcript-by is-machine'}>{byWords(note)}</p>
      {note.text && <blockquote class="transcript-text">{note.text}</blockquote>}
      <Told words={told.words} wrong={told.wrong} />
      {!row.withdrawn && (
        <div class="pair">
          {note.text && !listened && (
            <button type="button" disabled={busy} onClick={() => void confirm(note.text)}>
              Confirm what is said
            </button>
          )}
          <button type="button" disabled={busy} onClick={() => setWriting(true)}>
            {note.text ? 'Write what is said instead' : 'Write what is said'}
          </button>
        </div>
      )}
      {writing && <Write text={note.text} busy={busy} wrong={told.wrong ? told.words : ''} onKeep={(text) => void confirm(text)} onClose={() => setWriting(false)} />}
    </section>
  )
}

function byWords({ state, text, confirmed }: Note): string {
  if (confirmed) return `Confirmed by ${nameOf(confirmed.author)}, ${clockTime(confirmed.claimed)}`
  if (state === 'waiting') return 'Its text follows when the server has heard it.'
  if (state === 'nothing' || !text) return 'The server understood nothing of it.'
  return state === 'differ' ? 'Machine transcript; the recognisers differ' : 'Machine transcript'
}

/** A person listens and writes. What a machine wrote stays readable beside it. */
function Write(props: { text: string; busy: boolean; wrong: string; onKeep: (text: string) => void; onClose: () => void }) {
  const [text, setText] = useState(props.text)
  return (
    <Sheet title="What is said" onClose={props.onClose}>
      <div class="form">
        <Field label="As it is said" value={text} onValue={setText} lines={4} needed hint="Listen first. What the machine wrote stays readable." />
        <Told words={props.wrong} wrong />
        <button type="button" class="wide main-act" disabled={props.busy || !text.trim()} onClick={() => props.onKeep(text.trim())}>
          That is what is said
        </button>
      </div>
    </Sheet>
  )
}

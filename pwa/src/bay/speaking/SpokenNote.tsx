import { useState } from 'preact/hooks'
import { confirmTranscript } from '../../capture/index.ts'
import { Field } from '../../parts/controls/Field.tsx'
import { Sheet } from '../../parts/controls/Sheet.tsx'
import { type Row, spokenOf } from '../../store/index.ts'
import type { SpokenNote as Note } from '../../trade/spoken/notes.ts'
import { StatusMessage } from '../frame/Frame.tsx'
import { useStored } from '../frame/useStored.ts'
import { useSaving } from '../frame/useSaving.ts'
import { nameOf } from '../frame/who.ts'
import { clockTime } from '../frame/words.ts'
import { say } from '../frame/say.ts'

/** What was said in a recording: by machine until a person has listened and confirms it. */
export function SpokenNote({ row }: { row: Row }) {
  const note = useStored<Note | null>(null, () => spokenOf(row.id), [row.id])
  const [writing, setWriting] = useState(false)
  const { message, busy, attempt } = useSaving()
  if (!note) return null
  const confirm = async (text: string) => {
    if (await attempt(() => confirmTranscript(row, text), say('common.saved'))) setWriting(false)
  }
  const listened = note.state === 'confirmed'
  return (
    <section class="transcript" aria-label={say('transcript.title')}>
      <p class={listened || !note.text ? 'transcript-by' : 'transcript-by is-machine'}>{byWords(note)}</p>
      {note.text && <blockquote class="transcript-text breaks larger">{note.text}</blockquote>}
      <StatusMessage words={message.words} wrong={message.wrong} />
      {!row.withdrawn && (
        <div class="pair wraps">
          {note.text && !listened && (
            <button type="button" disabled={busy} onClick={() => void confirm(note.text)}>
              {say('transcript.confirm')}
            </button>
          )}
          <button type="button" disabled={busy} onClick={() => setWriting(true)}>
            {note.text ? say('transcript.write_instead') : say('transcript.write')}
          </button>
        </div>
      )}
      {writing && <Write text={note.text} busy={busy} wrong={message.wrong ? message.words : ''} onKeep={(text) => void confirm(text)} onClose={() => setWriting(false)} />}
    </section>
  )
}

function byWords({ state, text, confirmed }: Note): string {
  if (confirmed) return say('transcript.confirmed', { name: nameOf(confirmed.author), time: clockTime(confirmed.claimed) })
  if (state === 'waiting') return say('transcript.waiting')
  if (state === 'nothing' || !text) return say('transcript.nothing')
  return state === 'differ' ? say('transcript.differ') : say('speaking.machine_transcript')
}

/** A person listens and writes. What a machine wrote stays readable beside it. */
function Write(props: { text: string; busy: boolean; wrong: string; onKeep: (text: string) => void; onClose: () => void }) {
  const [text, setText] = useState(props.text)
  return (
    <Sheet title={say('transcript.title')} onClose={props.onClose}>
      <div class="form">
        <Field label={say('transcript.words')} value={text} onValue={setText} lines={4} needed hint={say('transcript.hint')} />
        <StatusMessage words={props.wrong} wrong />
        <button type="button" class="wide main-act" disabled={props.busy || !text.trim()} onClick={() => props.onKeep(text.trim())}>
          {say('transcript.save')}
        </button>
      </div>
    </Sheet>
  )
}

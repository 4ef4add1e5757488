import { useState } from 'preact/hooks'
import { Field } from '../../parts/controls/Field.tsx'
import { ApiError } from '../frame/api.ts'
import { writeAtDesk } from '../frame/write.ts'
import { Fault } from '../frame/Say.tsx'
import type { SpokenItem } from './shapes.ts'

interface Props {
  item: SpokenItem
  /** After it is in the log. */
  done: () => void
}

/** A person's word on what is said: as the machine has it, or as the person writes it. It goes into the record under their name. */
export function Confirm({ item, done }: Props) {
  const note = item.spoken
  const [text, setText] = useState<string | null>(null)
  const [remark, setRemark] = useState('')
  const [fault, setFault] = useState('')
  const [sending, setSending] = useState(false)
  const send = async (said: string) => {
    if (!said.trim()) return setFault('Write what is said. Where nothing can be made out, say so in the remark and write: not to be made out.')
    setSending(true)
    setFault('')
    try {
      const body = { entry: item.id, entry_hash: item.hash, text: said.trim(), remark: remark.trim() }
      const location = item.place ? { place: item.place, point: item.point } : null
      await writeAtDesk({ job: item.job?.id ?? null, kind: 'transcript_confirmed', location, body, media: [] })
      setText(null)
      setRemark('')
      done()
    } catch (reason) {
      setFault(reason instanceof ApiError ? reason.message : String(reason))
    } finally {
      setSending(false)
    }
  }
  if (text === null)
    return (
      <>
        <Fault>{fault}</Fault>
        <div class="acts">
          {note.state !== 'confirmed' && note.text && (
            <button type="button" class="main-act" disabled={sending} onClick={() => send(note.text)}>
              Confirm as said
            </button>
          )}
          <button type="button" onClick={() => setText(note.text)}>
            Write what is said
          </button>
        </div>
      </>
    )
  return (
    <form
      noValidate
      class="spoken-write"
      onSubmit={(event) => {
        event.preventDefault()
        void send(text)
      }}
    >
      <Field
        label="What is said"
        value={text}
        onValue={setText}
        lines={4}
        needed
        autoFocus
        hint="Word for word, as you hear it. What the machine made of it stays readable."
      />
      <Field label="Remark" value={remark} onValue={setRemark} hint="Who is speaking, what cannot be made out." />
      <Fault>{fault}</Fault>
      <div class="acts">
        <button class="main-act" disabled={sending}>
          Keep it under my name
        </button>
        <button type="button" class="plain" onClick={() => setText(null)}>
          Leave
        </button>
      </div>
    </form>
  )
}

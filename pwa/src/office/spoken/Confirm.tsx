import { useState } from 'preact/hooks'
import { Field } from '../../parts/controls/Field.tsx'
import { ApiError } from '../frame/api.ts'
import { writeAtDesk } from '../frame/write.ts'
import { FaultNotice } from '../frame/notices.tsx'
import type { SpokenItem } from './shapes.ts'
import { say } from '../frame/say.ts'

interface Props {
  item: SpokenItem
  /** After it is in the log. */
  done: () => void
}

/** Confirms the machine's words, or takes what a person writes instead. Either goes into the record under their name. */
export function Confirm({ item, done }: Props) {
  const note = item.spoken
  const [text, setText] = useState<string | null>(null)
  const [remark, setRemark] = useState('')
  const [fault, setFault] = useState('')
  const [sending, setSending] = useState(false)
  const send = async (words: string) => {
    if (!words.trim()) return setFault(say('spoken.words_needed'))
    setSending(true)
    setFault('')
    try {
      const body = { entry: item.id, entry_hash: item.hash, text: words.trim(), remark: remark.trim() }
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
  const submit = (event: Event) => {
    event.preventDefault()
    void send(text ?? '')
  }
  if (text !== null)
    return (
      <form noValidate class="spoken-write" onSubmit={submit}>
        <Field label={say('spoken.what_was_said')} value={text} onValue={setText} lines={4} needed autoFocus hint={say('spoken.what_was_said_hint')} />
        <Field label={say('spoken.remark')} value={remark} onValue={setRemark} hint={say('spoken.remark_hint')} />
        <FaultNotice>{fault}</FaultNotice>
        <div class="acts">
          <button class="main-act" disabled={sending}>
            {say('spoken.save_under_my_name')}
          </button>
          <button type="button" class="plain" onClick={() => setText(null)}>
            {say('common.cancel')}
          </button>
        </div>
      </form>
    )
  return (
    <>
      <FaultNotice>{fault}</FaultNotice>
      <div class="acts">
        {note.state !== 'confirmed' && note.text && (
          <button type="button" class="main-act" disabled={sending} onClick={() => send(note.text)}>
            {say('spoken.confirm')}
          </button>
        )}
        <button type="button" onClick={() => setText(note.text)}>
          {say('spoken.write')}
        </button>
      </div>
    </>
  )
}

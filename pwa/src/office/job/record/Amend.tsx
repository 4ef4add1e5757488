import { useState } from 'preact/hooks'
import { Field } from '../../../parts/controls/Field.tsx'
import { RecordFields, writtenFields } from '../../../parts/controls/RecordFields.tsx'
import { changed } from '../../../trade/record/fields.ts'
import { ApiError } from '../../frame/api.ts'
import { PlaceField } from '../desk/PlaceField.tsx'
import { writeAtDesk } from '../../frame/write.ts'
import { FaultNotice } from '../../frame/notices.tsx'
import { Sheet } from '../../frame/Sheet.tsx'
import type { Item, Location } from '../../frame/shapes.ts'
import { standing } from './fields.ts'
import { useFormTables } from './formTables.ts'
import { added } from './state.ts'
import { say } from '../../frame/say.ts'

interface Props {
  item: Item
  how: 'correct' | 'withdraw'
  close: () => void
}

/** A correction or withdrawal: a new record about an earlier record, which stays readable as it was. */
export function Amend({ item, how, close }: Props) {
  const now = standing(item)
  const tables = useFormTables(item)
  const was = writtenFields(item, now.body)
  const [values, setValues] = useState(was)
  const [where, setWhere] = useState<Location>({ place: now.place, point: now.point })
  const [reason, setReason] = useState('')
  const [fault, setFault] = useState('')
  const [sending, setSending] = useState(false)

  const send = async (event: Event) => {
    event.preventDefault()
    if (!reason.trim()) return setFault(say('record.reason_needed'))
    const changes = changed(item.kind, was, values)
    const moved = where.place !== now.place || where.point !== now.point
    if (how === 'correct' && !Object.keys(changes).length && !moved) return setFault(say('record.no_change'))
    const about = { entry: item.id, entry_hash: item.hash, reason: reason.trim() }
    const body = how === 'correct' ? { ...about, changes, location: moved && where.place ? where : null } : about
    setSending(true)
    try {
      const kind = how === 'correct' ? 'entry_corrected' : 'entry_withdrawn'
      const made = await writeAtDesk({ job: item.job?.id ?? null, kind, location: null, body, media: [] })
      await added(made)
      close()
    } catch (trouble) {
      setFault(trouble instanceof ApiError ? trouble.message : String(trouble))
    } finally {
      setSending(false)
    }
  }
  return (
    <Sheet title={say(WORDS[how].title, { number: String(item.exhibit) })} close={close}>
      <form noValidate class="block halves" onSubmit={send}>
        <p class="wide soft">{say(WORDS[how].help, { title: item.title })}</p>
        {how === 'correct' && (
          <RecordFields record={item} values={values} tables={tables} onValues={setValues} onPoint={(point) => setWhere({ ...where, point })} />
        )}
        {how === 'correct' && <PlaceField value={where} put={setWhere} />}
        <div class="wide">
          <Field label={say('common.reason')} value={reason} onValue={setReason} lines={2} needed />
        </div>
        <FaultNotice>{fault}</FaultNotice>
        <div class="acts">
          <button class="main-act" disabled={sending}>
            {say(WORDS[how].send)}
          </button>
        </div>
      </form>
    </Sheet>
  )
}

const WORDS = {
  correct: { title: 'record.correct_title', help: 'record.correct_help', send: 'record.correct_send' },
  withdraw: { title: 'record.withdraw_title', help: 'record.withdraw_help', send: 'record.withdraw_send' },
} as const

import { useState } from 'preact/hooks'
import { Field } from '../../../parts/controls/Field.tsx'
import { Trouble } from '../../frame/api.ts'
import { PlaceField } from '../desk/PlaceField.tsx'
import { writeAtDesk } from '../desk/write.ts'
import { Fault } from '../../frame/Say.tsx'
import { Sheet } from '../../frame/Sheet.tsx'
import type { Item, Location } from '../../frame/shapes.ts'
import { pointWords } from '../../../trade/measuring/procedures.ts'
import { correctable, fieldWords, standing } from './fields.ts'
import { useReadingOptions, withOwn, type Option } from './readingOptions.ts'
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
  const { options, procedure } = useReadingOptions(item)
  const fields = correctable(item).filter((field) => field !== 'reading' || item.body['reading'])
  const was = Object.fromEntries(fields.map((field) => [field, written(now.body[field])]))
  const [values, setValues] = useState(was)
  const [where, setWhere] = useState<Location>({ place: now.place, point: now.point })
  const [reason, setReason] = useState('')
  const [fault, setFault] = useState('')
  const [sending, setSending] = useState(false)

  const write = (field: string, value: string) => {
    setValues((was) => {
      const name = field === 'gauge_id' && options['gauge_id']?.find((option) => option.value === value && value)?.words
      return { ...was, [field]: value, ...(name && { gauge: name }) }
    })
    // The point is the reading in words: both say the same, or the record contradicts itself.
    if (field === 'reading' && procedure) setWhere((was) => ({ ...was, point: pointWords(procedure, value) }))
  }
  const send = async (event: Event) => {
    event.preventDefault()
    if (!reason.trim()) return setFault(say('record.reason_needed'))
    const changes = changed(was, values)
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
      setFault(trouble instanceof Trouble ? trouble.message : String(trouble))
    } finally {
      setSending(false)
    }
  }
  return (
    <Sheet title={say(WORDS[how].title, { number: String(item.exhibit) })} close={close}>
      <form noValidate class="block" onSubmit={send}>
        <p class="wide soft">{say(WORDS[how].help, { title: item.title })}</p>
        {how === 'correct' && <CorrectableFields item={item} fields={fields} values={values} options={options} write={write} />}
        {how === 'correct' && <PlaceField value={where} put={setWhere} />}
        <div class="wide">
          <Field label={say('common.reason')} value={reason} onValue={setReason} lines={2} needed />
        </div>
        <Fault>{fault}</Fault>
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

interface FieldsProps {
  item: Item
  fields: string[]
  values: Record<string, string>
  /** Words to choose from, by field; other fields are typed. */
  options: Record<string, Option[]>
  write: (field: string, value: string) => void
}

/** The fields of the record as they stand, to be written over. */
function CorrectableFields({ item, fields, values, options, write }: FieldsProps) {
  return (
    <>
      {fields.map((field) => (
        <div class={fields.length > 5 && !LONG.has(field) ? '' : 'wide'} key={field}>
          <Field
            label={fieldWords(field, item.kind)}
            value={values[field] ?? ''}
            onValue={(value) => write(field, value)}
            options={withOwn(options[field], values[field] ?? '')}
            lines={LONG.has(field) ? 3 : undefined}
            figures={field === 'value'}
            hint={field === 'condition' ? say('record.commas') : undefined}
          />
        </div>
      ))}
    </>
  )
}

const LONG = new Set(['caption', 'text', 'observation', 'opinion', 'remark'])

function written(value: unknown): string {
  return Array.isArray(value) ? value.join(', ') : String(value ?? '')
}

/** The fields whose text is different, in the shape the kind asks for. */
export function changed(was: Record<string, string>, now: Record<string, string>): Record<string, unknown> {
  const different = Object.entries(now).filter(([field, value]) => value.trim() !== (was[field] ?? '').trim())
  return Object.fromEntries(
    different.map(([field, value]) => [field, field === 'condition' ? parted(value) : value.trim()]),
  )
}

/** The words between commas, each once. */
export function parted(words: string): string[] {
  return [
    ...new Set(
      words
        .split(',')
        .map((word) => word.trim())
        .filter(Boolean),
    ),
  ]
}

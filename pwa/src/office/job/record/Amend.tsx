import { useState } from 'preact/hooks'
import { Field } from '../../../parts/controls/Field.tsx'
import { ApiError } from '../../frame/api.ts'
import { PlaceField } from '../desk/PlaceField.tsx'
import { writeAtDesk } from '../../frame/write.ts'
import { Fault } from '../../frame/Say.tsx'
import { Sheet } from '../../frame/Sheet.tsx'
import type { Item, Location } from '../../frame/shapes.ts'
import { pointWords } from '../../../trade/measuring/procedures.ts'
import { correctable, fieldWords, standing } from './fields.ts'
import { useReadingOptions, withOwn } from './readingOptions.ts'
import { added } from './state.ts'

interface Props {
  item: Item
  how: 'correct' | 'withdraw'
  close: () => void
}

/** A correction or withdrawal: a new record that speaks about an old one. Nothing is changed, both stay readable. */
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
      const name = field === 'gauge_id' && options['gauge_id']?.find((one) => one.value === value && value)?.words
      return { ...was, [field]: value, ...(name && { gauge: name }) }
    })
    // The point is the reading in words: both say the same, or the record contradicts itself.
    if (field === 'reading' && procedure) setWhere((was) => ({ ...was, point: pointWords(procedure, value) }))
  }
  const send = async (event: Event) => {
    event.preventDefault()
    if (!reason.trim()) return setFault('Give the reason: it stands beside the record for every later reader.')
    const changes = changed(was, values)
    const moved = where.place !== now.place || where.point !== now.point
    if (how === 'correct' && !Object.keys(changes).length && !moved)
      return setFault('Nothing is different yet. Change what is wrong, then give the reason.')
    const about = { entry: item.id, entry_hash: item.hash, reason: reason.trim() }
    const body = how === 'correct' ? { ...about, changes, location: moved && where.place ? where : null } : about
    setSending(true)
    try {
      const kind = how === 'correct' ? 'entry_corrected' : 'entry_withdrawn'
      const made = await writeAtDesk({
        job: item.job?.id ?? null,
        kind,
        location: null,
        body,
        media: [],
      })
      await added(made)
      close()
    } catch (trouble) {
      setFault(trouble instanceof ApiError ? trouble.message : String(trouble))
    } finally {
      setSending(false)
    }
  }
  return (
    <Sheet title={`${how === 'correct' ? 'Correct' : 'Withdraw'} exhibit ${item.exhibit}`} close={close}>
      <form noValidate class="block" onSubmit={send}>
        <p class="wide soft">
          {item.title}.{' '}
          {how === 'correct'
            ? 'What is written now stays readable, struck out, beside what you write here.'
            : 'The record stays readable, marked as withdrawn, with your reason.'}
        </p>
        {how === 'correct' &&
          fields.map((field) => (
            <div class={fields.length > 5 && !LONG.has(field) ? '' : 'wide'} key={field}>
              <Field
                label={fieldWords(field, item.kind)}
                value={values[field] ?? ''}
                onValue={(value) => write(field, value)}
                options={withOwn(options[field], values[field] ?? '')}
                lines={LONG.has(field) ? 3 : undefined}
                figures={field === 'value'}
                hint={field === 'condition' ? 'Parted by commas.' : undefined}
              />
            </div>
          ))}
        {how === 'correct' && <PlaceField value={where} put={setWhere} />}
        <div class="wide">
          <Field label="Reason" value={reason} onValue={setReason} lines={2} needed />
        </div>
        <Fault>{fault}</Fault>
        <div class="acts">
          <button class="main-act" disabled={sending}>
            {how === 'correct' ? 'Add the correction' : 'Withdraw it'}
          </button>
        </div>
      </form>
    </Sheet>
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

import { useState } from 'preact/hooks'
import { correct, withdraw } from '../../capture/index.ts'
import { Field } from '../../parts/controls/Field.tsx'
import { Sheet } from '../../parts/controls/Sheet.tsx'
import type { Job, Row } from '../../store/index.ts'
import { checkCorrection } from '../../trade/record/correcting.ts'
import { KINDS } from '../../trade/record/kinds.ts'
import { StatusMessage } from '../frame/Frame.tsx'
import { nameOfPlace } from '../frame/places.ts'
import { useSaving } from '../frame/useSaving.ts'
import { useWhere } from '../frame/useJob.ts'
import { say } from '../frame/say.ts'

// Fields that a person may put right, in the order of the form. What the phone measured itself is not among them.
const FIELDS: Record<string, string[]> = {
  photo_taken: ['caption'],
  sound_recorded: ['caption'],
  note_made: ['text'],
  measured: ['quantity', 'value', 'unit', 'gauge', 'remark'],
  fastener_tightened: ['fastener', 'value', 'unit', 'tool', 'remark'],
  finding_made: ['observation', 'opinion'],
  document_added: ['title', 'remark'],
}

const LABELS = {
  caption: 'answer.caption',
  text: 'common.note',
  quantity: 'common.what_is_measured',
  value: 'common.value',
  unit: 'common.unit',
  gauge: 'common.gauge_label',
  tool: 'common.tool',
  fastener: 'common.fastener',
  observation: 'common.observation',
  opinion: 'common.opinion',
  title: 'common.title',
  remark: 'common.remark',
} as const

export const fieldWords = (field: string): string => (field in LABELS ? say(LABELS[field as keyof typeof LABELS]) : field)

/** A reading of a procedure is of what the procedure asks: its quantity is not a person's to change. */
function fieldsOf(row: Row): string[] {
  const fields = FIELDS[row.kind] ?? []
  return row.entry.body.procedure ? fields.filter((field) => field !== 'quantity') : fields
}

/** A correction or a withdrawal, each with its reason. The record itself stays as it was made and stays readable. */
export function Answer({ row, job, sort, onClose }: { row: Row; job: Job; sort: 'correct' | 'withdraw'; onClose: (words: string) => void }) {
  const fields = fieldsOf(row)
  const before = Object.fromEntries(fields.map((f) => [f, String(row.entry.body[f] ?? '')]))
  const [now, setNow] = useState(before)
  const [reason, setReason] = useState('')
  const [move, setMove] = useState(false)
  const at = useWhere(job)
  const { message, attempt, busy } = useSaving()
  const elsewhere = KINDS[row.kind]?.mayHaveLocation && at.place && (at.place !== row.place || at.point !== row.point)
  const changes = Object.fromEntries(Object.entries(now).filter(([f, v]) => v !== before[f]))
  const nothing = sort === 'correct' && Object.keys(changes).length === 0 && !move
  const save = async () => {
    const location = move ? { place: at.place, point: at.point } : null
    const act = async () => {
      if (sort === 'withdraw') return withdraw(row, reason.trim())
      // What the record cannot take is refused here, where it can be put right.
      checkCorrection({ changes, location }, row.entry)
      return correct(row, { reason: reason.trim(), changes, location })
    }
    const words = sort === 'withdraw' ? say('answer.withdrawn') : say('answer.corrected')
    if (await attempt(act, words)) onClose(words)
  }
  return (
    <Sheet title={sort === 'withdraw' ? say('answer.withdraw_title') : say('answer.correct_title')} onClose={() => onClose('')}>
      <div class="form">
        <p class="small soft">{say('answer.about')}</p>
        {sort === 'correct' &&
          fields.map((f) => (
            <Field key={f} label={fieldWords(f)} value={now[f] ?? ''} onValue={(v) => setNow({ ...now, [f]: v })} lines={f === 'text' || f === 'observation' || f === 'opinion' ? 3 : undefined} />
          ))}
        {sort === 'correct' && elsewhere && (
          <button type="button" class="wide" aria-pressed={move} onClick={() => setMove(!move)}>
            {say('answer.belongs_to', { place: nameOfPlace(job, at.place, at.point) })}
          </button>
        )}
        <Field label={say('common.reason')} value={reason} onValue={setReason} needed hint={say('answer.reason_hint')} />
        <StatusMessage words={message.words} wrong={message.wrong} />
        <button type="button" class="wide main-act" disabled={busy || nothing || !reason.trim()} onClick={() => void save()}>
          {sort === 'withdraw' ? say('answer.withdraw') : say('answer.save')}
        </button>
      </div>
    </Sheet>
  )
}

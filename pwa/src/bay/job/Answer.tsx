import { useState } from 'preact/hooks'
import { correct, withdraw } from '../../capture/index.ts'
import { Field } from '../../parts/controls/Field.tsx'
import { Sheet } from '../../parts/controls/Sheet.tsx'
import type { Job, Row } from '../../store/index.ts'
import { checkCorrection } from '../../trade/record/correcting.ts'
import { KINDS } from '../../trade/record/kinds.ts'
import { Told } from '../frame/Frame.tsx'
import { nameOfPlace } from '../frame/places.ts'
import { useSaving } from '../frame/useSaving.ts'
import { useWhere } from '../frame/useJob.ts'

// Fields that a person may put right, in the order of the form. What the phone measured itself is not among them.
const FIELDS: Record<string, Record<string, string>> = {
  photo_taken: { caption: 'Caption' },
  sound_recorded: { caption: 'Caption' },
  note_made: { text: 'Note' },
  measured: { quantity: 'What is measured', value: 'Value', unit: 'Unit', gauge: 'Gauge', remark: 'Remark' },
  fastener_tightened: { fastener: 'Fastener', value: 'Value', unit: 'Unit', tool: 'Tool', remark: 'Remark' },
  finding_made: { observation: 'Seen', opinion: 'Opinion' },
  document_added: { title: 'Title', remark: 'Remark' },
}

/** A reading of a procedure is of what the procedure asks: its quantity is not a person's to change. */
function fieldsOf(row: Row): Record<string, string> {
  const { quantity, ...rest } = FIELDS[row.kind] ?? {}
  return row.entry.body.procedure || !quantity ? rest : { quantity, ...rest }
}

/** A correction or a withdrawal, each with its reason. The record itself stays as it was made and stays readable. */
export function Answer({ row, job, sort, onClose }: { row: Row; job: Job; sort: 'correct' | 'withdraw'; onClose: (said: string) => void }) {
  const fields = fieldsOf(row)
  const before = Object.fromEntries(Object.keys(fields).map((f) => [f, String(row.entry.body[f] ?? '')]))
  const [now, setNow] = useState(before)
  const [reason, setReason] = useState('')
  const [move, setMove] = useState(false)
  const at = useWhere(job)
  const { told, keep, busy } = useSaving()
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
    const said = sort === 'withdraw' ? 'Saved: withdrawn.' : 'Saved: corrected.'
    if (await keep(act, said)) onClose(said)
  }
  return (
    <Sheet title={sort === 'withdraw' ? 'Withdraw this record' : 'Correct this record'} onClose={() => onClose('')}>
      <div class="form">
        <p class="small soft">The record stays readable as it was made. What you write is added beside it.</p>
        {sort === 'correct' &&
          Object.entries(fields).map(([f, label]) => (
            <Field key={f} label={label} value={now[f] ?? ''} onValue={(v) => setNow({ ...now, [f]: v })} lines={f === 'text' || f === 'observation' || f === 'opinion' ? 3 : undefined} />
          ))}
        {sort === 'correct' && elsewhere && (
          <button type="button" class="wide" aria-pressed={move} onClick={() => setMove(!move)}>
            Belongs to {nameOfPlace(job, at.place, at.point)}
          </button>
        )}
        <Field label="Reason" value={reason} onValue={setReason} needed hint="Wrong cap in hand, misread the gauge, taken twice." />
        <Told words={told.words} wrong={told.wrong} />
        <button type="button" class="wide main-act" disabled={busy || nothing || !reason.trim()} onClick={() => void save()}>
          {sort === 'withdraw' ? 'Withdraw it' : 'Keep the correction'}
        </button>
      </div>
    </Sheet>
  )
}

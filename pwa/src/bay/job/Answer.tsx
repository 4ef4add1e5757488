import { useState } from 'preact/hooks'
import { correct, withdraw } from '../../capture/index.ts'
import { Field } from '../../parts/controls/Field.tsx'
import { RecordFields, writtenFields } from '../../parts/controls/RecordFields.tsx'
import { Sheet } from '../../parts/controls/Sheet.tsx'
import { known, type Job, type Row } from '../../store/index.ts'
import { checkCorrection } from '../../trade/record/correcting.ts'
import { changed, type FormTables } from '../../trade/record/fields.ts'
import { KINDS } from '../../trade/record/kinds.ts'
import { StatusMessage } from '../frame/Frame.tsx'
import { nameOfPlace } from '../frame/places.ts'
import { useSaving } from '../frame/useSaving.ts'
import { useWhere } from '../frame/useJob.ts'
import { say } from '../frame/say.ts'
import { standingOf } from './readAs.ts'

/** What the form of a correction may choose from, as this phone knows it. */
function formTables(body: Row['entry']['body']): FormTables {
  const { gauges, procedures } = known.value
  return { gauges: Object.values(gauges).map(({ data }) => data), procedure: procedures[String(body.procedure ?? '')]?.data ?? null }
}

/** A correction or a withdrawal, each with its reason. The record itself stays as it was made and stays readable. */
export function Answer({ row, job, sort, onClose }: { row: Row; job: Job; sort: 'correct' | 'withdraw'; onClose: (words: string) => void }) {
  const tables = formTables(row.entry.body)
  const stands = standingOf(row)
  const here = stands.location ?? { place: '', point: '' }
  const before = writtenFields(row.entry, stands.body)
  const [now, setNow] = useState(before)
  const [reason, setReason] = useState('')
  const [move, setMove] = useState(false)
  const [point, setPoint] = useState(here.point)
  const at = useWhere(job)
  const { message, attempt, busy } = useSaving()
  const elsewhere = KINDS[row.kind]?.mayHaveLocation && at.place && (at.place !== here.place || at.point !== here.point)
  const changes = changed(row.kind, before, now)
  const nothing = sort === 'correct' && Object.keys(changes).length === 0 && !move
  const save = async () => {
    const location = move ? { place: at.place, point: at.point } : here.place && point !== here.point ? { place: here.place, point } : null
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
        {sort === 'correct' && <RecordFields record={row.entry} values={now} tables={tables} onValues={setNow} onPoint={setPoint} />}
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

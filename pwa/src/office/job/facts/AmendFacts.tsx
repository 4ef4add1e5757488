import { useState } from 'preact/hooks'
import { Field } from '../../../parts/controls/Field.tsx'
import { useDesk } from '../desk/useDesk.ts'
import { FaultNotice } from '../../frame/notices.tsx'
import { Sheet } from '../../frame/Sheet.tsx'
import { useGet } from '../../frame/useGet.ts'
import { lookAtJob } from '../record/state.ts'
import type { EngineType, Job } from '../../frame/shapes.ts'
import { say } from '../../frame/say.ts'
import { DISTANCE_UNITS } from '../../frame/distance.ts'

const FIELDS = [
  'number',
  'vehicle',
  'registration',
  'engine_type',
  'engine_number',
  'distance',
  'distance_unit',
  'complaint',
  'received_as',
] as const

/** Amends the facts of a job, with the reason. The facts as they were stay in the record. */
export function AmendFacts({ open, close }: { open: Job; close: () => void }) {
  const was = Object.fromEntries(FIELDS.map((name) => [name, String(open[name] ?? '')]))
  const [now, setNow] = useState(was)
  const [reason, setReason] = useState('')
  const { fault, setFault, sending, send } = useDesk()
  const types = useGet<{ engine_types: EngineType[] }>('/api/engine-types')
  const cell = (name: (typeof FIELDS)[number], label: string) => ({
    label,
    value: now[name] ?? '',
    onValue: (value: string) => setNow({ ...now, [name]: value }),
  })
  const save = async (event: Event) => {
    event.preventDefault()
    const changes = Object.fromEntries(
      FIELDS.filter((name) => now[name]?.trim() !== was[name]?.trim()).map((name) => [name, now[name]!.trim()]),
    )
    if (!Object.keys(changes).length) return setFault(say('facts.no_change'))
    if (!reason.trim()) return setFault(say('facts.reason_needed'))
    if (await send({ kind: 'job_amended', location: null, body: { changes, reason: reason.trim() }, media: [] })) {
      await lookAtJob()
      close()
    }
  }
  const options = (types.data?.engine_types ?? []).map((type) => ({ value: type.id, words: type.name }))
  if (!options.some((option) => option.value === was['engine_type']))
    options.unshift({ value: was['engine_type'] ?? '', words: open.engine_type_name || say('record.not_given') })
  return (
    <Sheet title={say('facts.amend_title', { number: open.number })} close={close}>
      <form noValidate class="block halves" onSubmit={save}>
        <Field {...cell('number', say('jobs.field_number'))} figures needed />
        <Field {...cell('registration', say('jobs.field_registration'))} figures />
        <div class="wide">
          <Field {...cell('vehicle', say('jobs.field_vehicle'))} />
        </div>
        <Field {...cell('engine_type', say('jobs.field_type'))} options={options} />
        <Field {...cell('engine_number', say('jobs.field_engine'))} figures />
        <Field {...cell('distance', say('jobs.field_distance'))} keys="decimal" figures />
        <Field {...cell('distance_unit', say('common.unit'))} options={DISTANCE_UNITS} />
        <div class="wide">
          <Field {...cell('complaint', say('jobs.field_complaint'))} lines={3} />
        </div>
        <div class="wide">
          <Field {...cell('received_as', say('jobs.field_condition'))} lines={2} />
        </div>
        <div class="wide">
          <Field label={say('common.reason')} value={reason} onValue={setReason} lines={2} needed />
        </div>
        <FaultNotice>{fault || types.error?.message}</FaultNotice>
        <div class="acts">
          <button class="main-act" disabled={sending}>
            {say('facts.save')}
          </button>
        </div>
      </form>
    </Sheet>
  )
}

import { useState } from 'preact/hooks'
import { Field } from '../../../parts/controls/Field.tsx'
import { useDesk } from '../desk/useDesk.ts'
import { Fault } from '../../frame/Say.tsx'
import { Sheet } from '../../frame/Sheet.tsx'
import { useAsk } from '../../frame/useAsk.ts'
import { DISTANCE_UNITS } from '../../frame/distance.ts'
import { lookAtJob } from '../record/state.ts'
import type { EngineType, Job } from '../../frame/shapes.ts'

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

/** Amends the facts of a job, with the reason. What stood there before stays in the record. */
export function AmendFacts({ open, close }: { open: Job; close: () => void }) {
  const was = Object.fromEntries(FIELDS.map((name) => [name, String(open[name] ?? '')]))
  const [now, setNow] = useState(was)
  const [reason, setReason] = useState('')
  const { fault, setFault, sending, send } = useDesk()
  const types = useAsk<{ engine_types: EngineType[] }>('/api/engine-types')
  const cell = (name: (typeof FIELDS)[number], label: string) => ({
    label,
    value: now[name] ?? '',
    onValue: (value: string) => setNow({ ...now, [name]: value }),
  })
  const keep = async (event: Event) => {
    event.preventDefault()
    const changes = Object.fromEntries(
      FIELDS.filter((name) => now[name]?.trim() !== was[name]?.trim()).map((name) => [name, now[name]!.trim()]),
    )
    if (!Object.keys(changes).length) return setFault('Nothing is different yet.')
    if (!reason.trim()) return setFault('Give the reason: it stands beside the old fact and the new one.')
    if (await send({ kind: 'job_amended', location: null, body: { changes, reason: reason.trim() }, media: [] })) {
      await lookAtJob()
      close()
    }
  }
  const options = (types.told?.engine_types ?? []).map((type) => ({ value: type.id, words: type.name }))
  if (!options.some((option) => option.value === was['engine_type']))
    options.unshift({ value: was['engine_type'] ?? '', words: open.engine_type_name || 'not given' })
  return (
    <Sheet title={`Amend the facts of job ${open.number}`} close={close}>
      <form noValidate class="block" onSubmit={keep}>
        <Field {...cell('number', 'Job number')} figures needed />
        <Field {...cell('registration', 'Registration, hull or plant number')} figures />
        <div class="wide">
          <Field {...cell('vehicle', 'Vehicle')} />
        </div>
        <Field {...cell('engine_type', 'Engine type')} options={options} />
        <Field {...cell('engine_number', 'Engine number')} figures />
        <Field {...cell('distance', 'Distance or hours')} keys="decimal" figures />
        <Field {...cell('distance_unit', 'Unit')} options={DISTANCE_UNITS} />
        <div class="wide">
          <Field {...cell('complaint', "Complaint, in the owner's words")} lines={3} />
        </div>
        <div class="wide">
          <Field {...cell('received_as', 'State on arrival')} lines={2} />
        </div>
        <div class="wide">
          <Field label="Reason" value={reason} onValue={setReason} lines={2} needed />
        </div>
        <Fault>{fault || types.trouble?.message}</Fault>
        <div class="acts">
          <button class="main-act" disabled={sending}>
            Add the amendment
          </button>
        </div>
      </form>
    </Sheet>
  )
}

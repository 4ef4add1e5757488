import { useState } from 'preact/hooks'
import { openJob, stayAt } from '../../capture/index.ts'
import { Choice, Field } from '../../parts/controls/Field.tsx'
import { engineTypes, jobs, phone } from '../../store/index.ts'
import { proposeNumber } from '../../trade/record/jobs.ts'
import { Act, BackAct, Screen, Told } from '../frame/Frame.tsx'
import { instead } from '../frame/route.ts'
import { useDraft } from '../frame/useDraft.ts'
import { useSaving } from '../frame/useSaving.ts'

const BLANK = {
  // Null until somebody writes: the next number is proposed.
  number: null as string | null,
  vehicle: '',
  registration: '',
  engine_type: '',
  engine_number: '',
  distance: '',
  distance_unit: 'km' as 'km' | 'mi' | 'h',
  complaint: '',
  received_as: '',
}

const UNITS = [
  { value: 'km' as const, words: 'km' },
  { value: 'mi' as const, words: 'miles' },
  { value: 'h' as const, words: 'hours' },
]

/** Opens a job, with or without signal. Every letter is kept as it is typed. */
export function NewJob() {
  const draft = useDraft('new-job', BLANK)
  const [missing, setMissing] = useState<Record<string, string>>({})
  const { told, busy, keep } = useSaving()
  const proposed = proposeNumber(jobs.value.map((job) => job.number), phone.value?.device.letter)
  const v = { ...draft.value, number: draft.value.number ?? proposed }
  const types = [...engineTypes.value.values()].sort((a, b) => a.name.localeCompare(b.name))
  const same = v.engine_number ? jobs.value.filter((j) => j.engine_number && j.engine_number === v.engine_number.trim()) : []
  const open = async () => {
    const lacks: Record<string, string> = {}
    if (!v.number.trim()) lacks.number = "Give it the workshop's job number."
    else if (jobs.value.some((j) => j.number === v.number.trim())) lacks.number = `Job ${v.number.trim()} is open already. Take another number.`
    if (!v.engine_type) lacks.engine_type = 'Choose the engine type: the drawing comes from it.'
    setMissing(lacks)
    if (Object.keys(lacks).length) return
    const facts = Object.fromEntries(Object.entries(v).map(([k, text]) => [k, text.trim()])) as typeof v
    const saved = await keep(
      () => openJob({ ...facts, distance_unit: facts.distance ? v.distance_unit : '', earlier_job: same[0]?.id ?? '' }),
      'Saved.',
    )
    if (!saved) return
    await draft.done()
    await stayAt({ job: saved.job, place: 'engine', point: '' })
    instead('bench', saved.job)
  }
  return (
    <Screen
      title="Open a job"
      acts={
        <>
          <BackAct />
          <Act name={busy ? 'Saving' : 'Open the job'} main off={busy} onAct={() => void open()} />
        </>
      }
    >
      <div class="form">
        <Field label="Job number" value={v.number} onValue={(number) => draft.change({ number })} figures needed wrong={missing.number} />
        <Field label="Vehicle, boat or machine" value={v.vehicle} onValue={(vehicle) => draft.change({ vehicle })} />
        <Field label="Registration, hull or plant number" value={v.registration} onValue={(registration) => draft.change({ registration })} figures />
        <Field
          label="Engine type"
          value={v.engine_type}
          onValue={(engine_type) => draft.change({ engine_type })}
          options={[{ value: '', words: types.length ? 'choose' : 'none on this phone yet' }, ...types.map((t) => ({ value: t.id, words: t.name }))]}
          needed
          wrong={missing.engine_type}
          hint={types.length ? undefined : 'Engine types come from the server. Let this phone reach it once.'}
        />
        <Field
          label="Engine number"
          value={v.engine_number}
          onValue={(engine_number) => draft.change({ engine_number })}
          figures
          hint={same.length ? `This engine was here before: job ${same.map((j) => j.number).join(', ')}.` : undefined}
        />
        <Field label="Distance or hours" value={v.distance} onValue={(distance) => draft.change({ distance })} figures keys="decimal" />
        <Choice label="Counted in" options={UNITS} chosen={[v.distance_unit]} onChoose={(distance_unit) => draft.change({ distance_unit })} />
        <Field label="Complaint, in the owner's words" value={v.complaint} onValue={(complaint) => draft.change({ complaint })} lines={3} />
        <Field
          label="Received as"
          value={v.received_as}
          onValue={(received_as) => draft.change({ received_as })}
          hint="In the vehicle, on a pallet, in parts: as it came through the door."
        />
        <Told words={told.words} wrong={told.wrong} />
      </div>
    </Screen>
  )
}

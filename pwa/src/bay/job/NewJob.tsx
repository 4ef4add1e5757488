import { useState } from 'preact/hooks'
import { openJob, stayAt } from '../../capture/index.ts'
import { Choice, Field } from '../../parts/controls/Field.tsx'
import { engineTypes, jobs, phone } from '../../store/index.ts'
import { listed } from '../../trade/ground/sentences.ts'
import { proposeNumber } from '../../trade/record/jobs.ts'
import { Act, BackAct, Screen, StatusMessage } from '../frame/Frame.tsx'
import { instead } from '../frame/route.ts'
import { useDraft } from '../frame/useDraft.ts'
import { useSaving } from '../frame/useSaving.ts'
import { say } from '../frame/say.ts'

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

const units = () => [
  { value: 'km' as const, words: say('new_job.km') },
  { value: 'mi' as const, words: say('new_job.miles') },
  { value: 'h' as const, words: say('new_job.hours') },
]

type Facts = Omit<typeof BLANK, 'number'> & { number: string }

/** What is missing or taken, a sentence for each field; empty where the job can be opened. */
function faultsIn(v: Facts): Record<string, string> {
  const number = v.number.trim()
  const faults: Record<string, string> = {}
  if (!number) faults.number = say('new_job.no_number')
  else if (jobs.value.some((job) => job.number === number)) faults.number = say('new_job.number_taken', { number })
  if (!v.engine_type) faults.engine_type = say('new_job.no_type')
  return faults
}

/** Opens a job, with or without signal. Every letter is stored as it is typed. */
export function NewJob() {
  const draft = useDraft('new-job', BLANK)
  const [faults, setFaults] = useState<Record<string, string>>({})
  const { message, busy, attempt } = useSaving()
  const proposed = proposeNumber(jobs.value.map((job) => job.number), phone.value?.device.letter)
  const v = { ...draft.value, number: draft.value.number ?? proposed }
  const earlier = v.engine_number ? jobs.value.filter((j) => j.engine_number && j.engine_number === v.engine_number.trim()) : []
  const open = async () => {
    const wrong = faultsIn(v)
    setFaults(wrong)
    if (Object.keys(wrong).length) return
    const facts = Object.fromEntries(Object.entries(v).map(([k, text]) => [k, text.trim()])) as typeof v
    const saved = await attempt(
      () => openJob({ ...facts, distance_unit: facts.distance ? v.distance_unit : '', earlier_job: earlier[0]?.id ?? '' }),
      say('common.saved'),
    )
    if (!saved) return
    await draft.done()
    await stayAt({ job: saved.job, place: 'engine', point: '' })
    instead('bench', saved.job)
  }
  return (
    <Screen
      title={say('jobs.open')}
      acts={
        <>
          <BackAct />
          <Act name={busy ? say('common.saving') : say('new_job.open')} main off={busy} onAct={() => void open()} />
        </>
      }
    >
      <NewJobForm v={v} faults={faults} earlier={earlier.map((job) => job.number)} change={draft.change} />
      <StatusMessage words={message.words} wrong={message.wrong} />
    </Screen>
  )
}

function NewJobForm({ v, faults, earlier, change }: { v: Facts; faults: Record<string, string>; earlier: string[]; change: (change: Partial<Facts>) => void }) {
  const types = [...engineTypes.value.values()].sort((a, b) => a.name.localeCompare(b.name))
  return (
    <div class="form">
      <Field label={say('new_job.number')} value={v.number} onValue={(number) => change({ number })} figures needed wrong={faults.number} />
      <Field label={say('new_job.vehicle')} value={v.vehicle} onValue={(vehicle) => change({ vehicle })} />
      <Field label={say('new_job.registration')} value={v.registration} onValue={(registration) => change({ registration })} figures />
      <Field
        label={say('new_job.type')}
        value={v.engine_type}
        onValue={(engine_type) => change({ engine_type })}
        options={[{ value: '', words: types.length ? say('common.choose') : say('new_job.no_types') }, ...types.map((t) => ({ value: t.id, words: t.name }))]}
        needed
        wrong={faults.engine_type}
        hint={types.length ? undefined : say('new_job.types_from_server')}
      />
      <Field
        label={say('new_job.engine_number')}
        value={v.engine_number}
        onValue={(engine_number) => change({ engine_number })}
        figures
        hint={earlier.length ? say('new_job.here_before', { numbers: listed(earlier) }) : undefined}
      />
      <Field label={say('new_job.distance')} value={v.distance} onValue={(distance) => change({ distance })} figures keys="decimal" />
      <Choice label={say('common.unit')} options={units()} chosen={[v.distance_unit]} onChoose={(distance_unit) => change({ distance_unit })} />
      <Field label={say('new_job.complaint')} value={v.complaint} onValue={(complaint) => change({ complaint })} lines={3} />
      <Field
        label={say('new_job.condition')}
        value={v.received_as}
        onValue={(received_as) => change({ received_as })}
        hint={say('new_job.condition_hint')}
      />
    </div>
  )
}

import { useState } from 'preact/hooks'
import { ApiError, query } from '../frame/api.ts'
import { writeAtDesk } from '../frame/write.ts'
import { Field } from '../../parts/controls/Field.tsx'
import { uuid7 } from '../../trade/ground/uuid7.ts'
import { proposeNumber } from '../../trade/record/jobs.ts'
import { DISTANCE_UNITS } from '../frame/distance.ts'
import { go } from '../frame/route.ts'
import { FaultNotice } from '../frame/notices.tsx'
import { say } from '../frame/say.ts'
import type { EngineType, JobLine } from '../frame/shapes.ts'
import { Sheet } from '../frame/Sheet.tsx'
import { useGet } from '../frame/useGet.ts'
import { EarlierJobs } from './EarlierJobs.tsx'

const BLANK = {
  // Null until somebody writes: the next number is proposed.
  number: null as string | null,
  vehicle: '',
  registration: '',
  engine_type: '',
  engine_number: '',
  distance: '',
  distance_unit: '' as string,
  complaint: '',
  received_as: '',
}

type Details = Omit<typeof BLANK, 'number'> & { number: string }

// The newest jobs are enough to see how the workshop counts.
const PROPOSED_AFTER = 50

/** Opens a job from the desk, with the same details as a phone takes in the bay. */
export function NewJob({ close }: { close: () => void }) {
  const [written, setWritten] = useState(BLANK)
  // One sheet opens one job, however often it is sent.
  const [id] = useState(uuid7)
  const [earlier, setEarlier] = useState('')
  const [fault, setFault] = useState('')
  const [sending, setSending] = useState(false)
  const types = useGet<{ engine_types: EngineType[] }>('/api/engine-types')
  const known = useGet<{ jobs: JobLine[] }>(`/api/jobs${query({ limit: PROPOSED_AFTER })}`)
  const proposed = known.data ? proposeNumber(known.data.jobs.map((job) => job.number)) : ''
  const details = { ...written, number: written.number ?? proposed }

  const send = async (event: Event) => {
    event.preventDefault()
    if (!details.number.trim()) return setFault(say('jobs.number_needed'))
    if (!details.engine_type) return setFault(say('jobs.type_needed'))
    setSending(true)
    try {
      const body = { ...details, earlier_job: earlier }
      const made = await writeAtDesk({ job: id, kind: 'job_opened', location: null, body, media: [] })
      close()
      go(['job', made.job?.id ?? id])
    } catch (reason) {
      setFault(reason instanceof ApiError ? reason.message : String(reason))
    } finally {
      setSending(false)
    }
  }
  const put = (name: keyof Details, value: string) => setWritten({ ...written, [name]: value })
  return (
    <Sheet title={say('jobs.new_job')} close={close}>
      <form noValidate onSubmit={send} class="block halves">
        <EngineFields details={details} put={put} types={types.data?.engine_types ?? []} earlier={earlier} setEarlier={setEarlier} />
        <StoryFields details={details} put={put} />
        <FaultNotice>{fault || types.error?.message}</FaultNotice>
        <div class="acts">
          <button class="main-act" disabled={sending}>
            {sending ? say('jobs.opening') : say('jobs.open')}
          </button>
        </div>
      </form>
    </Sheet>
  )
}

interface FieldsProps {
  details: Details
  put: (name: keyof Details, value: string) => void
}

interface EngineFieldsProps extends FieldsProps {
  types: EngineType[]
  /** Job of an earlier visit that this one belongs to; '' for none. */
  earlier: string
  setEarlier: (job: string) => void
}

/** What the job is about: its number, the vehicle and its engine. */
function EngineFields({ details, put, types, earlier, setEarlier }: EngineFieldsProps) {
  const cell = (name: keyof Details) => ({ value: details[name], onValue: (value: string) => put(name, value) })
  const choices = [{ value: '', words: say('common.choose') }, ...types.map((type) => ({ value: type.id, words: type.name }))]
  return (
    <>
      <Field label={say('jobs.field_number')} {...cell('number')} needed figures autoFocus />
      <Field label={say('jobs.field_registration')} {...cell('registration')} figures />
      <div class="wide">
        <Field label={say('jobs.field_vehicle')} {...cell('vehicle')} />
      </div>
      <Field label={say('jobs.field_type')} {...cell('engine_type')} options={choices} needed />
      <Field label={say('jobs.field_engine')} {...cell('engine_number')} figures />
      <EarlierJobs number={details.engine_number} chosen={earlier} choose={setEarlier} />
    </>
  )
}

/** How far it has run, what the owner complains of, how it came in. */
function StoryFields({ details, put }: FieldsProps) {
  const cell = (name: keyof Details) => ({ value: details[name], onValue: (value: string) => put(name, value) })
  return (
    <>
      <Field label={say('jobs.field_distance')} {...cell('distance')} keys="decimal" figures />
      <Field label={say('common.unit')} {...cell('distance_unit')} options={DISTANCE_UNITS} />
      <div class="wide">
        <Field label={say('jobs.field_complaint')} {...cell('complaint')} lines={3} />
      </div>
      <div class="wide">
        <Field label={say('jobs.field_condition')} {...cell('received_as')} lines={2} />
      </div>
    </>
  )
}

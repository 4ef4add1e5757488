import { useState } from 'preact/hooks'
import { query, ApiError } from '../frame/api.ts'
import { writeAtDesk } from '../frame/write.ts'
import { Field } from '../../parts/controls/Field.tsx'
import { proposeNumber } from '../../trade/record/jobs.ts'
import { uuid7 } from '../../trade/ground/uuid7.ts'
import { Fault } from '../frame/Say.tsx'
import { Sheet } from '../frame/Sheet.tsx'
import { useAsk } from '../frame/useAsk.ts'
import { address, go } from '../frame/route.ts'
import type { EngineType, JobLine } from '../frame/shapes.ts'
import { dayAndClock } from '../frame/words.ts'
import { DISTANCE_UNITS } from '../frame/distance.ts'

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

// The newest jobs are enough to see how the workshop counts.
const PROPOSED_AFTER = 50

/** Opens a job from the desk: the same facts a phone takes down in the bay. */
export function NewJob({ close }: { close: () => void }) {
  const [written, setWritten] = useState(BLANK)
  // One sheet opens one job, however often it has to ask.
  const [id] = useState(uuid7)
  const [earlier, setEarlier] = useState('')
  const [fault, setFault] = useState('')
  const [sending, setSending] = useState(false)
  const types = useAsk<{ engine_types: EngineType[] }>('/api/engine-types')
  const known = useAsk<{ jobs: JobLine[] }>(`/api/jobs${query({ limit: PROPOSED_AFTER })}`)
  const proposed = known.told ? proposeNumber(known.told.jobs.map((job) => job.number)) : ''
  const facts = { ...written, number: written.number ?? proposed }
  const put = (name: keyof typeof BLANK) => (value: string) => setWritten({ ...written, [name]: value })

  const send = async (event: Event) => {
    event.preventDefault()
    if (!facts.number.trim()) return setFault('Give the job its number first: the rest can follow.')
    if (!facts.engine_type) return setFault('Choose the engine type: the drawing and its places come from it.')
    setSending(true)
    try {
      const body = { ...facts, earlier_job: earlier }
      const made = await writeAtDesk({
        job: id,
        kind: 'job_opened',
        location: null,
        body,
        media: [],
      })
      close()
      go(['job', made.job?.id ?? id])
    } catch (reason) {
      setFault(reason instanceof ApiError ? reason.message : String(reason))
    } finally {
      setSending(false)
    }
  }

  const choices = [
    { value: '', words: 'choose' },
    ...(types.told?.engine_types ?? []).map((type) => ({ value: type.id, words: type.name })),
  ]
  return (
    <Sheet title="New job" close={close}>
      <form noValidate onSubmit={send} class="block">
        <Field label="Job number" value={facts.number} onValue={put('number')} needed figures autoFocus />
        <Field
          label="Registration, hull or plant number"
          value={facts.registration}
          onValue={put('registration')}
          figures
        />
        <div class="wide">
          <Field label="Vehicle" value={facts.vehicle} onValue={put('vehicle')} />
        </div>
        <Field label="Engine type" value={facts.engine_type} onValue={put('engine_type')} options={choices} needed />
        <Field label="Engine number" value={facts.engine_number} onValue={put('engine_number')} figures />
        <Earlier number={facts.engine_number} chosen={earlier} choose={setEarlier} />
        <Field label="Distance or hours" value={facts.distance} onValue={put('distance')} keys="decimal" figures />
        <Field label="Unit" value={facts.distance_unit} onValue={put('distance_unit')} options={DISTANCE_UNITS} />
        <div class="wide">
          <Field label="Complaint, in the owner's words" value={facts.complaint} onValue={put('complaint')} lines={3} />
        </div>
        <div class="wide">
          <Field label="State on arrival" value={facts.received_as} onValue={put('received_as')} lines={2} />
        </div>
        <Fault>{fault || types.trouble?.message}</Fault>
        <div class="acts">
          <button class="main-act" disabled={sending}>
            {sending ? 'Opening' : 'Open the job'}
          </button>
        </div>
      </form>
    </Sheet>
  )
}

interface EarlierProps {
  number: string
  chosen: string
  choose: (job: string) => void
}

/** Jobs on the same engine number: a returning engine is tied to its story. */
function Earlier({ number, chosen, choose }: EarlierProps) {
  const asked = tellingPart(number)
  const known = useAsk<{ jobs: JobLine[] }>(asked && `/api/jobs${query({ q: asked, limit: 50 })}`)
  const same = (known.told?.jobs ?? []).filter((job) => plain(job.engine_number) === plain(number) && plain(number))
  if (!same.length) return null
  return (
    <fieldset class="wide earlier">
      <legend>This engine has been here before</legend>
      {same.map((job) => (
        <label key={job.id}>
          <input type="radio" name="earlier" checked={chosen === job.id} onChange={() => choose(job.id)} />
          <span>
            comes back from <a href={address(['job', job.id])}>job {job.number}</a>,{' '}
            {job.opened ? dayAndClock(job.opened) : 'date not known'}
          </span>
        </label>
      ))}
      <label>
        <input type="radio" name="earlier" checked={chosen === ''} onChange={() => choose('')} />
        <span>is a new matter</span>
      </label>
    </fieldset>
  )
}

/** The part of an engine number that people write alike, whatever they put between the others: its last three figures or more. */
function tellingPart(number: string): string | null {
  return number.match(/\d{3,}/g)?.at(-1) ?? null
}

function plain(number: string): string {
  return number.replace(/[\W_]+/g, '').toUpperCase()
}

import { useState } from 'preact/hooks'
import { Field } from '../../parts/controls/Field.tsx'
import { More, Out, Tick } from '../../parts/controls/icons.tsx'
import { type Job, chooseJob, engineTypes, jobs } from '../../store/index.ts'
import { stageWords } from '../../trade/engine/stages.ts'
import { Act, Screen } from '../frame/Frame.tsx'
import { useServer } from '../frame/ask.ts'
import { open } from '../frame/route.ts'
import { shortDay } from '../frame/words.ts'

const haystack = (job: Job) => {
  const type = engineTypes.value.get(job.engine_type)?.name ?? ''
  return [job.number, job.vehicle, job.registration, job.engine_number, job.complaint, type].join(' ').toLowerCase()
}

/** All jobs this phone knows of, the newest first; which of them are kept whole is said and chosen here. */
export function Jobs() {
  const [words, setWords] = useState('')
  const { status } = useServer()
  const wanted = words.toLowerCase().split(/\s+/).filter(Boolean)
  const found = jobs.value.filter((job) => wanted.every((w) => haystack(job).includes(w)))
  return (
    <Screen
      title="Jobs"
      acts={
        <>
          <Act name="On this phone" sign={<Out size={26} />} onAct={() => open('phone')} />
          <Act name="Open a job" main sign={<More />} onAct={() => open('new')} />
        </>
      }
    >
      <Field label="Find by number, vehicle, engine or words" value={words} onValue={setWords} keys="search" />
      <p class="small soft status-line">{status.value.why || status.value.words}</p>
      <ul class="job-list">
        {found.map((job) => (
          <JobRow key={job.id} job={job} />
        ))}
      </ul>
      {found.length === 0 && (
        <p>{jobs.value.length ? 'No job has these words.' : 'No job is on this phone yet. Open one here, with or without signal, or wait for the server.'}</p>
      )}
    </Screen>
  )
}

function JobRow({ job }: { job: Job }) {
  const type = engineTypes.value.get(job.engine_type)
  return (
    <li class="job-row">
      <button type="button" class="job-open" onClick={() => open('bench', job.id)}>
        <span class="job-number">{job.number}</span>
        <span class="job-facts">
          <strong>{job.vehicle || 'vehicle not written down'}</strong>
          <span>{type?.name ?? 'engine type not known here'}</span>
          <span class="figure small">{job.engine_number}</span>
          <span class="small soft">
            {job.stage ? stageWords(job.stage) : 'not begun'}, {job.waiting ? 'not sent yet' : shortDay(job.opened)}
          </span>
        </span>
      </button>
      <button
        type="button"
        class="job-keep"
        aria-pressed={job.chosen}
        onClick={() => void chooseJob(job.id, !job.chosen)}
      >
        {job.chosen && <Tick size={22} />}
        <span>
          keep<span class="unseen"> job {job.number} whole on this phone</span>
        </span>
      </button>
    </li>
  )
}

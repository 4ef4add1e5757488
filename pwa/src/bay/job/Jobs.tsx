import { useState } from 'preact/hooks'
import { Field } from '../../parts/controls/Field.tsx'
import { More, Out, Tick } from '../../parts/controls/icons.tsx'
import { type Job, chooseJob, engineTypes, jobs } from '../../store/index.ts'
import { stageWords } from '../../trade/engine/stages.ts'
import { Act, Screen } from '../frame/Frame.tsx'
import { useServer } from '../frame/server.ts'
import { open } from '../frame/route.ts'
import { shortDay } from '../frame/words.ts'
import { say } from '../frame/say.ts'
import './jobs.css'

const haystack = (job: Job) => {
  const type = engineTypes.value.get(job.engine_type)?.name ?? ''
  return [job.number, job.vehicle, job.registration, job.engine_number, job.complaint, type].join(' ').toLowerCase()
}

/** All jobs this phone knows of, the newest first; which of them are stored in full is shown and chosen here. */
export function Jobs() {
  const [words, setWords] = useState('')
  const { status } = useServer()
  const wanted = words.toLowerCase().split(/\s+/).filter(Boolean)
  const shown = jobs.value.filter((job) => wanted.every((w) => haystack(job).includes(w)))
  return (
    <Screen
      title={say('jobs.title')}
      acts={
        <>
          <Act name={say('phone.title')} sign={<Out size={26} />} onAct={() => open('phone')} />
          <Act name={say('jobs.open')} main sign={<More />} onAct={() => open('new')} />
        </>
      }
    >
      <Field label={say('jobs.find')} value={words} onValue={setWords} keys="search" />
      <p class="small soft status-line">{status.value.why || status.value.words}</p>
      <ul class="thick-over">
        {shown.map((job) => (
          <JobRow key={job.id} job={job} />
        ))}
      </ul>
      {shown.length === 0 && (
        <p>{jobs.value.length ? say('jobs.none_match') : say('jobs.none_yet')}</p>
      )}
    </Screen>
  )
}

function JobRow({ job }: { job: Job }) {
  const type = engineTypes.value.get(job.engine_type)
  return (
    <li class="job-row">
      <button type="button" class="job-open flat in-row" onClick={() => open('bench', job.id)}>
        <span class="job-number bold large keeps">{job.number}</span>
        <span class="job-facts">
          <strong>{job.vehicle || say('jobs.no_vehicle')}</strong>
          <span>{type?.name ?? say('jobs.no_type')}</span>
          <span class="figure small">{job.engine_number}</span>
          <span class="small soft">
            {[job.stage ? stageWords(job.stage) : say('common.not_begun'), job.waiting ? say('jobs.not_sent') : shortDay(job.opened)].join(', ')}
          </span>
        </span>
      </button>
      <button
        type="button"
        class="job-keep column small"
        aria-pressed={job.chosen}
        onClick={() => void chooseJob(job.id, !job.chosen)}
      >
        {job.chosen && <Tick size={22} />}
        <span aria-hidden="true">{say('jobs.keep')}</span>
        <span class="unseen">{say('jobs.keep_whole', { number: job.number })}</span>
      </button>
    </li>
  )
}

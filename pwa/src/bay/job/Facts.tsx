import { type Job, engineTypes, jobs } from '../../store/index.ts'
import { BackAct, Screen } from '../frame/Frame.tsx'
import { open } from '../frame/route.ts'
import { day } from '../frame/words.ts'

const UNITS: Record<string, string> = { km: 'km', mi: 'miles', h: 'hours' }

/** What is known of the job: as it was taken in at the door. */
export function Facts({ job }: { job: Job }) {
  const type = engineTypes.value.get(job.engine_type)
  const earlier = jobs.value.find((j) => j.id === job.earlier_job)
  const facts: [string, string, boolean?][] = [
    ['vehicle', job.vehicle],
    ['registration', job.registration, true],
    ['engine', type?.name ?? ''],
    ['engine number', job.engine_number, true],
    ['run', job.distance ? `${job.distance} ${UNITS[job.distance_unit] ?? ''}` : '', true],
    ['received as', job.received_as],
    ['opened', day(job.opened)],
  ]
  return (
    <Screen title={`Facts of job ${job.number}`} job={job} acts={<BackAct />}>
      {job.complaint && <blockquote class="complaint">{job.complaint}</blockquote>}
      <dl class="facts">
        {facts
          .filter(([, value]) => value)
          .map(([name, value, figures]) => (
            <div key={name}>
              <dt>{name}</dt>
              <dd class={figures ? 'figure' : ''}>{value}</dd>
            </div>
          ))}
      </dl>
      {earlier && (
        <button type="button" class="wide" onClick={() => open('record', earlier.id)}>
          This engine was here before: job {earlier.number}
        </button>
      )}
    </Screen>
  )
}

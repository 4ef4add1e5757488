import { type Job, engineTypes, jobs } from '../../store/index.ts'
import { BackAct, Screen } from '../frame/Frame.tsx'
import { open } from '../frame/route.ts'
import { day } from '../frame/words.ts'
import { say } from '../frame/say.ts'

const DISTANCES = { km: 'facts.kilometres', mi: 'facts.miles', h: 'facts.hours' } as const

const distanceWords = (distance: string, unit: string) => (unit in DISTANCES ? say(DISTANCES[unit as keyof typeof DISTANCES], { distance }) : distance)

/** What is known of the job: vehicle, engine and complaint, as they were taken down when it was opened. */
export function Facts({ job }: { job: Job }) {
  const type = engineTypes.value.get(job.engine_type)
  const earlier = jobs.value.find((j) => j.id === job.earlier_job)
  const facts: [string, string, boolean?][] = [
    [say('facts.vehicle'), job.vehicle],
    [say('facts.registration'), job.registration, true],
    [say('common.engine'), type?.name ?? ''],
    [say('facts.engine_number'), job.engine_number, true],
    [say('facts.distance'), job.distance ? distanceWords(job.distance, job.distance_unit) : '', true],
    [say('facts.condition'), job.received_as],
    [say('facts.opened'), day(job.opened)],
  ]
  return (
    <Screen title={say('facts.title', { number: job.number })} job={job} acts={<BackAct />}>
      {job.complaint && <blockquote class="complaint larger">{job.complaint}</blockquote>}
      <dl class="facts line-over">
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
          {say('facts.here_before', { number: earlier.number })}
        </button>
      )}
    </Screen>
  )
}

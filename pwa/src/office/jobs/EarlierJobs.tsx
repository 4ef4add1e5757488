import { query } from '../frame/api.ts'
import { address } from '../frame/route.ts'
import { say } from '../frame/say.ts'
import type { JobLine } from '../frame/shapes.ts'
import { useGet } from '../frame/useGet.ts'
import { dayAndClock } from '../frame/words.ts'

interface Props {
  /** Engine number, as it was typed. */
  number: string
  chosen: string
  choose: (job: string) => void
}

/** Earlier jobs on the same engine number, so that a comeback can be tied to the job it comes back from. */
export function EarlierJobs({ number, chosen, choose }: Props) {
  const digits = lastDigits(number)
  const known = useGet<{ jobs: JobLine[] }>(digits && `/api/jobs${query({ q: digits, limit: 50 })}`)
  const same = (known.data?.jobs ?? []).filter((job) => plain(job.engine_number) === plain(number) && plain(number))
  if (!same.length) return null
  return (
    <fieldset class="wide earlier washed">
      <legend class="legend-row bold">{say('jobs.been_here')}</legend>
      {same.map((job) => (
        <label class="tick along" key={job.id}>
          <input type="radio" name="earlier" checked={chosen === job.id} onChange={() => choose(job.id)} />
          <span>
            {say('jobs.comeback')} <a href={address(['job', job.id])}>{jobWords(job)}</a>
          </span>
        </label>
      ))}
      <label class="tick along">
        <input type="radio" name="earlier" checked={chosen === ''} onChange={() => choose('')} />
        <span>{say('jobs.no_connection')}</span>
      </label>
    </fieldset>
  )
}

function jobWords({ number, opened }: JobLine): string {
  return opened ? say('jobs.comeback_job', { number, when: dayAndClock(opened) }) : say('jobs.comeback_job_undated', { number })
}

/** The last three or more figures of an engine number: people write them alike, whatever they put before and between. */
function lastDigits(number: string): string | null {
  return number.match(/\d{3,}/g)?.at(-1) ?? null
}

function plain(number: string): string {
  return number.replace(/[\W_]+/g, '').toUpperCase()
}

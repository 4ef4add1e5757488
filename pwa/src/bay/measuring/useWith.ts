// With what and in which state is measured: remembered for this job and day on this phone, never evidence by itself.
import { hand, lastUsed, prefer } from '../frame/hand.ts'
import type { Job } from '../../store/index.ts'
import { say } from '../frame/say.ts'

export interface With {
  state: string
  part_temperature: string
  gauge_temperature: string
  material: string
}

const BLANK: With = { state: '', part_temperature: '', gauge_temperature: '', material: '' }
const KEY = 'measured with'

export const states = () => [
  { value: 'as_found', words: say('with.as_found') },
  { value: 'machined', words: say('with.machined') },
  { value: 'built', words: say('with.built') },
]

const AFTER_BUILD = ['build', 'run', 'release']

/** The state a reading taken now is of, by the stage of the job: as found until something is machined, as built once it is assembled. */
export function stateOf(stage: string | null): string {
  if (stage === 'machining') return 'machined'
  return stage && AFTER_BUILD.includes(stage) ? 'built' : 'as_found'
}

const today = () => new Date().toDateString()

function stored(job: Job): With {
  try {
    const last = JSON.parse(hand.value.last[KEY] ?? '{}') as Record<string, string>
    // A temperature is of the day; a state is of the stage in which it was chosen.
    if (last.job === job.id && last.day === today() && last.stage === (job.stage ?? '')) return { ...BLANK, ...last }
  } catch {
    // Nothing readable was stored.
  }
  return BLANK
}

export function withOf(job: Job): With & { state: string } {
  const now = stored(job)
  return { ...now, state: now.state || stateOf(job.stage) }
}

export function changeWith(job: Job, change: Partial<With>): void {
  const now = { ...stored(job), ...change, job: job.id, day: today(), stage: job.stage ?? '' }
  prefer({ last: { ...hand.value.last, [KEY]: JSON.stringify(now) } })
}

export interface GaugeInHand {
  id: string
  name: string
}

/** The gauge last used for a quantity in a procedure; a name alone where it is in no register. */
export function gaugeInHand(procedure: string, quantity: string): GaugeInHand {
  try {
    return { id: '', name: '', ...JSON.parse(lastUsed(`gauge/${procedure}/${quantity}`) || '{}') }
  } catch {
    return { id: '', name: '' }
  }
}

export function takeGauge(procedure: string, quantity: string, gauge: GaugeInHand): void {
  prefer({ last: { ...hand.value.last, [`gauge/${procedure}/${quantity}`]: JSON.stringify(gauge) } })
}

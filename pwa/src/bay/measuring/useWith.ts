// With what and in which state is measured: remembered for this job and day on this phone, never evidence by itself.
import { hand, lastUsed, prefer } from '../frame/hand.ts'
import type { Job } from '../../store/index.ts'

export interface With {
  state: string
  part_temperature: string
  gauge_temperature: string
  material: string
}

const BLANK: With = { state: '', part_temperature: '', gauge_temperature: '', material: '' }
const KEY = 'measured with'

export const STATES = [
  { value: 'as_found', words: 'as found' },
  { value: 'machined', words: 'after machining' },
  { value: 'built', words: 'as built' },
]

const AFTER_BUILD = ['build', 'run', 'release']

/** What the stage of the job says of a reading taken now: as found until something is cut, as built once it is put together. */
export function stateOf(stage: string | null): string {
  if (stage === 'machining') return 'machined'
  return stage && AFTER_BUILD.includes(stage) ? 'built' : 'as_found'
}

const today = () => new Date().toDateString()

function kept(job: Job): With {
  try {
    const found = JSON.parse(hand.value.last[KEY] ?? '{}') as Record<string, string>
    // A temperature is of the day; a state is of the stage in which it was chosen.
    if (found.job === job.id && found.day === today() && found.stage === (job.stage ?? '')) return { ...BLANK, ...found }
  } catch {
    // Nothing readable was kept.
  }
  return BLANK
}

export function withOf(job: Job): With & { state: string } {
  const now = kept(job)
  return { ...now, state: now.state || stateOf(job.stage) }
}

export function changeWith(job: Job, change: Partial<With>): void {
  const now = { ...kept(job), ...change, job: job.id, day: today(), stage: job.stage ?? '' }
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

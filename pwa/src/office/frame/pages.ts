import { say, type SentenceKey } from './say.ts'

/** The pages of the office, by the first part of their address, in the order of the bar; search has no place in it. */
export const OFFICE_PAGES: Record<string, SentenceKey> = {
  jobs: 'frame.jobs',
  spoken: 'frame.spoken',
  'engine-types': 'engine_types.title',
  procedures: 'procedures.title',
  gauges: 'gauges.title',
  fits: 'fits.title',
  phones: 'phones.title',
  people: 'people.title',
  about: 'frame.about',
}

/** The pages of a job. */
export const JOB_PAGES: Record<string, SentenceKey> = {
  record: 'frame.record',
  figures: 'frame.figures',
  joints: 'frame.joints',
  pack: 'frame.pack',
  facts: 'frame.facts',
}

/** What the page at an address is called. */
export function pageName(room: string, leaf: string): string {
  if (room === 'job') return say(JOB_PAGES[leaf] ?? 'frame.record')
  return say(room === 'search' ? 'frame.search' : (OFFICE_PAGES[room] ?? 'frame.jobs'))
}

import { count, listed, visit } from '../../frame/words.ts'
import type { StripCell } from '../../frame/Strip.tsx'
import { day, moment } from '../../frame/words.ts'
import { stageWords } from '../../frame/stages.ts'
import { job } from './state.ts'

/** What the title block says of the open job. */
export function jobCells(): StripCell[] {
  const open = job.value
  if (!open) return [{ name: 'job', value: 'opening' }]
  const missing = open.missing_media
  return [
    { name: 'job', value: <b>{open.number}</b> },
    { name: 'engine', value: <b>{open.engine_type_name || 'not given'}</b>, stand: 'wide' },
    {
      name: 'number',
      value: (
        <>
          <span class="figure">{open.engine_number || 'not read yet'}</span> {visit(open.earlier_visits)}
        </>
      ),
      stand: 'spare',
    },
    { name: 'stage', value: stageWords(open.stage) },
    {
      name: 'records',
      stand: 'last',
      value: missing
        ? `${count(open.entries, 'record')}, ${count(missing, 'picture')} on the way`
        : `${open.entries}, all received`,
    },
  ]
}

/** Who stands as the author of what the server writes itself. */
const DESK = 'the office desk'

/** "Thu 14 May · Ida and Tomas on this job" */
export function jobRemark(): string {
  const open = job.value
  if (!open) return ''
  // The desk signs what the server writes by itself, transcripts above all: nobody's hand was on the job for these.
  const people = open.people.map((person) => person.name).filter((name) => name !== DESK)
  const when = open.last && moment(open.last) ? day(open.last) : ''
  return [when, people.length ? `${listed(people)} on this job` : ''].filter(Boolean).join(' · ')
}

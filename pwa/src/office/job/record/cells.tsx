import { visit } from '../../frame/words.ts'
import { listed } from '../../../trade/ground/sentences.ts'
import type { StripCell } from '../../frame/Strip.tsx'
import { day, moment } from '../../frame/words.ts'
import { stageWords } from '../../frame/stages.ts'
import { job } from './state.ts'
import { say } from '../../frame/say.ts'

/** The title block's cells for the open job. */
export function jobCells(): StripCell[] {
  const open = job.value
  if (!open) return [{ name: say('record.cell_job'), value: say('record.cell_opening') }]
  const missing = open.missing_media
  return [
    { name: say('record.cell_job'), value: <b>{open.number}</b> },
    { name: say('record.cell_engine'), value: <b>{open.engine_type_name || say('record.not_given')}</b>, stand: 'wide' },
    {
      name: say('record.cell_number'),
      value: (
        <>
          <span class="figure">{open.engine_number || say('record.number_not_read')}</span> {visit(open.earlier_visits)}
        </>
      ),
      stand: 'spare',
    },
    { name: say('record.cell_stage'), value: stageWords(open.stage) },
    {
      name: say('record.cell_records'),
      stand: 'last',
      value: missing ? `${say('record.count', { count: open.entries })}, ${say('record.pictures_missing', { count: missing })}` : say('record.all_received', { count: open.entries }),
    },
  ]
}

/** "Thu 14 May · Ida and Tomas on this job" */
export function jobRemark(): string {
  const open = job.value
  if (!open) return ''
  // 'the office desk' is the server's name for itself as an author. It signs what it writes by itself, transcripts above
  // all: no person worked on the job for these.
  const people = open.people.map((person) => person.name).filter((name) => name !== 'the office desk')
  const when = open.last && moment(open.last) ? day(open.last) : ''
  return [when, people.length ? say('record.people_on_job', { people: listed(people) }) : ''].filter(Boolean).join(' · ')
}

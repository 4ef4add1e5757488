import { useState } from 'preact/hooks'
import { Sheet } from '../../parts/controls/Sheet.tsx'
import { type Job, type Row, known, record } from '../../store/index.ts'
import type { Asked, SheetPlace, Taken } from '../../trade/sheets/types.ts'
import { Answer } from '../job/Answer.tsx'
import { nameOfPlace } from '../frame/places.ts'
import { clockTime } from '../frame/words.ts'
import { say } from '../frame/say.ts'

export interface GridCellProps {
  job: Job
  place: SheetPlace
  reading: Asked
  taken: Taken
  /** A repeat of this reading, or an own reading in place of what was carried over. */
  onAgain: () => void
  onClose: (words: string) => void
}

/** What a cell holds: every reading with its gauge and time, to be repeated, corrected or withdrawn with a reason. */
export function GridCell({ job, place, reading, taken, onAgain, onClose }: GridCellProps) {
  const [answer, setAnswer] = useState<{ row: Row; sort: 'correct' | 'withdraw' } | null>(null)
  if (answer) return <Answer row={answer.row} job={job} sort={answer.sort} onClose={onClose} />
  const begin = (id: string, sort: 'correct' | 'withdraw') => void record(id).then((row) => row && setAnswer({ row, sort }))
  return (
    <Sheet title={say('grid.reading_at', { reading: reading.words, place: place.name })} onClose={() => onClose('')}>
      {taken.borrowed && (
        <p>
          <strong class="figure">{taken.mean}</strong> {taken.unit}.{' '}
          {say('cell.borrowed', { procedure: known.value.procedures[taken.borrowed.procedure]?.data.name ?? taken.borrowed.procedure, place: nameOfPlace(job, taken.borrowed.place) })}
        </p>
      )}
      {taken.n > 1 && (
        <p>
          {say('cell.mean', { count: taken.n })} <strong class="figure">{taken.mean}</strong> {taken.unit}
          {taken.scatter && (
            <>
              {' '}
              · {say('cell.scatter')} <span class="figure">{taken.scatter}</span>
            </>
          )}
        </p>
      )}
      <ol class="cell-values ruled">
        {!taken.borrowed &&
          taken.values.map((value) => (
            <li class="in-grid" key={value.id}>
              <span>
                <strong class="figure">{value.value}</strong> {value.unit}
                <span class="small soft">
                  {clockTime(value.claimed)} · {value.gauge || say('cell.no_gauge')}
                  {value.overdue && ` · ${say('cell.overdue')}`}
                </span>
              </span>
              <button class="small" type="button" onClick={() => begin(value.id, 'correct')}>
                {say('entry.correct')}
              </button>
              <button class="small" type="button" onClick={() => begin(value.id, 'withdraw')}>
                {say('answer.withdraw')}
              </button>
            </li>
          ))}
      </ol>
      <button type="button" class="wide main-act" onClick={onAgain}>
        {taken.borrowed ? say('cell.own') : say('cell.repeat', { number: taken.n + 1 })}
      </button>
    </Sheet>
  )
}

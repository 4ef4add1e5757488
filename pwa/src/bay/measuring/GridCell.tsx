import { useState } from 'preact/hooks'
import { Sheet } from '../../parts/controls/Sheet.tsx'
import { type Job, type Row, known, record } from '../../store/index.ts'
import type { Asked, SheetPlace, Taken } from '../../trade/sheets/types.ts'
import { Answer } from '../job/Answer.tsx'
import { nameOfPlace } from '../frame/places.ts'
import { clockTime } from '../frame/words.ts'

export interface GridCellProps {
  job: Job
  place: SheetPlace
  asked: Asked
  taken: Taken
  /** A repeat of this reading, or one's own in the stead of what was taken over. */
  onAgain: () => void
  onClose: (said: string) => void
}

/** What is kept in one cell: every reading with its gauge and time, to be repeated, corrected or withdrawn with a reason. */
export function GridCell({ job, place, asked, taken, onAgain, onClose }: GridCellProps) {
  const [answer, setAnswer] = useState<{ row: Row; sort: 'correct' | 'withdraw' } | null>(null)
  if (answer) return <Answer row={answer.row} job={job} sort={answer.sort} onClose={onClose} />
  const begin = (id: string, sort: 'correct' | 'withdraw') => void record(id).then((row) => row && setAnswer({ row, sort }))
  return (
    <Sheet title={`${asked.words}, ${place.name}`} onClose={() => onClose('')}>
      {taken.borrowed && (
        <p>
          <strong class="figure">{taken.mean}</strong> {taken.unit}, taken over from {known.value.procedures[taken.borrowed.procedure]?.what.name ?? taken.borrowed.procedure},{' '}
          {nameOfPlace(job, taken.borrowed.place)}. What you type here counts instead.
        </p>
      )}
      {taken.n > 1 && (
        <p>
          Mean of {taken.n}: <strong class="figure">{taken.mean}</strong> {taken.unit}
          {taken.scatter && (
            <>
              , scatter <span class="figure">{taken.scatter}</span>
            </>
          )}
        </p>
      )}
      <ol class="cell-values">
        {!taken.borrowed &&
          taken.values.map((one) => (
            <li key={one.id}>
              <span>
                <strong class="figure">{one.value}</strong> {one.unit}
                <span class="small soft">
                  {clockTime(one.claimed)} · {one.gauge || 'gauge not said'}
                  {one.overdue && ', calibration was overdue'}
                </span>
              </span>
              <button type="button" onClick={() => begin(one.id, 'correct')}>
                Correct
              </button>
              <button type="button" onClick={() => begin(one.id, 'withdraw')}>
                Withdraw
              </button>
            </li>
          ))}
      </ol>
      <button type="button" class="wide main-act" onClick={onAgain}>
        {taken.borrowed ? 'Type my own reading' : `Read it again, number ${taken.n + 1}`}
      </button>
    </Sheet>
  )
}

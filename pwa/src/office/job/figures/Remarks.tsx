import type { Sheet, SheetPlace } from '../../../trade/sheets/types.ts'
import { address } from '../../frame/route.ts'
import { readingWords } from './written.ts'

/** What a reader must know of single readings: repeats with their scatter, odd ones, overdue gauges, borrowed ones. */
export function Remarks({ job, sheet, place }: { job: string; sheet: Sheet; place: SheetPlace }) {
  const remarks = Object.entries(place.readings).flatMap(([code, taken]) => {
    const words = readingWords(sheet, code)
    const all = taken.values.filter(({ exhibit }) => exhibit)
    return [
      taken.n > 1 && (
        <>
          {words}: {taken.n} readings{taken.scatter && <>, scatter <span class="figure">{taken.scatter}</span></>}, exhibits{' '}
          {all.map(({ id, exhibit, value }, i) => (
            <span key={id}>
              {i > 0 && ', '}
              <a href={address(['job', job], { exhibit })} aria-label={`exhibit ${exhibit}, ${value}`}>
                {exhibit}
              </a>
            </span>
          ))}
        </>
      ),
      taken.odd && <b>{words} stands apart from its neighbours: was it read right?</b>,
      taken.values.some(({ overdue }) => overdue) && <>{words}: gauge past its calibration date when read</>,
      taken.borrowed && (
        <>
          {words} taken over from {taken.borrowed.procedure.replaceAll('_', ' ')}, {taken.borrowed.place.replaceAll('/', ' ')}
        </>
      ),
    ].filter(Boolean)
  })
  if (place.missing.length && Object.keys(place.readings).length)
    remarks.unshift(
      <span class="caution">still to read: {place.missing.map((code) => readingWords(sheet, code)).join('; ')}</span>,
    )
  if (!remarks.length) return <div />
  return (
    <ul class="reading-remarks">
      {remarks.map((remark, i) => (
        <li key={i}>{remark}</li>
      ))}
    </ul>
  )
}

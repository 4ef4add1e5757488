import type { Sheet, SheetPlace } from '../../../trade/sheets/types.ts'
import { address } from '../../frame/route.ts'
import { readingWords } from './written.ts'
import { say } from '../../frame/say.ts'

/** What a reader must know of single readings: repeats with their scatter, odd readings, overdue gauges, readings carried over. */
export function Remarks({ job, sheet, place }: { job: string; sheet: Sheet; place: SheetPlace }) {
  const remarks = Object.entries(place.readings).flatMap(([code, taken]) => {
    const words = readingWords(sheet, code)
    const all = taken.values.filter(({ exhibit }) => exhibit)
    return [
      taken.n > 1 && (
        <>
          {taken.scatter ? say('figures.repeats_scatter', { reading: words, count: taken.n, scatter: taken.scatter }) : say('figures.repeats', { reading: words, count: taken.n })}{' '}
          {all.map(({ id, exhibit, value }, i) => (
            <span key={id}>
              {i > 0 && ', '}
              <a href={address(['job', job], { exhibit })} aria-label={say('figures.record_value', { number: String(exhibit), value })}>
                {exhibit}
              </a>
            </span>
          ))}
        </>
      ),
      taken.odd && <b>{say('figures.odd', { reading: words })}</b>,
      taken.values.some(({ overdue }) => overdue) && <>{say('figures.gauge_overdue', { reading: words })}</>,
      taken.borrowed && (
        <>
          {say('figures.carried_over', {
            reading: words,
            procedure: taken.borrowed.procedure.replaceAll('_', ' '),
            place: taken.borrowed.place.replaceAll('/', ' '),
          })}
        </>
      ),
    ].filter(Boolean)
  })
  if (place.missing.length && Object.keys(place.readings).length)
    remarks.unshift(
      <span class="caution">{say('figures.still_to_read', { readings: place.missing.map((code) => readingWords(sheet, code)).join('; ') })}</span>,
    )
  if (!remarks.length) return <div />
  return (
    <ul class="reading-remarks small">
      {remarks.map((remark, i) => (
        <li key={i}>{remark}</li>
      ))}
    </ul>
  )
}

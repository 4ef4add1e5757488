import type { Sheet, Wear } from '../../../trade/sheets/types.ts'
import { address } from '../../frame/route.ts'
import { day } from '../../frame/words.ts'
import type { EarlierVisit } from './shapes.ts'
import { say } from '../../frame/say.ts'

/** Earlier visits of the same engine: how far each figure has moved, and how far per distance run. */
export function Earlier({ visits, sheet }: { visits: EarlierVisit[]; sheet: Sheet }) {
  if (!visits.length) return null
  const places = new Map(sheet.places.map(({ place, name }) => [place, name]))
  const figures = new Map(sheet.places.flatMap((place) => place.figures.map(({ code, words }) => [code, words] as const)))
  return (
    <section class="above-8" aria-labelledby="earlier-title">
      <h2 id="earlier-title">{say('figures.earlier_title')}</h2>
      {visits.map((visit) => {
        const rows = [...new Set(visit.changes.map(({ figure }) => figure))]
        const columns = [...new Set(visit.changes.map(({ place }) => place))]
        return (
          <div key={visit.job + visit.state} class="wide-table" tabIndex={0} role="region" aria-label={say('figures.earlier_region', { number: visit.number })}>
            <table class="table plain-table above-4">
              <caption>
                <a href={address(['job', visit.job, 'figures'], { procedure: visit.procedure })}>{say('figures.since_job', { number: visit.number })}</a>
                {visit.opened && `, ${day(visit.opened)}`}
                {visit.distance && (
                  <>
                    , <span class="figure">{visit.distance}</span>
                  </>
                )}
              </caption>
              <thead>
                <tr>
                  <td />
                  {columns.map((place) => (
                    <th key={place} scope="col">
                      {places.get(place) ?? place}
                    </th>
                  ))}
                </tr>
              </thead>
              <tbody>
                {rows.map((code) => (
                  <tr key={code}>
                    <th scope="row">{figures.get(code) ?? code.replaceAll('_', ' ')}</th>
                    {columns.map((place) => (
                      <td key={place}>
                        <Change of={visit.changes.find((change) => change.place === place && change.figure === code)} />
                      </td>
                    ))}
                  </tr>
                ))}
              </tbody>
            </table>
          </div>
        )
      })}
    </section>
  )
}

function Change({ of: change }: { of: Wear | undefined }) {
  if (!change) return <>–</>
  return (
    <>
      <span class="figure">
        {change.change} {change.unit}
      </span>
      {change.per && (
        <span class="per own-line small soft">
          {say('figures.change_per', { change: change.per, unit: change.unit, distance: change.per_words })}
        </span>
      )}
    </>
  )
}

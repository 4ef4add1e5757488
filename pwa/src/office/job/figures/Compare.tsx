import { Verdict } from '../../../parts/figures/Verdict.tsx'
import { times } from '../../../parts/grid/magnified.ts'
import type { Sheet, SheetFigure } from '../../../trade/sheets/types.ts'
import { decimalText, fraction, read } from '../../../trade/ground/units.ts'
import { address } from '../../frame/route.ts'
import { sentence } from '../../frame/words.ts'
import { beyond } from './written.ts'
import { scaleOf } from './drawn.ts'
import { PlaceDrawing } from './PlaceDrawing.tsx'
import { say } from '../../frame/say.ts'

/** The same places before and after: drawings above each other, figures beside each other with their change. */
export function Compare({ job, sheets }: { job: string; sheets: Sheet[] }) {
  const scales = sheets.map(scaleOf)
  const codes = [...new Set(sheets.flatMap(({ places }) => places.map(({ place }) => place)))]
  return (
    <>
      <p class="ring-key wraps small above-4">
        {sheets.map((sheet, i) => (
          <span key={sheet.state}>
            <a href={address(['job', job, 'figures'], { procedure: sheet.procedure, state: sheet.state })}>{sheet.state_words}</a>
            {scales[i] && sheet.drawing !== 'face' && ` ${say('figures.magnified', { times: times(scales[i].magnified) })}`}
          </span>
        ))}
      </p>
      <ol class="places-row is-compared" aria-label={say('figures.places')} style={{ '--places': String(codes.length) }}>
        {codes.map((code) => {
          const here = sheets.map((sheet) => sheet.places.find(({ place }) => place === code))
          const name = here.find(Boolean)!.name
          return (
            <li key={code} class="place-column ring-inside" data-place={code} tabIndex={-1} aria-label={name}>
              <h2 class="body-size">{sentence(name)}</h2>
              {here.map((place, i) =>
                place ? <PlaceDrawing key={i} sheet={sheets[i]!} place={place} scale={scales[i]!} out={beyond(sheets[i]!, place)} ringsOnly /> : null,
              )}
              <dl class="compare">
                {(here.find((place) => place?.figures.length)?.figures ?? []).map(({ code: figure, words }) => {
                  const all = here.map((place) => place?.figures.find(({ code }) => code === figure))
                  return (
                    <div key={figure}>
                      <dt class="bold">{words}</dt>
                      {all.map((shown, i) => (
                        <dd class="wraps ends" key={i}>
                          <span>{sheets[i]!.state_words}</span>
                          {shown?.now[0] && shown.now[0].standing !== 'within' && <Verdict standing={shown.now[0].standing} />}
                          <span class="figure">{shown?.value ?? '–'}</span>
                        </dd>
                      ))}
                      <dd class="compare-change wraps ends">
                        <span>{say('figures.change')}</span>
                        <span class="figure">{change(all[0], all.at(-1))}</span>
                      </dd>
                    </div>
                  )
                })}
              </dl>
            </li>
          )
        })}
      </ol>
    </>
  )
}

/** Last less first, to the places that were shown; a dash where one is missing or the units differ. */
export function change(first: SheetFigure | undefined, last: SheetFigure | undefined): string {
  if (!first?.value || !last?.value || first.unit !== last.unit) return '–'
  try {
    const [a, b] = [read(first.value, first.unit), read(last.value, last.unit)]
    const less = fraction(
      b.amount.over * a.amount.under - a.amount.over * b.amount.under,
      a.amount.under * b.amount.under,
    )
    const text = decimalText(less, Math.max(a.places ?? 0, b.places ?? 0))
    return less.over > 0n ? `+${text}` : text.replace('-', '−')
  } catch {
    return '–'
  }
}

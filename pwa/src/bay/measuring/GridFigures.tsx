import { Guide } from '../../parts/figures/Guide.tsx'
import { Sheet as Over } from '../../parts/controls/Sheet.tsx'
import { Verdict } from '../../parts/figures/Verdict.tsx'
import type { Judged, Sheet, SheetFigure, SheetPlace } from '../../trade/sheets/types.ts'
import { because, FigureLine } from './GridSays.tsx'
import { NO_LIMIT, worst } from './grid.ts'
import { capital } from '../frame/words.ts'
import { say } from '../frame/say.ts'

/** What the readings of a place come to, figure by figure; each opens to how it was reached and how sure it is. */
export function GridFigures({ sheet, place, onOpen }: { sheet: Sheet; place: SheetPlace; onOpen: (figure: string) => void }) {
  const across = sheet.across.filter((figure) => figure.value !== null)
  return (
    <section class="grid-figures thick-over" aria-label={say('figures.of', { place: place.name })}>
      <h2 class="body-size">{place.name}</h2>
      <ul>
        {place.figures.map((figure) => (
          <li key={figure.code}>
            <button type="button" onClick={() => onOpen(figure.code)}>
              <span class="grid-figure on-line wrapped ends">
                <span>{figure.words}</span>
                {figure.value === null ? (
                  <span class="small soft">{say('figures.wants', { what: figure.missing.join('; ') })}</span>
                ) : (
                  <span>
                    <strong class="figure">{figure.value}</strong> {figure.unit}
                  </span>
                )}
              </span>
              {figure.value !== null && <Standing figure={figure} />}
            </button>
          </li>
        ))}
      </ul>
      {across.length > 0 && (
        <>
          <h2 class="body-size">{say('figures.across')}</h2>
          <ul>
            {across.map((figure) => (
              <li key={figure.code} class="grid-across on-line wrapped ends">
                <span>{figure.words}</span>
                <span>
                  <strong class="figure">{figure.value}</strong> {figure.unit}
                </span>
                {figure.words_said && <span class="small soft">{figure.words_said}</span>}
              </li>
            ))}
          </ul>
        </>
      )}
      {sheet.overdue.map((late) => (
        <p key={late.gauge} class="small gauge-due bold">
          {say('figures.gauge_due', { gauge: late.gauge, day: late.due, count: late.count })}
        </p>
      ))}
    </section>
  )
}

function Standing({ figure }: { figure: SheetFigure }) {
  const verdict = worst(figure)
  return <Verdict standing={verdict?.standing ?? NO_LIMIT}>{verdict?.standing === 'outside' ? because(verdict, figure) : ''}</Verdict>
}

/** How sure? One figure with its definition, its verdicts, what would settle them, and the budget of its uncertainty. */
export function FigureSheet({ sheet, place, figure, onClose }: { sheet: Sheet; place: SheetPlace; figure: SheetFigure; onClose: () => void }) {
  return (
    <Over title={`${figure.words}, ${place.name}`} onClose={onClose}>
      <div class="stack is-wide">
        {figure.value === null ? <p>{say('figures.not_yet', { what: figure.missing.join('; ') })}</p> : <Verdicts figure={figure} />}
        {figure.definition && <p class="small soft">{figure.definition}</p>}
        <Guide words={figure.guide} />
        {figure.then && <Then figure={figure} then={figure.then} />}
        <Budget figure={figure} rule={sheet.rule_words} />
      </div>
    </Over>
  )
}

function Verdicts({ figure }: { figure: SheetFigure }) {
  if (figure.now.length === 0) return <FigureLine figure={figure} verdict={null} />
  return (
    <>
      {figure.now.map((verdict) => (
        <div key={verdict.limit} class="figure-verdict">
          <FigureLine figure={figure} verdict={verdict} />
          <p class="small soft">
            {say('figures.limit', { sort: capital(verdict.sort), source: verdict.source })}{' '}
            {verdict.probability && say('figures.probability', { percent: String(verdict.probability) })}
          </p>
          {verdict.standing === 'not proven' && verdict.settle.length > 1 && (
            <ul class="settle small">
              {verdict.settle.slice(1).map((way) => (
                <li key={way}>{way}</li>
              ))}
            </ul>
          )}
        </div>
      ))}
    </>
  )
}

/** A limit or rule that changed since never changes what the verdict was then: both stand. */
function Then({ figure, then }: { figure: SheetFigure; then: Judged[] }) {
  return (
    <div class="noted is-answer">
      <p class="small">{say('figures.then')}</p>
      {then.length === 0 && <Verdict standing={NO_LIMIT} />}
      {then.map((verdict) => (
        <p key={verdict.limit}>
          <Verdict standing={verdict.standing}>{because(verdict, figure)}</Verdict>
        </p>
      ))}
    </div>
  )
}

function Budget({ figure, rule }: { figure: SheetFigure; rule: string }) {
  if (figure.value === null) return null
  return (
    <section>
      <h3>{say('figures.uncertainty')}</h3>
      {figure.unknown.map((why) => (
        <p key={why} class="small">
          {why}
        </p>
      ))}
      {figure.budget.length > 0 && (
        <table class="table budget small line-over close-set">
          <thead>
            <tr>
              <th scope="col">{say('figures.from')}</th>
              <th scope="col">
                u<span class="soft"> {figure.unit}</span>
              </th>
              <th scope="col">{say('figures.share')}</th>
            </tr>
          </thead>
          <tbody>
            {figure.budget.map((line, i) => (
              <tr key={i}>
                <th scope="row">{line.words}</th>
                <td class="figure">{line.u}</td>
                <td class="figure">{line.share} %</td>
              </tr>
            ))}
          </tbody>
        </table>
      )}
      {figure.U && (
        <p class="small">
          {say('figures.combined', { u: String(figure.u), k: String(figure.k), dof: String(figure.dof) })}{' '}
          <strong>
            U = <span class="figure">{figure.U}</span> {figure.unit}
          </strong>
        </p>
      )}
      {rule && <p class="small soft">{rule}</p>}
    </section>
  )
}

import { Guide } from '../../../parts/figures/Guide.tsx'
import { NumberLine } from '../../../parts/figures/NumberLine.tsx'
import { Verdict } from '../../../parts/figures/Verdict.tsx'
import type { Judged, Sheet, SheetFigure, SheetPlace } from '../../../trade/sheets/types.ts'
import { Sheet as Leaf } from '../../frame/Sheet.tsx'
import { address } from '../../frame/route.ts'
import { readingWords } from './written.ts'
import { say } from '../../frame/say.ts'
import './budget.css'

interface Props {
  job: string
  sheet: Sheet
  place: SheetPlace
  figure: SheetFigure
  close: () => void
}

/** How one figure came about: definition, readings, uncertainty, and its verdict now and then. */
export function BudgetSheet({ job, sheet, place, figure, close }: Props) {
  return (
    <Leaf title={`${place.name}, ${figure.words}`} close={close}>
      <p class="figure large">
        {figure.value ?? '–'} {figure.unit}
        {figure.U && ` ± ${figure.U} ${figure.unit}`}
      </p>
      {figure.missing.length > 0 && <p class="caution">{say('figures.still_missing', { readings: figure.missing.join('; ') })}</p>}
      <p class="soft">{figure.definition}</p>
      {figure.from.length > 0 && <TakenFrom job={job} sheet={sheet} place={place} codes={figure.from} />}
      <Judgements title={figure.then ? say('figures.judged_now') : say('figures.judged')} all={figure.now} figure={figure} />
      {figure.then && <Judgements title={say('figures.judged_then')} all={figure.then} figure={figure} />}
      <Uncertainty figure={figure} />
      <Guide words={figure.guide} quiet="budget-guide" />
    </Leaf>
  )
}

interface TakenFromProps {
  job: string
  sheet: Sheet
  place: SheetPlace
  codes: string[]
}

/** The readings that a figure was worked out from, each leading to its record. */
function TakenFrom({ job, sheet, place, codes }: TakenFromProps) {
  return (
    <p class="above-4">
      {say('figures.taken_from')}{' '}
      {codes.map((code, i) => {
        const taken = place.readings[code]
        const exhibit = taken?.values.findLast((value) => value.exhibit)?.exhibit
        const words = `${readingWords(sheet, code)}${taken ? ` ${taken.mean}` : ''}`
        return (
          <span key={code}>
            {i > 0 && '; '}
            {exhibit ? <a href={address(['job', job], { exhibit })}>{words}</a> : words}
          </span>
        )
      })}
    </p>
  )
}

/** The sources of uncertainty, each with its share, and how they are combined. */
function Uncertainty({ figure }: { figure: SheetFigure }) {
  return (
    <>
      <h3>{say('figures.uncertainty')}</h3>
      {figure.unknown.map((words) => (
        <p key={words} class="caution">
          {words}
        </p>
      ))}
      {figure.budget.length > 0 && (
        <table class="table budget" aria-label={say('figures.budget')}>
          <thead>
            <tr>
              <th scope="col">{say('figures.source')}</th>
              <th scope="col">u, {figure.unit}</th>
              <th scope="col">{say('figures.share')}</th>
            </tr>
          </thead>
          <tbody>
            {figure.budget.map((line) => (
              <tr key={line.source + line.words}>
                <th scope="row">
                  {line.source}
                  <span class="soft budget-words own-line small">{line.words}</span>
                </th>
                <td class="figure">{line.u}</td>
                <td class="budget-share">
                  <span class="share-bar own-line" style={{ '--share': `${parseFloat(line.share) || 0}%` }} aria-hidden="true" />
                  <span class="figure">{line.share} %</span>
                </td>
              </tr>
            ))}
          </tbody>
        </table>
      )}
      {figure.u && <p class="small soft">{say('figures.combined', { u: figure.u, dof: String(figure.dof), k: String(figure.k) })}</p>}
    </>
  )
}

/** The verdicts on a figure, one for each limit. */
function Judgements({ title, all, figure }: { title: string; all: Judged[]; figure: SheetFigure }) {
  return (
    <section class="judgements" aria-label={title}>
      <h3>{title}</h3>
      {all.length === 0 && (
        <p>
          <Verdict standing="no limit" />
        </p>
      )}
      {all.map((judged) => (
        <Judgement key={judged.limit + judged.rule} judged={judged} figure={figure} />
      ))}
    </section>
  )
}

function Judgement({ judged, figure }: { judged: Judged; figure: SheetFigure }) {
  const excess = judged.excess ?? ''
  return (
    <div class="judgement">
      <p>
        <Verdict standing={judged.standing}>
          {judged.standing === 'outside' && (
            <span class="figure">{judged.side === 'low' ? say('figures.under_lower', { excess }) : say('figures.over_upper', { excess })}</span>
          )}
        </Verdict>
      </p>
      {figure.draw && figure.value && (
        <NumberLine
          low={judged.draw.low}
          high={judged.draw.high}
          value={figure.draw.value}
          spread={figure.draw.U ?? 0}
          lowText={judged.low}
          highText={judged.high}
          valueText={figure.value}
          unit={figure.unit}
        />
      )}
      <p>
        {say('figures.limit_from', { sort: judged.sort, source: judged.source })}
        {judged.probability && <> {say('figures.probability', { percent: judged.probability })}</>}
      </p>
      {judged.settle.map((words) => (
        <p key={words}>{words}</p>
      ))}
    </div>
  )
}

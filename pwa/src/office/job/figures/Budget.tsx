import { Guide } from '../../../parts/figures/Guide.tsx'
import { NumberLine } from '../../../parts/figures/NumberLine.tsx'
import { Verdict } from '../../../parts/figures/Verdict.tsx'
import type { Judged, Sheet, SheetFigure, SheetPlace } from '../../../trade/sheets/types.ts'
import { Sheet as Leaf } from '../../frame/Sheet.tsx'
import { address } from '../../frame/route.ts'
import { readingWords } from './written.ts'

interface Props {
  job: string
  sheet: Sheet
  place: SheetPlace
  figure: SheetFigure
  close: () => void
}

/** How one figure came about: definition, readings, what its uncertainty is made of, how it is judged now and was then. */
export function BudgetSheet({ job, sheet, place, figure, close }: Props) {
  return (
    <Leaf title={`${place.name}, ${figure.words}`} close={close}>
      <p class="budget-value">
        <span class="figure">
          {figure.value ?? '–'} {figure.unit}
        </span>
        {figure.U && (
          <>
            {' '}
            give or take{' '}
            <span class="figure">
              {figure.U} {figure.unit}
            </span>
          </>
        )}
      </p>
      {figure.missing.length > 0 && <p class="caution">Still missing: {figure.missing.join('; ')}.</p>}
      <p class="soft">{figure.definition}</p>
      {figure.from.length > 0 && (
        <p class="budget-from">
          From{' '}
          {figure.from.map((code, i) => {
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
      )}
      <Judgements title={figure.then ? 'As judged now' : 'Judged'} all={figure.now} figure={figure} />
      {figure.then && <Judgements title="As judged then" all={figure.then} figure={figure} />}
      <h3>What the uncertainty is made of</h3>
      {figure.unknown.map((words) => (
        <p key={words} class="caution">
          {words}
        </p>
      ))}
      {figure.budget.length > 0 && (
        <table class="budget" aria-label="Uncertainty budget">
          <thead>
            <tr>
              <th scope="col">source</th>
              <th scope="col">u, {figure.unit}</th>
              <th scope="col">share</th>
            </tr>
          </thead>
          <tbody>
            {figure.budget.map((line) => (
              <tr key={line.source + line.words}>
                <th scope="row">
                  {line.source}
                  <span class="soft budget-words">{line.words}</span>
                </th>
                <td class="figure">{line.u}</td>
                <td class="budget-share">
                  <span class="share-bar" style={{ '--share': `${parseFloat(line.share) || 0}%` }} aria-hidden="true" />
                  <span class="figure">{line.share} %</span>
                </td>
              </tr>
            ))}
          </tbody>
        </table>
      )}
      {figure.u && (
        <p class="small soft">
          Combined by root sum of squares: u = <span class="figure">{figure.u}</span>; degrees of freedom{' '}
          <span class="figure">{figure.dof}</span>; U = k u with k = <span class="figure">{figure.k}</span>.
        </p>
      )}
      <Guide words={figure.guide} quiet="budget-guide" />
    </Leaf>
  )
}

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
        <div key={judged.limit + judged.rule} class="judgement">
          <p>
            <Verdict standing={judged.standing}>
              {judged.standing === 'outside' && (
                <>
                  <span class="figure">{judged.excess}</span> {judged.side === 'low' ? 'under the lower limit' : 'over the upper limit'}
                </>
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
            {judged.sort} limit, {judged.source}
            {judged.probability && (
              <>
                ; chance that it lies within: <span class="figure">{`${judged.probability} %`.replaceAll(' ', '\u00a0')}</span>
              </>
            )}
          </p>
          {judged.settle.map((words) => (
            <p key={words}>{words}</p>
          ))}
        </div>
      ))}
    </section>
  )
}

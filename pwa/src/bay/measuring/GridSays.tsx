import { Guide } from '../../parts/figures/Guide.tsx'
import { NumberLine } from '../../parts/figures/NumberLine.tsx'
import { Verdict } from '../../parts/figures/Verdict.tsx'
import type { Judged, Sheet, SheetFigure, SheetPlace } from '../../trade/sheets/types.ts'
import { NO_LIMIT, headline } from './grid.ts'
import { say } from '../frame/say.ts'

/** What came of the readings of a place, at once: the weightiest figure on its line, with its verdict in words and form. */
export function GridSays({ place, before, onOpen }: { place: SheetPlace | undefined; before?: SheetPlace; onOpen: (place: string, figure: string) => void }) {
  const here = headline(place)
  const from = here ? place : before
  const shown = here ?? headline(before)
  if (!shown || !from) return null
  return (
    <button type="button" class="grid-says flat own-line whole" onClick={() => onOpen(from.place, shown.figure.code)}>
      <FigureLine figure={shown.figure} verdict={shown.verdict} name={from === place ? '' : from.name} />
    </button>
  )
}

/** A figure with its verdict; drawn on its line where there is a limit to draw. */
export function FigureLine({ figure, verdict, name = '' }: { figure: SheetFigure; verdict: Judged | null; name?: string }) {
  const judged = verdict && verdict.standing !== NO_LIMIT
  return (
    <>
      <span class="figure-said">
        <span>
          {name && <strong>{name}: </strong>}
          {figure.words}
        </span>{' '}
        <strong class="figure">{figure.value}</strong> {figure.unit}
        {figure.U && (
          <span class="soft">
            {' '}
            ±<span class="figure">{figure.U}</span>
          </span>
        )}
        {figure.corrected && <span class="small soft"> {figure.corrected}</span>}
      </span>
      {judged && figure.draw && (
        <NumberLine
          value={figure.draw.value}
          spread={figure.draw.U ?? 0}
          low={verdict.draw.low}
          high={verdict.draw.high}
          lowText={verdict.low}
          highText={verdict.high}
          valueText={figure.value ?? ''}
          spreadText={figure.U ?? ''}
          unit={figure.unit}
        />
      )}
      <Verdict standing={verdict?.standing ?? NO_LIMIT}>{verdict ? because(verdict, figure) : ''}</Verdict>
      {figure.guide.startsWith('STOP') && <Guide words={figure.guide} />}
      {figure.overdue.map((late) => (
        <span key={late} class="small gauge-due bold">
          {late}
        </span>
      ))}
    </>
  )
}

/** The excess written out, what would settle it, or '' where neither applies. */
export function because(verdict: Judged, figure: SheetFigure): string {
  if (verdict.standing === 'outside') {
    const excess = `${verdict.excess} ${figure.unit}`
    return verdict.side === 'low' ? say('figures.under', { amount: excess }) : say('figures.over', { amount: excess })
  }
  if (verdict.standing === 'not proven') return verdict.settle[0] ?? figure.unknown[0] ?? ''
  return ''
}

/** What can hurt, or spoil the reading, where the step is. */
export function Cautions({ sheet }: { sheet: Sheet }) {
  if (sheet.cautions.length === 0) return null
  return (
    <aside class="grid-cautions warned small" aria-label={say('common.cautions')}>
      {sheet.cautions.map((caution) => (
        <p key={caution}>{caution}</p>
      ))}
    </aside>
  )
}

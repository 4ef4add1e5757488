import { times } from '../../../parts/grid/magnified.ts'
import type { Sheet, SheetFigure, SheetPlace } from '../../../trade/sheets/types.ts'
import { Across } from './Across.tsx'
import { axesOf, scaleOf } from './drawn.ts'
import { HeadLimits } from './HeadLimits.tsx'
import { PlaceColumn } from './PlaceColumn.tsx'
import { sentence } from '../../frame/words.ts'
import { say } from '../../frame/say.ts'
import './foot.css'

interface Props {
  job: string
  sheet: Sheet
  at: string
  explain: (place: SheetPlace, figure: SheetFigure) => void
}

const DRAWN = ['bore', 'housing', 'journal', 'face']

/** One measurement sheet: its head, every place side by side, figures of the whole engine, and what would settle what is not proven. */
export function SheetView({ job, sheet, at, explain }: Props) {
  const scale = DRAWN.includes(sheet.drawing) ? scaleOf(sheet) : null
  return (
    <>
      <HeadLimits sheet={sheet} />
      {sheet.cautions.map((caution) => (
        <p key={caution} class="caution noted figures-caution">
          {caution}
        </p>
      ))}
      {scale && sheet.drawing !== 'face' && <Key sheet={sheet} magnified={say('figures.magnified', { times: times(scale.magnified) })} left={scale.left} />}
      <ol class="places-row" aria-label={say('figures.places')} style={{ '--places': String(sheet.places.length) }}>
        {sheet.places.map((place) => (
          <PlaceColumn key={place.place} job={job} sheet={sheet} place={place} scale={scale} at={place.place === at} explain={explain} />
        ))}
      </ol>
      <div class="figures-foot in-grid above-6">
        <Across sheet={sheet} />
        <Settle sheet={sheet} />
      </div>
    </>
  )
}

/** Which line is which height, and how much the deviations are magnified. */
function Key({ sheet, magnified, left }: { sheet: Sheet; magnified: string; left: boolean }) {
  const { round, along } = axesOf(sheet)
  const all = round !== null && along !== null ? sheet.axes[along]!.values : []
  const heights = all.length > 1 ? all : []
  return (
    <p class="ring-key wraps small above-4">
      {heights.map((height, i) => (
        <span key={height.code}>
          <svg class={`hollow ring ring-${Math.min(i, 3)}`} width="34" height="8" viewBox="0 0 34 8" aria-hidden="true">
            <path d="M0 4H34" />
          </svg>{' '}
          {height.words}
        </span>
      ))}
      <span class="bold one-line">{magnified}</span>
      {left && <span>{say('figures.limit_off_drawing')}</span>}
      <span class="soft">{say('figures.rings_note')}</span>
    </p>
  )
}

/** Everything that is not proven, and what would prove it. */
function Settle({ sheet }: { sheet: Sheet }) {
  const open = sheet.places.flatMap((place) =>
    place.figures.flatMap((figure) =>
      figure.now
        .filter((judged) => judged.standing === 'not proven')
        .map((judged) => ({ place, figure, words: [...judged.settle, ...(judged.settle.length ? [] : figure.unknown)] })),
    ),
  )
  if (!open.length) return null
  return (
    <section aria-labelledby="settle-title">
      <h2 id="settle-title">{say('figures.settle_title')}</h2>
      <ul class="settle">
        {open.map(({ place, figure, words }) => (
          <li key={place.place + figure.code}>
            <b>
              {sentence(place.name)}, {figure.words}:
            </b>{' '}
            {words.join(' ') || say('figures.name_gauge')}
          </li>
        ))}
      </ul>
    </section>
  )
}

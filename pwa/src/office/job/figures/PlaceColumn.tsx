import { Guide } from '../../../parts/figures/Guide.tsx'
import { NumberLine } from '../../../parts/figures/NumberLine.tsx'
import { Verdict } from '../../../parts/figures/Verdict.tsx'
import type { Sheet, SheetFigure, SheetPlace } from '../../../trade/sheets/types.ts'
import { sentence } from '../../frame/words.ts'
import { beyond, standingOf } from './written.ts'
import type { Scale } from './drawn.ts'
import { PlaceDrawing } from './PlaceDrawing.tsx'
import { Readings } from './Readings.tsx'
import { Remarks } from './Remarks.tsx'

interface Props {
  job: string
  sheet: Sheet
  place: SheetPlace
  scale: Scale | null
  at: boolean
  ask: (place: SheetPlace, figure: SheetFigure) => void
}

/** One cylinder or journal: its drawing, its verdict, its readings, its figures. */
export function PlaceColumn({ job, sheet, place, scale, at, ask }: Props) {
  const out = beyond(sheet, place)
  const standing = standingOf(place.figures)
  const nothing = Object.keys(place.readings).length === 0
  return (
    <li class="place-column" data-place={place.place} data-at={at} tabIndex={-1} aria-label={place.name}>
      <h2>{sentence(place.name)}</h2>
      <PlaceDrawing sheet={sheet} place={place} scale={scale} out={out} />
      <p class="place-verdict">
        {standing && !nothing ? (
          <Verdict standing={standing} />
        ) : (
          place.figures.length > 0 && <span class="soft">{nothing ? 'not read yet' : 'not read in full'}</span>
        )}
      </p>
      <Readings job={job} sheet={sheet} place={place} out={out} />
      <Remarks job={job} sheet={sheet} place={place} />
      {place.figures.length > 0 && (
        <ul class="place-figures" aria-label={`Figures of ${place.name}`}>
          {place.figures.map((figure) => (
            <FigureLine
              key={figure.code}
              figure={figure}
              ask={() => ask(place, figure)}
              line={!scale && sheet.drawing !== 'face'}
              unit={sheet.axes.length > 1 ? sheet.unit : ''}
            />
          ))}
        </ul>
      )}
    </li>
  )
}

interface LineProps {
  figure: SheetFigure
  ask: () => void
  /** Drawn as a dimension line under its words. */
  line: boolean
  /** The unit that the head of the readings says once; '' where there is none. */
  unit: string
}

function FigureLine({ figure, ask, line, unit }: LineProps) {
  const outside = figure.now.some(({ standing }) => standing === 'outside')
  const first = figure.now[0]
  return (
    <li class="figure-line">
      <button type="button" class="figure-name" onClick={ask} title={figure.definition}>
        {figure.words}
      </button>
      {figure.value === null ? (
        <span class="soft figure-missing">not yet</span>
      ) : (
        <span class={`figure figure-value${outside ? ' is-beyond' : ''}`}>
          {figure.value}
          {figure.unit !== unit && <span class="figure-unit"> {figure.unit}</span>}
        </span>
      )}
      {figure.U && figure.U !== '0' && (
        <span class="figure figure-spread">
          ±{figure.U}
        </span>
      )}
      {figure.now.map((judged) => (
        <span key={judged.limit} class="figure-judged">
          <Verdict standing={judged.standing}>
            {judged.standing === 'outside' && (
              <>
                <span class="figure">{judged.excess}</span> {judged.side === 'low' ? 'under' : 'over'}
              </>
            )}
          </Verdict>
          {figure.now.length > 1 && <span class="soft"> {judged.sort}</span>}
        </span>
      ))}
      {figure.then && <span class="figure-then">judged otherwise then: {figure.then.map(({ standing }) => standing).join(', ') || 'no limit'}</span>}
      {line && first && figure.draw && (
        <span class="figure-drawn">
          <NumberLine
            low={first.draw.low}
            high={first.draw.high}
            value={figure.draw.value}
            spread={figure.draw.U ?? 0}
            lowText={first.low}
            highText={first.high}
            valueText={figure.value ?? ''}
            unit={figure.unit}
          />
        </span>
      )}
      <Guide words={figure.guide} quiet="figure-guide" />
    </li>
  )
}

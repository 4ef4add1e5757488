import { Guide } from '../../../parts/figures/Guide.tsx'
import { NumberLine } from '../../../parts/figures/NumberLine.tsx'
import { Verdict } from '../../../parts/figures/Verdict.tsx'
import type { Standing } from '../../../trade/measuring/entries.ts'
import type { Sheet, SheetFigure, SheetPlace } from '../../../trade/sheets/types.ts'
import { sentence } from '../../frame/words.ts'
import { beyond, standingOf } from './written.ts'
import type { Scale } from './drawn.ts'
import { PlaceDrawing } from './PlaceDrawing.tsx'
import { Readings } from './Readings.tsx'
import { Remarks } from './Remarks.tsx'
import { say } from '../../frame/say.ts'
import './places_row.css'

interface Props {
  job: string
  sheet: Sheet
  place: SheetPlace
  scale: Scale | null
  at: boolean
  explain: (place: SheetPlace, figure: SheetFigure) => void
}

/** One cylinder or journal: its drawing, its verdict, its readings, its figures. */
export function PlaceColumn({ job, sheet, place, scale, at, explain }: Props) {
  const out = beyond(sheet, place)
  const standing = standingOf(place.figures)
  const nothing = Object.keys(place.readings).length === 0
  return (
    <li class="place-column ring-inside" data-place={place.place} data-at={at} tabIndex={-1} aria-label={place.name}>
      <h2 class="body-size">{sentence(place.name)}</h2>
      <PlaceDrawing sheet={sheet} place={place} scale={scale} out={out} />
      <p class="place-verdict on-line wrapped">
        {standing && !nothing ? (
          <Verdict standing={standing} />
        ) : (
          place.figures.length > 0 && <span class="soft">{nothing ? say('figures.not_read_yet') : say('figures.not_read_in_full')}</span>
        )}
      </p>
      <Readings job={job} sheet={sheet} place={place} out={out} />
      <Remarks job={job} sheet={sheet} place={place} />
      {place.figures.length > 0 && (
        <ul class="place-figures above-2" aria-label={say('figures.figures_of', { place: place.name })}>
          {place.figures.map((figure) => (
            <FigureLine
              key={figure.code}
              figure={figure}
              explain={() => explain(place, figure)}
              line={!scale && sheet.drawing !== 'face'}
              unit={sheet.axes.length > 1 ? sheet.unit : ''}
            />
          ))}
        </ul>
      )}
    </li>
  )
}

const VERDICTS: Record<Standing, string> = {
  within: say('figures.verdict_within'),
  outside: say('figures.verdict_outside'),
  'not proven': say('figures.verdict_not_proven'),
  'no limit': say('figures.verdict_no_limit'),
}

interface LineProps {
  figure: SheetFigure
  explain: () => void
  /** Drawn as a dimension line under its words. */
  line: boolean
  /** The unit that stands once in the head of the readings; '' where there is none. */
  unit: string
}

function FigureLine({ figure, explain, line, unit }: LineProps) {
  const outside = figure.now.some(({ standing }) => standing === 'outside')
  const first = figure.now[0]
  return (
    <li class="figure-line in-grid">
      <button type="button" class="figure-name flat" onClick={explain} title={figure.definition}>
        {figure.words}
      </button>
      {figure.value === null ? (
        <span class="soft figure-missing small">{say('figures.not_yet')}</span>
      ) : (
        <span class={`to-right figure figure-value${outside ? ' is-beyond' : ''}`}>
          {figure.value}
          {figure.unit !== unit && <span class="figure-unit soft"> {figure.unit}</span>}
        </span>
      )}
      {figure.U && figure.U !== '0' && (
        <span class="figure figure-spread soft small to-right">
          ±{figure.U}
        </span>
      )}
      {figure.now.map((judged) => (
        <span key={judged.limit} class="figure-judged">
          <Verdict standing={judged.standing}>
            {judged.standing === 'outside' && (
              <span class="figure">
                {judged.side === 'low' ? say('figures.under', { excess: judged.excess ?? '' }) : say('figures.over', { excess: judged.excess ?? '' })}
              </span>
            )}
          </Verdict>
          {figure.now.length > 1 && <span class="soft"> {judged.sort}</span>}
        </span>
      ))}
      {figure.then && <span class="figure-then caution">{say('figures.other_verdict_then', { verdict: figure.then.map(({ standing }) => VERDICTS[standing]).join(', ') || VERDICTS['no limit'] })}</span>}
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

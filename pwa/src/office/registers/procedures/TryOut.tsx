import { useMemo, useState } from 'preact/hooks'
import { GridDrawing, isDrawn } from '../../../parts/grid/GridDrawing.tsx'
import { pointWords, readingCodes, type Procedure } from '../../../trade/measuring/procedures.ts'
import { say } from '../../frame/say.ts'
import { gridRows, type TryOutResult, workOut } from './try_out.ts'

/** The procedure as it reads now, with readings that somebody makes up: drawing, grid, figures. Nothing is saved. */
export function TryOut({ procedure }: { procedure: Procedure }) {
  const [typed, setTyped] = useState<Record<string, string>>({})
  const [at, setAt] = useState('')
  const { figures, refused } = useMemo(() => workOut(procedure, typed), [procedure, typed])
  const codes = readingCodes(procedure)
  const fault = Object.values(refused)[0]
  return (
    <div class="try-out in-grid">
      {isDrawn(procedure.drawing) && (
        <GridDrawing
          drawing={procedure.drawing}
          axes={procedure.grid}
          readings={codes.map((code) => ({ code, words: pointWords(procedure, code) }))}
          next={codes.includes(at) ? at : (codes[0] ?? '')}
          taken={new Set(Object.keys(typed).filter((code) => typed[code]))}
        />
      )}
      <p class="soft small">{say('procedures.trial_help')}</p>
      <Readings
        procedure={procedure}
        cell={(code, words) => (
          <input
            class={`figure try-cell${refused[code] ? ' is-wrong' : ''}`}
            aria-label={words}
            aria-invalid={refused[code] ? true : undefined}
            inputMode="decimal"
            autoComplete="off"
            value={typed[code] ?? ''}
            onFocus={() => setAt(code)}
            onInput={(event) => setTyped({ ...typed, [code]: event.currentTarget.value })}
          />
        )}
      />
      {fault && (
        <p class="field-wrong" role="status">
          {fault}
        </p>
      )}
      <Figures figures={figures} />
    </div>
  )
}

interface ReadingsProps {
  procedure: Procedure
  cell: (code: string, words: string) => preact.JSX.Element
}

/** The grid of readings, and below it the separate ones and the sizes they are held against. */
function Readings({ procedure, cell }: ReadingsProps) {
  const across = procedure.grid.length > 1 ? procedure.grid.at(-1)! : null
  const single = [...procedure.readings, ...procedure.sizes.filter(({ quantity, many }) => quantity && !many)]
  return (
    <table class="try-grid" aria-label={say('procedures.trial_readings')}>
      {across && (
        <thead>
          <tr>
            <td />
            {across.values.map(({ code, words }) => (
              <th key={code} scope="col">
                {words}
              </th>
            ))}
          </tr>
        </thead>
      )}
      <tbody>
        {gridRows(procedure).map((row) => (
          <tr key={row.code}>
            <th scope="row">{row.words}</th>
            {across ? (
              across.values.map(({ code, words }) => <td key={code}>{cell(`${row.code}/${code}`, `${row.words}, ${words}`)}</td>)
            ) : (
              <td>{cell(row.code, row.words)}</td>
            )}
          </tr>
        ))}
        {single.map(({ code, words }) => (
          <tr key={code}>
            <th scope="row">{words}</th>
            <td colSpan={across?.values.length ?? 1}>{cell(code, words)}</td>
          </tr>
        ))}
      </tbody>
    </table>
  )
}

function Figures({ figures }: { figures: TryOutResult['figures'] }) {
  return (
    <dl class="try-figures" aria-label={say('procedures.trial_figures')}>
      {figures.map(({ code, words, shown, missing }) => (
        <div class="ends hair-under in-row" key={code}>
          <dt>{words}</dt>
          <dd class="to-right">{shown ? <span class="figure">{shown}</span> : <span class="soft">{missing}</span>}</dd>
        </div>
      ))}
    </dl>
  )
}

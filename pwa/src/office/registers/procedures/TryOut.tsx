import { useMemo, useState } from 'preact/hooks'
import { GridDrawing, isDrawn } from '../../../parts/grid/GridDrawing.tsx'
import { evaluate, type Input } from '../../../trade/measuring/figures.ts'
import { pointWords, quantityOf, readingCodes, type Procedure } from '../../../trade/measuring/procedures.ts'
import { decimalText, fromSi, QUANTITIES, readQuantity, toSi } from '../../../trade/ground/units.ts'
import { Refusal } from '../../../trade/ground/errors.ts'

/** The procedure as it stands, tried with readings that somebody makes up: drawing, grid, figures. Nothing is kept. */
export function TryOut({ procedure }: { procedure: Procedure }) {
  const [typed, setTyped] = useState<Record<string, string>>({})
  const [at, setAt] = useState('')
  const { figures, refused } = useMemo(() => workOut(procedure, typed), [procedure, typed])
  const codes = readingCodes(procedure)
  const cell = (code: string, words: string) => (
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
  )
  const across = procedure.grid.length > 1 ? procedure.grid.at(-1)! : null
  const down = (across ? procedure.grid.slice(0, -1) : procedure.grid).reduce<{ code: string; words: string }[]>(
    (made, axis) =>
      made.flatMap((one) =>
        axis.values.map((value) => ({
          code: [one.code, value.code].filter(Boolean).join('/'),
          words: [one.words, value.words].filter(Boolean).join(', '),
        })),
      ),
    procedure.grid.length ? [{ code: '', words: '' }] : [],
  )
  const wrong = Object.entries(refused)[0]
  return (
    <div class="try-out">
      {isDrawn(procedure.drawing) && (
        <GridDrawing
          drawing={procedure.drawing}
          axes={procedure.grid}
          readings={codes.map((code) => ({ code, words: pointWords(procedure, code) }))}
          next={codes.includes(at) ? at : (codes[0] ?? '')}
          taken={new Set(Object.keys(typed).filter((code) => typed[code]))}
        />
      )}
      <p class="soft small">Type made-up readings to see what comes of them.</p>
      <table class="try-grid" aria-label="Made-up readings">
        {across && (
          <thead>
            <tr>
              <td />
              {across.values.map((value) => (
                <th key={value.code} scope="col">
                  {value.words}
                </th>
              ))}
            </tr>
          </thead>
        )}
        <tbody>
          {down.map((row) => (
            <tr key={row.code}>
              <th scope="row">{row.words}</th>
              {(across?.values ?? [null]).map((value) => {
                const code = value ? `${row.code}/${value.code}` : row.code
                return <td key={code}>{cell(code, value ? `${row.words}, ${value.words}` : row.words)}</td>
              })}
            </tr>
          ))}
          {[...procedure.readings, ...procedure.sizes.filter(({ quantity, many }) => quantity && !many)].map(({ code, words }) => (
            <tr key={code}>
              <th scope="row">{words}</th>
              <td colSpan={across?.values.length ?? 1}>{cell(code, words)}</td>
            </tr>
          ))}
        </tbody>
      </table>
      {wrong && (
        <p class="field-wrong" role="status">
          {wrong[1]}
        </p>
      )}
      <dl class="try-figures" aria-label="Figures">
        {figures.map((figure) => (
          <div key={figure.code}>
            <dt>{figure.words}</dt>
            <dd>{figure.shown ? <span class="figure">{figure.shown}</span> : <span class="soft">{figure.missing}</span>}</dd>
          </div>
        ))}
      </dl>
    </div>
  )
}

interface Worked {
  figures: { code: string; words: string; shown: string; missing: string }[]
  refused: Record<string, string>
}

/** What the made-up readings come to, each as it would be shown, and which of them cannot be read. */
export function workOut(procedure: Procedure, typed: Record<string, string>): Worked {
  const inputs: Record<string, Input> = {}
  const refused: Record<string, string> = {}
  const quantities = new Map(procedure.sizes.map(({ code, quantity }) => [code, quantity]))
  for (const [code, text] of Object.entries(typed)) {
    if (!text.trim()) continue
    const quantity = quantities.get(code) ?? quantityOf(procedure, code)
    if (!QUANTITIES.some((one) => one.code === quantity)) continue
    try {
      const reading = readQuantity(quantity, text)
      inputs[code] = { amount: toSi(reading.amount, reading.unit), unit: reading.unit, places: reading.places }
    } catch (reason) {
      refused[code] = reason instanceof Refusal ? reason.message : String(reason)
    }
  }
  const figures = evaluate(procedure, inputs, {}).map((figure) => ({
    code: figure.code,
    words: figure.words,
    shown: figure.amount ? `${decimalText(fromSi(figure.amount, figure.unit), figure.places)} ${figure.unit}`.trim() : '',
    missing: figure.missing.length ? `needs ${figure.missing.map((name) => pointWords(procedure, name)).join('; ')}` : 'not yet',
  }))
  return { figures, refused }
}

import { isDrawn } from '../../parts/grid/GridDrawing.tsx'
import type { Asked, Sheet, SheetPlace, Taken } from '../../trade/sheets/types.ts'
import type { Cell } from './grid.ts'
import { isTaken, same } from './grid.ts'
import { say } from '../frame/say.ts'

export interface GridCellsProps {
  sheet: Sheet
  place: SheetPlace
  target: Cell | null
  onPick: (reading: string) => void
}

/** The readings of one place: those of the grid as a table, the rest beside it by their words. Any can be touched to be next. */
export function GridCells(props: GridCellsProps) {
  const { sheet } = props
  const table = sheet.axes.length > 1
  const codes = new Set(table ? codesOf(sheet.axes) : [])
  const rest = sheet.readings_asked.filter((r) => !codes.has(r.code))
  return (
    <div class={isDrawn(sheet.drawing) ? 'grid-cells' : 'grid-cells is-alone'}>
      {table && <Table {...props} />}
      {rest.length > 0 && (
        <div class="grid-list in-grid">
          {rest.map((wanted) => (
            <ReadingCell key={wanted.code} {...props} wanted={wanted} named />
          ))}
        </div>
      )}
    </div>
  )
}

const codesOf = (axes: Sheet['axes']): string[] =>
  axes.reduce<string[]>((all, axis) => (all.length ? all.flatMap((code) => axis.values.map((v) => `${code}/${v.code}`)) : axis.values.map((v) => v.code)), [])

/** Rows are all axes but the last, columns the last. */
function Table(props: GridCellsProps) {
  const { sheet } = props
  const columns = sheet.axes.at(-1)!.values
  const first = sheet.axes.slice(0, -1)
  const words = first.reduce<string[]>((all, axis) => (all.length ? all.flatMap((w) => axis.values.map((v) => `${w}, ${v.words}`)) : axis.values.map((v) => v.words)), [])
  return (
    <table class="grid-table whole">
      <thead>
        <tr>
          <td />
          {columns.map((c) => (
            <th key={c.code} scope="col">
              {c.words}
            </th>
          ))}
        </tr>
      </thead>
      <tbody>
        {codesOf(first).map((code, i) => (
          <tr key={code}>
            <th scope="row">{words[i]}</th>
            {columns.map((c) => {
              const wanted = sheet.readings_asked.find((r) => r.code === `${code}/${c.code}`)
              return <td key={c.code}>{wanted && <ReadingCell {...props} wanted={wanted} />}</td>
            })}
          </tr>
        ))}
      </tbody>
    </table>
  )
}

function ReadingCell({ wanted, place, target, onPick, named }: GridCellsProps & { wanted: Asked; named?: boolean }) {
  const reading = place.readings[wanted.code]
  const taken = isTaken(reading) ? reading : undefined
  const lit = same(target, { place: place.place, reading: wanted.code })
  const kind = `grid-cell${lit ? ' is-next' : ''}${taken?.odd ? ' is-odd' : ''}${taken?.borrowed ? ' is-borrowed' : ''}${wanted.optional ? ' is-optional' : ''}`
  return (
    <button type="button" class={kind} data-quantity={wanted.quantity} onClick={() => onPick(wanted.code)}>
      <span class="unseen">{[wanted.words, ...facts(taken, wanted), lit && say('cell.next')].filter(Boolean).join(', ')}</span>
      {named && (
        <span class="grid-cell-name tiny" aria-hidden="true">
          {wanted.words}
        </span>
      )}
      <span class="figure" aria-hidden="true">
        {taken ? taken.mean : '–'}
      </span>
      <span class="grid-cell-n" aria-hidden="true">
        {taken?.borrowed ? say('cell.carried_over') : taken && taken.n > 1 ? `×${taken.n}` : !taken && wanted.optional ? say('cell.optional') : ''}
      </span>
    </button>
  )
}

/** What the cell holds, for a screen reader. */
function facts(taken: Taken | undefined, wanted: Asked): string[] {
  if (!taken) return [wanted.optional ? say('cell.not_needed') : say('cell.not_read')]
  const value = `${taken.mean} ${taken.unit}`
  if (taken.borrowed) return [value, say('cell.borrowed_short')]
  return [value, taken.n > 1 ? say('cell.mean_of', { count: taken.n }) : '', taken.odd ? say('cell.odd') : '']
}

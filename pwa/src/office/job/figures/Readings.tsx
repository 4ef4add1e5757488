import type { Sheet, SheetPlace, Taken } from '../../../trade/sheets/types.ts'
import { address } from '../../frame/route.ts'
import { cells, readingWords } from './written.ts'
import { say } from '../../frame/say.ts'

interface Props {
  job: string
  sheet: Sheet
  place: SheetPlace
  /** The readings that lie outside a limit. */
  out: Set<string>
}

/** The readings of a place as they stand in the grid: last axis across, the others down; then those beside the grid. */
export function Readings({ job, sheet, place, out }: Props) {
  const across = sheet.axes.length > 1 ? sheet.axes.at(-1)! : null
  const down = (across ? sheet.axes.slice(0, -1) : sheet.axes).reduce<{ code: string; words: string }[]>(
    (rows, axis) =>
      rows.flatMap((row) =>
        axis.values.map((value) => ({
          code: [row.code, value.code].filter(Boolean).join('/'),
          words: [row.words, value.words].filter(Boolean).join(', '),
        })),
      ),
    sheet.axes.length ? [{ code: '', words: '' }] : [],
  )
  const cell = (code: string) => <Cell job={job} unit={across ? sheet.unit : ''} taken={place.readings[code]} out={out.has(code)} words={readingWords(sheet, code)} />
  const grid = new Set(cells(sheet).map(({ code }) => code))
  const beside = sheet.readings_asked.filter(({ code }) => !grid.has(code) && place.readings[code])
  return (
    <table class="readings whole close-set" aria-label={say('figures.readings_of', { place: place.name, unit: sheet.unit })}>
      {across && (
        <thead>
          <tr>
            <td class="readings-unit">{sheet.unit}</td>
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
            {(across ? across.values.map(({ code }) => `${row.code}/${code}`) : [row.code]).map((code) => (
              <td key={code}>{cell(code)}</td>
            ))}
          </tr>
        ))}
        {beside.map(({ code, words }) => (
          <tr key={code}>
            <th scope="row">{words}</th>
            <td colSpan={across?.values.length ?? 1}>{cell(code)}</td>
          </tr>
        ))}
      </tbody>
    </table>
  )
}

interface CellProps {
  job: string
  taken: Taken | undefined
  out: boolean
  words: string
  /** The unit that stands once in the head of the table; '' where there is no head. */
  unit: string
}

function Cell({ job, taken, out, words, unit }: CellProps) {
  if (!taken) return <span class="soft" aria-label={say('figures.not_read')}>–</span>
  const newest = taken.values.findLast(({ exhibit }) => exhibit)
  const shown = (
    <>
      {taken.mean}
      {taken.unit && taken.unit !== unit && <span class="figure-unit soft"> {taken.unit}</span>}
    </>
  )
  const colour = out ? 'is-beyond' : ''
  if (!newest) return <span class={`one-line figure reading ${colour}`}>{shown}</span>
  return (
    <a
      class={`one-line figure reading ${colour}`}
      href={address(['job', job], { exhibit: newest.exhibit })}
      aria-label={[
        `${words}: ${taken.mean} ${taken.unit}`,
        out && say('figures.outside_limit'),
        taken.n > 1 && say('figures.mean_of', { count: taken.n }),
        say('figures.record', { number: String(newest.exhibit) }),
      ]
        .filter(Boolean)
        .join(', ')}
    >
      {shown}
    </a>
  )
}

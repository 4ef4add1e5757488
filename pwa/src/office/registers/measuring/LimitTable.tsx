import { MATERIALS, SORTS, type Limit, type Size } from '../../../trade/measuring/limits.ts'
import type { EngineType } from '../../../trade/engine/parts.ts'
import type { Procedure } from '../../../trade/measuring/procedures.ts'
import { say } from '../../frame/say.ts'
import { isManager } from '../../frame/session.ts'
import { dayAndClock, nameOf } from '../../frame/words.ts'
import type { Revision } from '../shapes.ts'
import { dateWords } from './dates.ts'
import type { LimitsShown } from './shapes.ts'
import { whereWords } from './where.ts'

interface Props {
  type: EngineType
  /** Of the procedure, which may no longer exist. */
  code: string
  procedure: Procedure | undefined
  limits: LimitsShown['limits']
  sizes: LimitsShown['sizes']
  onChangeLimit: (limit: Limit) => void
  onChangeSize: (size: Size) => void
}

const codeWords = (code: string) => code.replaceAll('_', ' ')

/** The limits and sizes of one procedure. */
export function LimitTable({ type, code, procedure, limits, sizes, onChangeLimit, onChangeSize }: Props) {
  const name = procedure?.name ?? codeWords(code)
  return (
    <section aria-label={name}>
      <h2>{name}</h2>
      <table class="table is-named limit-lines">
        <thead>
          <tr>
            <th scope="col">{say('limits.column_figure')}</th>
            <th scope="col">{say('limits.column_value')}</th>
            <th scope="col">{say('registers.fact_type')}</th>
            <th scope="col">{say('limits.column_where')}</th>
            <th scope="col">{say('registers.column_source')}</th>
            <td />
          </tr>
        </thead>
        <tbody>
          {limits.map((line) => (
            <LimitRow key={line.id} type={type} procedure={procedure} line={line} onChange={onChangeLimit} />
          ))}
          {sizes.map((line) => (
            <SizeRow key={line.id} type={type} procedure={procedure} line={line} onChange={onChangeSize} />
          ))}
        </tbody>
      </table>
    </section>
  )
}

interface RowProps<Line, Statement> {
  type: EngineType
  procedure: Procedure | undefined
  line: Line
  onChange: (statement: Statement) => void
}

function LimitRow({ type, procedure, line, onChange }: RowProps<LimitsShown['limits'][number], Limit>) {
  const { history, entry: _, ...limit } = line
  const figure = procedure?.figures.find(({ code }) => code === limit.figure)?.words ?? codeWords(limit.figure)
  return (
    <tr class={limit.withdrawn ? 'is-withdrawn' : ''}>
      <th scope="row">{figure}</th>
      <td>
        <span class={`figure limit-range${limit.low ? ' has-low' : ''}${limit.high ? ' has-high' : ''}`}>{limitWords(limit)}</span>
      </td>
      <td>{SORTS[limit.sort]}</td>
      <td>{whereWords(type, limit.where)}</td>
      <td>
        <Source {...limit} />
        <span class="soft"> {validWords(limit)}</span>
        <Earlier history={history} describe={(revision) => `${limitWords(revision.limit)}, ${revision.limit.source}`} />
      </td>
      <td>
        <ChangeButton onClick={() => onChange(limit)} what={`${figure}, ${SORTS[limit.sort]}`} />
      </td>
    </tr>
  )
}

function SizeRow({ type, procedure, line, onChange }: RowProps<LimitsShown['sizes'][number], Size>) {
  const { history, entry: _, ...size } = line
  const name = procedure?.sizes.find(({ code }) => code === size.code)?.words ?? codeWords(size.code)
  return (
    <tr class={size.withdrawn ? 'is-withdrawn' : ''}>
      <th scope="row">{name}</th>
      <td class="figure">{sizeWords(size)}</td>
      <td>{say('limits.type_size')}</td>
      <td>{whereWords(type, size.where)}</td>
      <td>
        <Source {...size} />
        <Earlier history={history} describe={(revision) => `${sizeWords(revision.size)}, ${revision.size.source}`} />
      </td>
      <td>
        <ChangeButton onClick={() => onChange(size)} what={name} />
      </td>
    </tr>
  )
}

function limitWords({ low, high, unit }: Limit): string {
  if (low && high) return say('registers.range', { low, high, unit }).trim()
  return (low ? say('limits.at_least', { low, unit }) : say('limits.at_most', { high, unit })).trim()
}

function sizeWords({ code, values, unit }: Size): string {
  return code === 'material' ? values.map((material) => MATERIALS[material]?.words ?? material).join(', ') : `${values.join('  ')} ${unit}`
}

function validWords({ valid_from, valid_until }: Limit): string {
  const [from, until] = [dateWords(valid_from), dateWords(valid_until)]
  if (from && until) return say('limits.valid_between', { from, until })
  if (until) return say('limits.valid_only_until', { until })
  return from && say('limits.valid_only_from', { from })
}

function Source({ source, note, withdrawn }: { source: string; note: string; withdrawn: boolean }) {
  return (
    <>
      {withdrawn && <b>{say('registers.withdrawn')}: </b>}
      {source}
      {note && <span class="soft">. {note}</span>}
    </>
  )
}

function Earlier<Line extends Revision>({ history, describe }: { history: Line[] | undefined; describe: (line: Line) => string }) {
  if (!history || history.length < 2) return null
  return (
    <details>
      <summary>{say('limits.versions', { count: history.length })}</summary>
      <ol class="visits">
        {history.map((line) => (
          <li key={line.position}>
            {say('registers.when_and_who', { when: dayAndClock(line.received), who: nameOf(line.author) })}: <span class="figure">{describe(line)}</span>
          </li>
        ))}
      </ol>
    </details>
  )
}

function ChangeButton({ onClick, what }: { onClick: () => void; what: string }) {
  if (!isManager.value) return null
  return (
    <button type="button" class="plain" onClick={onClick} aria-label={say('registers.change_what', { what })}>
      {say('common.change')}
    </button>
  )
}

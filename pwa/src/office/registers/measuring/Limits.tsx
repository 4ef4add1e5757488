import { useState } from 'preact/hooks'
import { MATERIALS, SORTS, type Limit, type Size } from '../../../trade/measuring/limits.ts'
import type { EngineType } from '../../../trade/engine/parts.ts'
import type { Procedure } from '../../../trade/measuring/procedures.ts'
import { PageHead } from '../../frame/PageHead.tsx'
import { Empty, Fault } from '../../frame/Say.tsx'
import { useAsk } from '../../frame/useAsk.ts'
import { address } from '../../frame/route.ts'
import { isManager } from '../../frame/session.ts'
import { dayAndClock, nameOf } from '../../frame/words.ts'
import { dateWords } from './dates.ts'
import { LimitForm, newLimit } from './LimitForm.tsx'
import type { LimitsShown, Procedures, SaidBy } from './shapes.ts'
import { newSize, SizeForm } from './SizeForm.tsx'
import { whereWords } from './where.ts'

/** Limits and sizes of one engine type, procedure by procedure, each with the source it was taken from. */
export function Limits({ type }: { type: EngineType }) {
  const { told, trouble, again } = useAsk<LimitsShown>(`/api/engine-types/${type.id}/limits`)
  const listed = useAsk<Procedures>('/api/procedures').told
  const [limit, setLimit] = useState<Limit | null>(null)
  const [size, setSize] = useState<Size | null>(null)
  const procedures = (listed?.procedures ?? []).map(({ procedure }) => procedure)
  const codes = [...new Set([...(told?.limits ?? []), ...(told?.sizes ?? [])].map(({ procedure }) => procedure))]
  const saved = () => {
    setLimit(null)
    setSize(null)
    again()
  }
  return (
    <section class="page limits-page" aria-labelledby="limits-title">
      <PageHead
        id="limits-title"
        title={`Limits and sizes, ${type.name}`}
        acts={
          <>
            <a class="act" href={address(['engine-types', type.id])}>
              The drawing
            </a>
            {isManager.value && procedures.length > 0 && (
              <>
                <button type="button" onClick={() => setSize(newSize(type.id, procedures))}>
                  Set a size
                </button>
                <button type="button" class="main-act" onClick={() => setLimit(newLimit(type.id, procedures))}>
                  Set a limit
                </button>
              </>
            )}
          </>
        }
      />
      <p class="page-words">
        Limits come from the maker’s data, copied by the workshop with the page they stand on. A changed limit never changes a verdict
        already given: both are shown.
      </p>
      <Fault>{trouble?.message ?? ''}</Fault>
      {told && codes.length === 0 && (
        <Empty>None yet. Figures of this engine type stand without a verdict until somebody sets a limit with its source.</Empty>
      )}
      {codes.map((code) => (
        <OfProcedure
          key={code}
          type={type}
          procedure={procedures.find((one) => one.code === code) ?? null}
          name={procedures.find((one) => one.code === code)?.name ?? code.replaceAll('_', ' ')}
          limits={told!.limits.filter(({ procedure }) => procedure === code)}
          sizes={told!.sizes.filter(({ procedure }) => procedure === code)}
          change={(one) => ('figure' in one ? setLimit(one) : setSize(one))}
        />
      ))}
      {limit && <LimitForm type={type} procedures={procedures} start={limit} saved={saved} close={() => setLimit(null)} />}
      {size && <SizeForm type={type} procedures={procedures} start={size} saved={saved} close={() => setSize(null)} />}
    </section>
  )
}

interface GroupProps {
  type: EngineType
  procedure: Procedure | null
  name: string
  limits: LimitsShown['limits']
  sizes: LimitsShown['sizes']
  change: (one: Limit | Size) => void
}

function OfProcedure({ type, procedure, name, limits, sizes, change }: GroupProps) {
  const figure = (code: string) => procedure?.figures.find((one) => one.code === code)?.words ?? code.replaceAll('_', ' ')
  const size = (code: string) => procedure?.sizes.find((one) => one.code === code)?.words ?? code.replaceAll('_', ' ')
  return (
    <section aria-label={name}>
      <h2>{name}</h2>
      <table class="limit-lines">
        <thead>
          <tr>
            <th scope="col">figure or size</th>
            <th scope="col">limit or value</th>
            <th scope="col">sort</th>
            <th scope="col">where</th>
            <th scope="col">source</th>
            <td />
          </tr>
        </thead>
        <tbody>
          {limits.map(({ history, entry: _, ...limit }) => (
            <tr key={limit.id} class={limit.withdrawn ? 'is-withdrawn' : ''}>
              <th scope="row">{figure(limit.figure)}</th>
              <td>
                <span class={`figure limit-range${limit.low ? ' has-low' : ''}${limit.high ? ' has-high' : ''}`}>
                  {rangeWords(limit)} {limit.unit}
                </span>
              </td>
              <td>{SORTS[limit.sort]}</td>
              <td>{whereWords(type, limit.where)}</td>
              <td>
                <Source source={limit.source} note={limit.note} withdrawn={limit.withdrawn} />
                <span class="soft">{validWords(limit)}</span>
                <Earlier history={history} words={(one) => `${rangeWords(one.limit)} ${one.limit.unit}, ${one.limit.source}`} />
              </td>
              <td>
                <Change change={() => change(limit)} what={`${figure(limit.figure)}, ${SORTS[limit.sort]}`} />
              </td>
            </tr>
          ))}
          {sizes.map(({ history, entry: _, ...one }) => (
            <tr key={one.id} class={one.withdrawn ? 'is-withdrawn' : ''}>
              <th scope="row">{size(one.code)}</th>
              <td class="figure">{valueWords(one)}</td>
              <td>size</td>
              <td>{whereWords(type, one.where)}</td>
              <td>
                <Source source={one.source} note={one.note} withdrawn={one.withdrawn} />
                <Earlier history={history} words={(said) => `${valueWords(said.size)}, ${said.size.source}`} />
              </td>
              <td>
                <Change change={() => change(one)} what={size(one.code)} />
              </td>
            </tr>
          ))}
        </tbody>
      </table>
    </section>
  )
}

function rangeWords({ low, high }: Limit): string {
  return low && high ? `${low} to ${high}` : low ? `at least ${low}` : `at most ${high}`
}

function valueWords({ code, values, unit }: Size): string {
  return code === 'material' ? values.map((one) => MATERIALS[one]?.words ?? one).join(', ') : `${values.join('  ')} ${unit}`
}

function validWords({ valid_from, valid_until }: Limit): string {
  if (!valid_from && !valid_until) return ''
  if (!valid_until) return ` from ${dateWords(valid_from)}`
  return ` ${valid_from ? `${dateWords(valid_from)} ` : ''}until ${dateWords(valid_until)}`
}

function Source({ source, note, withdrawn }: { source: string; note: string; withdrawn: boolean }) {
  return (
    <>
      {withdrawn && <b>withdrawn, </b>}
      {source}
      {note && <span class="soft">. {note}</span>}
    </>
  )
}

function Earlier<One extends SaidBy>({ history, words }: { history: One[] | undefined; words: (one: One) => string }) {
  if (!history || history.length < 2) return null
  return (
    <details>
      <summary>set {history.length} times</summary>
      <ol class="visits">
        {history.map((one) => (
          <li key={one.position}>
            {dayAndClock(one.received)}, {nameOf(one.author)}: <span class="figure">{words(one)}</span>
          </li>
        ))}
      </ol>
    </details>
  )
}

function Change({ change, what }: { change: () => void; what: string }) {
  if (!isManager.value) return null
  return (
    <button type="button" class="plain" onClick={change} aria-label={`Set anew: ${what}`}>
      set anew
    </button>
  )
}

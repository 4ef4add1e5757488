import { characteristicOf, ToleranceFrame } from '../../../parts/figures/ToleranceFrame.tsx'
import type { Sheet } from '../../../trade/sheets/types.ts'
import { MATERIALS } from '../../../trade/measuring/limits.ts'
import { count } from '../../frame/words.ts'
import { dateWords } from '../../registers/measuring/dates.ts'
import { whereWords } from '../../registers/measuring/where.ts'

type Limit = Sheet['limits_now'][number]

const SORTS: Record<string, string> = { new: 'new', service: 'service', machining: 'machining' }

/** What the sheet is judged by: limits with their source, tolerance indicators, gauges, the rule in words. */
export function HeadLimits({ sheet }: { sheet: Sheet }) {
  const words = new Map(sheet.places.flatMap(({ figures }) => figures.map((figure) => [figure.code, figure.words] as const)))
  const sources = [...new Set(sheet.limits_now.map(({ source }) => source))]
  return (
    <div class="sheet-head">
      <dl class="sheet-head-lines">
        {sources.map((source) => (
          <div key={source}>
            <dt>limits</dt>
            <dd>
              {sheet.limits_now
                .filter((limit) => limit.source === source)
                .map((limit) => (
                  <LimitShape key={limit.figure + limit.sort + limit.where.join()} limit={limit} words={words.get(limit.figure) ?? limit.figure.replaceAll('_', ' ')} />
                ))}
              <span class="limit-source">{source}</span>
            </dd>
          </div>
        ))}
        {!sources.length && (
          <div>
            <dt>limits</dt>
            <dd>
              {sheet.procedure
                ? 'none set for this engine type; the figures stand without a verdict'
                : 'single readings are not judged: a procedure is'}
            </dd>
          </div>
        )}
        <Sizes sheet={sheet} />
        <div>
          <dt>gauges</dt>
          <dd>
            {sheet.gauges.map((gauge) => (
              <span key={gauge.id + gauge.name} class="gauge-used">
                {gauge.name}
                {gauge.mpe && (
                  <span class="figure">
                    {' '}
                    ±{gauge.mpe} {gauge.unit}
                  </span>
                )}
                {gauge.due && <>, due {dateWords(gauge.due)}</>}
              </span>
            ))}
            {!sheet.gauges.length && 'none of the register was named'}
          </dd>
        </div>
        {sheet.overdue.map(({ gauge, due, count: n }) => (
          <div key={gauge} class="is-overdue">
            <dt>overdue</dt>
            <dd>
              {gauge} was due {dateWords(due)} and gave {count(n, 'reading')} after that. It stays said, whatever a later calibration
              finds.
            </dd>
          </div>
        ))}
        <div class="head-rule">
          <dt>rule</dt>
          <dd>{sheet.rule_words}</dd>
        </div>
      </dl>
    </div>
  )
}

function LimitShape({ limit, words }: { limit: Limit; words: string }) {
  const sign = characteristicOf(limit.figure)
  const kind = `${SORTS[limit.sort] ?? limit.sort}${limit.where.length ? `, ${whereWords(null, limit.where)}` : ''}`
  if (sign && limit.high && !limit.low)
    return (
      <span class="limit-shape">
        {words} <ToleranceFrame sign={sign} value={limit.high} unit={limit.unit} /> <span class="soft">{kind}</span>
      </span>
    )
  const range =
    limit.low && limit.high ? `${limit.low} to ${limit.high}` : limit.low ? `at least ${limit.low}` : `at most ${limit.high}`
  return (
    <span class="limit-shape">
      {words}{' '}
      <span class={`figure limit-range${limit.low ? ' has-low' : ''}${limit.high ? ' has-high' : ''}`}>
        {range} {limit.unit}
      </span>{' '}
      <span class="soft">{kind}</span>
    </span>
  )
}

/** A long set is said by its ends. */
function valuesWords(code: string, values: string[]): string {
  if (code === 'material') return values.map((one) => MATERIALS[one]?.words ?? one).join(', ')
  return values.length > 6 ? `${values[0]} … ${values.at(-1)}` : values.join('  ')
}

function Sizes({ sheet }: { sheet: Sheet }) {
  const sizes = Object.entries(sheet.sizes)
  const sources = [...new Set(sizes.map(([, { source }]) => source))]
  return (
    <>
      {sources.map((source) => (
        <div key={source}>
          <dt>sizes</dt>
          <dd>
            {sizes
              .filter(([, size]) => size.source === source)
              .map(([code, size]) => (
                <span key={code} class="limit-shape">
                  {code.replaceAll('_', ' ')}{' '}
                  <span class={code === 'material' ? '' : 'figure'}>
                    {valuesWords(code, size.values)} {size.unit}
                  </span>
                  {size.values.length > 6 && <span class="soft">{size.values.length} of them</span>}
                </span>
              ))}
            <span class="limit-source">{source}</span>
          </dd>
        </div>
      ))}
    </>
  )
}

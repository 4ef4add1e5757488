import { characteristicOf, ToleranceFrame } from '../../../parts/figures/ToleranceFrame.tsx'
import type { Sheet } from '../../../trade/sheets/types.ts'
import { MATERIALS } from '../../../trade/measuring/limits.ts'
import { dateWords } from '../../registers/measuring/dates.ts'
import { whereWords } from '../../registers/measuring/where.ts'
import { say } from '../../frame/say.ts'

type Limit = Sheet['limits_now'][number]

const SORTS: Record<string, string> = {
  new: say('figures.limit_new'),
  service: say('figures.limit_service'),
  machining: say('figures.limit_machining'),
}

/** What the figures are judged by: limits with their source, sizes, gauges, the measuring rule in words. */
export function HeadLimits({ sheet }: { sheet: Sheet }) {
  return (
    <div class="sheet-head along ends">
      <dl class="sheet-head-lines rest">
        <Limits sheet={sheet} />
        <Sizes sheet={sheet} />
        <Gauges sheet={sheet} />
        <div class="head-rule">
          <dt>{say('figures.head_rule')}</dt>
          <dd>{sheet.rule_words}</dd>
        </div>
      </dl>
    </div>
  )
}

function Limits({ sheet }: { sheet: Sheet }) {
  const words = new Map(sheet.places.flatMap(({ figures }) => figures.map((figure) => [figure.code, figure.words] as const)))
  const sources = [...new Set(sheet.limits_now.map(({ source }) => source))]
  if (!sources.length)
    return (
      <div>
        <dt>{say('figures.head_limits')}</dt>
        <dd>{sheet.procedure ? say('figures.no_limits') : say('figures.single_readings')}</dd>
      </div>
    )
  return (
    <>
      {sources.map((source) => (
        <div key={source}>
          <dt>{say('figures.head_limits')}</dt>
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
    </>
  )
}

/** The gauges that were used, and readings taken after one was due for calibration. */
function Gauges({ sheet }: { sheet: Sheet }) {
  return (
    <>
      <div>
        <dt>{say('figures.head_gauges')}</dt>
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
              {gauge.due && <>, {say('figures.due', { date: dateWords(gauge.due) })}</>}
            </span>
          ))}
          {!sheet.gauges.length && say('figures.no_gauge')}
        </dd>
      </div>
      {sheet.overdue.map(({ gauge, due, count }) => (
        <div key={gauge} class="is-overdue">
          <dt>{say('figures.head_overdue')}</dt>
          <dd>{say('figures.overdue', { gauge, date: dateWords(due), count })}</dd>
        </div>
      ))}
    </>
  )
}

function LimitShape({ limit, words }: { limit: Limit; words: string }) {
  const sign = characteristicOf(limit.figure)
  const kind = `${SORTS[limit.sort] ?? limit.sort}${limit.where.length ? `, ${whereWords(null, limit.where)}` : ''}`
  if (sign && limit.high && !limit.low)
    return (
      <span class="limit-shape wrapped">
        {words} <ToleranceFrame sign={sign} value={limit.high} unit={limit.unit} /> <span class="soft">{kind}</span>
      </span>
    )
  return (
    <span class="limit-shape wrapped">
      {words}{' '}
      <span class={`figure limit-range${limit.low ? ' has-low' : ''}${limit.high ? ' has-high' : ''}`}>
        {rangeWords(limit)}
      </span>{' '}
      <span class="soft">{kind}</span>
    </span>
  )
}

function rangeWords({ low, high, unit }: Limit): string {
  if (low && high) return say('figures.from_to', { low, high, unit })
  return low ? say('figures.at_least', { low, unit }) : say('figures.at_most', { high: high ?? '', unit })
}

/** A long set of sizes is shown by its first and last. */
function valuesWords(code: string, values: string[]): string {
  if (code === 'material') return values.map((material) => MATERIALS[material]?.words ?? material).join(', ')
  return values.length > 6 ? `${values[0]} … ${values.at(-1)}` : values.join('  ')
}

/** Sizes that the figures are worked out with. */
function Sizes({ sheet }: { sheet: Sheet }) {
  const sizes = Object.entries(sheet.sizes)
  const sources = [...new Set(sizes.map(([, { source }]) => source))]
  return (
    <>
      {sources.map((source) => (
        <div key={source}>
          <dt>{say('figures.head_sizes')}</dt>
          <dd>
            {sizes
              .filter(([, size]) => size.source === source)
              .map(([code, size]) => (
                <span key={code} class="limit-shape wrapped">
                  {code.replaceAll('_', ' ')}{' '}
                  <span class={code === 'material' ? '' : 'figure'}>
                    {valuesWords(code, size.values)} {size.unit}
                  </span>
                  {size.values.length > 6 && <span class="soft">{say('figures.size_count', { count: size.values.length })}</span>}
                </span>
              ))}
            <span class="limit-source">{source}</span>
          </dd>
        </div>
      ))}
    </>
  )
}

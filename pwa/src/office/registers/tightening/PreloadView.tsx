import { type PreloadLine, type PreloadWords, STRESS_AREA } from '../../../trade/tightening/preload_estimate.ts'
import { say } from '../../frame/say.ts'
import './preload.css'

/** What the torque stages may come to in the bolt: an estimate with its assumptions and its spread, never a limit. */
export function PreloadView({ estimate }: { estimate: PreloadWords | null }) {
  return (
    <section class="above-6" aria-label={say('tightening.preload')}>
      <h2>{say('tightening.preload_title')}</h2>
      {!estimate && <p class="soft">{say('tightening.preload_appears')}</p>}
      {estimate?.unknown && <p>{estimate.unknown}</p>}
      {estimate && !estimate.unknown && <Estimate estimate={estimate} />}
    </section>
  )
}

type Stage = PreloadWords['stages'][number]

function Estimate({ estimate }: { estimate: PreloadWords }) {
  const shared = estimate.stages.find(({ short }) => short)
  return (
    <>
      {shared && <p class="soft">{formsWords(shared)}</p>}
      <dl class="preload-stages">
        {estimate.stages.map((stage) => (
          <div class="hair-under" key={stage.code}>
            <dt>
              {stage.words} <span class="figure">{stage.target}</span>
            </dt>
            <dd>
              {stage.short && <Line form={say('tightening.short_form')} line={stage.short} />}
              {stage.long && <Line form={say('tightening.long_form')} line={stage.long} />}
              {stage.advance && <span>{say('tightening.free_nut_advance', { advance: stage.advance })}</span>}
            </dd>
          </div>
        ))}
      </dl>
      <Loads estimate={estimate} />
      <details>
        <summary>{say('tightening.assumptions')}</summary>
        <ul class="visits">
          {estimate.assumptions.map((words) => (
            <li key={words}>{words}</li>
          ))}
        </ul>
      </details>
      <ul class="preload-cautions above-4">
        {estimate.cautions.map((words) => (
          <li key={words} class="caution noted">
            {words}
          </li>
        ))}
      </ul>
    </>
  )
}

function formsWords({ short, long }: Stage): string {
  return long
    ? say('tightening.short_and_long_form', { short: short!.by, long: long.by })
    : say('tightening.short_form_only', { short: short!.by })
}

function Loads({ estimate: { thread, loads, sizes } }: { estimate: PreloadWords }) {
  return (
    <p class="above-4">
      {thread}:{' '}
      {[...loads, ...sizes.filter(({ words }) => words === STRESS_AREA)].map(({ words, value }, i) => (
        <span key={words}>
          {i > 0 && '; '}
          {words} <span class="figure">{value}</span>
        </span>
      ))}
    </p>
  )
}

function Line({ form, line }: { form: string; line: PreloadLine }) {
  return (
    <span class="preload-line own-line">
      <b class="figure">{line.usual}</b>, <span class="figure">{say('tightening.preload_spread', { low: line.low, high: line.high })}</span>{' '}
      <span class="soft">{form}</span>
      {line.share && <span class="own-line small">{line.share}</span>}
    </span>
  )
}

import { Sheet } from '../../parts/controls/Sheet.tsx'
import { ofSheet, type PreloadLine } from '../../trade/tightening/preload_estimate.ts'
import type { TighteningSheet } from '../../trade/tightening/sheets.ts'
import { say } from '../frame/say.ts'

/** What the torques of a sheet may come to in the bolt: an estimate with its assumptions, and nothing is judged by it. */
export function RunEstimate({ sheet, onClose }: { sheet: TighteningSheet; onClose: () => void }) {
  const estimate = ofSheet(sheet)
  return (
    <Sheet title={say('estimate.title')} onClose={onClose}>
      <div class="stack">
        {estimate.unknown && <p>{estimate.unknown}</p>}
        {estimate.cautions.map((words) => (
          <p key={words} class="warned small">
            {words}
          </p>
        ))}
        {estimate.stages.map((stage) => (
          <section key={stage.code}>
            <h3>
              {stage.words}, {stage.target}
            </h3>
            {stage.short && <Line line={stage.short} />}
            {stage.long && <Line line={stage.long} />}
            {stage.advance && <p class="small">{say('estimate.advance', { distance: stage.advance })}</p>}
          </section>
        ))}
        {estimate.assumptions.length > 0 && <h3>{say('estimate.assumed', { thread: estimate.thread })}</h3>}
        <ul class="settle small">
          {estimate.assumptions.map((words) => (
            <li key={words}>{words}</li>
          ))}
        </ul>
        <dl class="facts line-over">
          {[...estimate.loads, ...estimate.sizes].map(({ words, value }) => (
            <div key={words}>
              <dt>{words}</dt>
              <dd class="figure">{value}</dd>
            </div>
          ))}
        </dl>
      </div>
    </Sheet>
  )
}

function Line({ line }: { line: PreloadLine }) {
  return (
    <p>
      {say('estimate.about')} <strong class="figure">{line.usual}</strong>, {say('estimate.between', { low: line.low, high: line.high })}{' '}
      <span class="small soft">{[say('estimate.with', { method: line.by }), line.share].filter(Boolean).join('; ')}</span>
    </p>
  )
}

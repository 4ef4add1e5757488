import { Sheet } from '../../parts/controls/Sheet.tsx'
import { ofSheet, type PreloadLine } from '../../trade/tightening/preload_estimate.ts'
import type { TighteningSheet } from '../../trade/tightening/sheets.ts'

/** What the torques of a sheet may come to in the bolt: an estimate with its assumptions, and nothing is judged by it. */
export function RunEstimate({ sheet, onClose }: { sheet: TighteningSheet; onClose: () => void }) {
  const said = ofSheet(sheet)
  return (
    <Sheet title="Preload, an estimate" onClose={onClose}>
      <div class="this-sheet">
        {said.unknown && <p>{said.unknown}</p>}
        {said.cautions.map((words) => (
          <p key={words} class="run-caution small">
            {words}
          </p>
        ))}
        {said.stages.map((stage) => (
          <section key={stage.code}>
            <h3>
              {stage.words}, {stage.target}
            </h3>
            {stage.short && <Line line={stage.short} />}
            {stage.long && <Line line={stage.long} />}
            {stage.advance && <p class="small">A nut that spins freely would go on {stage.advance}; the bolt stretches by less.</p>}
          </section>
        ))}
        {said.assumptions.length > 0 && <h3>Assumed for {said.thread}</h3>}
        <ul class="settle small">
          {said.assumptions.map((words) => (
            <li key={words}>{words}</li>
          ))}
        </ul>
        <dl class="facts">
          {[...said.loads, ...said.sizes].map((one) => (
            <div key={one.words}>
              <dt>{one.words}</dt>
              <dd class="figure">{one.value}</dd>
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
      about <strong class="figure">{line.usual}</strong>, between <span class="figure">{line.low}</span> and <span class="figure">{line.high}</span>
      <span class="small soft">
        {' '}
        with {line.by}
        {line.share && `; ${line.share}`}
      </span>
    </p>
  )
}

import { Sheet } from '../../parts/controls/Sheet.tsx'
import { ordinal } from '../../parts/joint/joint_layout.ts'
import { SORTS } from '../../trade/tightening/departures.ts'
import { rowWords } from './RunFastener.tsx'
import { targetWords, nameOf } from './runWords.ts'
import type { Run } from './useRuns.ts'

/** The run as carried out so far: every fastener with its place in the order, its value, its time and whose hand it was. */
export function RunSoFar({ run, onClose }: { run: Run; onClose: () => void }) {
  const { stages, pace, withdrawn, departures, witnessed, begun, closed, strays } = run.state
  const taken = withdrawn.filter((one) => one.kind === 'fastener_tightened')
  return (
    <Sheet title="So far" onClose={onClose}>
      <div class="so-far">
        {begun && (
          <p class="small soft">
            Begun by {nameOf(begun.by)} at {begun.at.slice(11, 16)}
            {closed ? `, closed by ${nameOf(closed.by)} at ${closed.at.slice(11, 16)}` : ''}
            {witnessed ? `, witnessed by ${nameOf(witnessed.by)} at ${witnessed.at.slice(11, 16)}` : ''}.
          </p>
        )}
        {stages.map((stage, index) => (
          <section key={stage.code}>
            <h3>
              Stage {index + 1}: {stage.words}, {targetWords(stage)}
            </h3>
            {stage.restarted > 0 && <p class="small">Begun again {stage.restarted === 1 ? 'once' : `${stage.restarted} times`}; what was done before stays in the record.</p>}
            <ol class="run-rows">
              {stage.done.map((row) => (
                <li key={row.entry}>
                  <strong>{row.label}</strong> {ordinal(row.position)}
                  {row.position !== row.asked && ` (${ordinal(row.asked)} asked)`}
                  <span class="small soft"> {rowWords(row)}</span>
                </li>
              ))}
            </ol>
            {stage.done.length === 0 && <p class="small soft">Nothing yet.</p>}
            {stage.skipped.length > 0 && <p class="small">Left out: {stage.skipped.join(', ')}.</p>}
            {pace.filter((one) => one.stage === stage.code).map((one) => (
              <p key={one.words} class="small soft">
                {one.words}
              </p>
            ))}
          </section>
        ))}
        {strays.length > 0 && <p class="small">Recorded outside the sheet: {strays.map((row) => row.label).join(', ')}.</p>}
        {taken.length > 0 && <p class="small">Taken back: {taken.map((one) => `number ${one.label}`).join(', ')}.</p>}
        {departures.length > 0 && (
          <p class="small">
            Departures: {[...new Set(departures.map((one) => SORTS[one.sort]))].join(', ')}.
          </p>
        )}
      </div>
    </Sheet>
  )
}

import { Sheet } from '../../parts/controls/Sheet.tsx'
import { ordinal } from '../../parts/joint/joint_layout.ts'
import { SORTS } from '../../trade/tightening/departures.ts'
import { rowWords } from './RunFastener.tsx'
import { targetWords, nameOf } from './runWords.ts'
import type { Run } from './useRuns.ts'
import { say } from '../frame/say.ts'

/** The run as carried out so far: every fastener with its place in the order, its value, its time and who did it. */
export function RunSoFar({ run, onClose }: { run: Run; onClose: () => void }) {
  const { stages, pace, withdrawn, departures, witnessed, begun, closed, strays } = run.state
  const taken = withdrawn.filter(({ kind }) => kind === 'fastener_tightened')
  const by = (act: { by: string; at: string }) => ({ name: nameOf(act.by), time: act.at.slice(11, 16) })
  return (
    <Sheet title={say('progress.title')} onClose={onClose}>
      <div class="stack">
        {begun && (
          <p class="small soft">
            {say('progress.begun', { ...by(begun) })} {closed && say('progress.closed', { ...by(closed) })} {witnessed && say('progress.witnessed', { ...by(witnessed) })}
          </p>
        )}
        {stages.map((stage, index) => (
          <section key={stage.code}>
            <h3>
              {say('progress.stage', { number: index + 1, stage: stage.words, target: targetWords(stage) })}
            </h3>
            {stage.restarted > 0 && <p class="small">{say('progress.restarted', { count: stage.restarted })}</p>}
            <ol class="run-rows ruled">
              {stage.done.map((row) => (
                <li key={row.entry}>
                  <strong>{row.label}</strong> {ordinal(row.position)}
                  {row.position !== row.asked && ` ${say('progress.should_be', { position: ordinal(row.asked) })}`}
                  <span class="small soft"> {rowWords(row)}</span>
                </li>
              ))}
            </ol>
            {stage.done.length === 0 && <p class="small soft">{say('progress.nothing')}</p>}
            {stage.skipped.length > 0 && <p class="small">{say('progress.skipped', { numbers: stage.skipped.join(', ') })}</p>}
            {pace.filter((remark) => remark.stage === stage.code).map(({ words }) => (
              <p key={words} class="small soft">
                {words}
              </p>
            ))}
          </section>
        ))}
        {strays.length > 0 && <p class="small">{say('progress.outside', { numbers: strays.map((row) => row.label).join(', ') })}</p>}
        {taken.length > 0 && <p class="small">{say('progress.withdrawn', { numbers: taken.map(({ label }) => label).join(', ') })}</p>}
        {departures.length > 0 && (
          <p class="small">
            {say('progress.deviations', { what: [...new Set(departures.map(({ sort }) => SORTS[sort]))].join(', ') })}
          </p>
        )}
      </div>
    </Sheet>
  )
}

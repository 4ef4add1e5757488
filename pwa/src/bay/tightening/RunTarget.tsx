import type { StageState } from '../../trade/tightening/run.ts'
import { targetWords, toleranceWords } from './runWords.ts'
import { say } from '../frame/say.ts'

/** The target, large enough to be read from the bench; what a stage waits for before its first fastener. */
export function RunTarget({ stage, next, set, waits, onType }: { stage: StageState; next: string; set: string; waits: string; onType: () => void }) {
  const { method, target, unit } = stage
  if (waits) {
    return (
      <p class="run-waits column larger washed" role="alert">
        <strong class="body-size">{say('run.before_stage', { stage: stage.words })}</strong>
        <span>{waits}</span>
      </p>
    )
  }
  return (
    <div class="run-target along keeps">
      <p class="run-asked along rest">
        {target === '' ? (
          <strong class="run-figure is-words">{say('run.release')}</strong>
        ) : (
          <strong class={`run-figure figure${unit === '°' ? ' is-angle' : ''}`}>{unit === '°' ? `${target}°` : target}</strong>
        )}
        {method === 'angle' && <Turn degrees={Number(target)} />}
        <span class="run-of">
          {target !== '' && unit !== '°' && `${unit} · `}
          <strong class="larger one-line">{say('run.number', { number: next })}</strong>
          {target !== '' && <span class="soft figure own-line">{toleranceWords(stage)}</span>}
          {set && (
            <span class="run-set own-line">
              {say('run.set_wrench')} <strong class="figure">{set}</strong>
            </span>
          )}
        </span>
      </p>
      <button type="button" class="run-type small keeps" aria-label={say('run.type_instead', { target: targetWords(stage) })} onClick={onType}>
        {say('run.type')}
      </button>
    </div>
  )
}

/** The angle as it is turned, clockwise from the mark. */
function Turn({ degrees }: { degrees: number }) {
  const shown = Math.min(Math.max(degrees, 1), 340)
  const at = (r: number) => {
    const a = ((shown - 90) * Math.PI) / 180
    return `${(32 + r * Math.cos(a)).toFixed(1)} ${(32 + r * Math.sin(a)).toFixed(1)}`
  }
  return (
    <svg class="run-turn keeps drawn" width="54" height="54" viewBox="0 0 64 64" aria-hidden="true" focusable="false">
      <circle class="axis" cx="32" cy="32" r="22" />
      <path class="is-from" d="M32 32V4" />
      <path class="is-to blue-line" d={`M32 32L${at(28)}`} />
      <path class="is-arc blue-line" d={`M32 10A22 22 0 ${shown > 180 ? 1 : 0} 1 ${at(22)}`} />
      <path class="blue-head" d="M0 0L-9 -4V4Z" transform={`translate(${at(22)}) rotate(${shown})`} />
    </svg>
  )
}

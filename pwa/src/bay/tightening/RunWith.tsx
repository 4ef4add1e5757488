import { claimed } from '../../capture/index.ts'
import type { Over } from './over.ts'
import { nameOf, progress } from './runWords.ts'
import { shortly, toolOf } from './tools.ts'
import type { RunInHand } from './useRun.ts'

/** The tool in hand with what speaks against it, and how far the run is and by whose hands. */
export function RunWith({ hand, onOver }: { hand: RunInHand; onOver: (over: Over) => void }) {
  const { stage, held, state } = hand
  const tool = toolOf(held)
  const wrong = tool && stage && hand.next ? shortly(tool, stage, hand.set, claimed()) : ''
  const { done, of } = progress(state!.stages)
  const hands = [...new Set(state!.stages.flatMap((one) => one.done.map((row) => row.by)))].map(nameOf)
  return (
    <div class="with-row run-with">
      <button type="button" class={wrong ? 'cell is-alert' : 'cell'} disabled={!hand.next} onClick={() => onOver('tool')}>
        <span class="cell-label">{wrong || 'tool'}</span> <span class="cell-value">{held.name || 'choose one'}</span>
      </button>
      <button type="button" class="cell" onClick={() => onOver('so far')}>
        <span class="cell-label">{hands.length ? `so far, by ${hands.join(', ')}` : 'so far'}</span>{' '}
        <span class="cell-value">
          {done} of {of}
        </span>
      </button>
    </div>
  )
}

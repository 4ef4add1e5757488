import { claimed } from '../../capture/index.ts'
import { listed } from '../../trade/ground/sentences.ts'
import type { Over } from './over.ts'
import { nameOf, progress } from './runWords.ts'
import { againstShortly, toolOf } from './tools.ts'
import type { RunInHand } from './useRun.ts'
import { say } from '../frame/say.ts'

/** The tool in hand with what is wrong with it, and how far the run is and who did it. */
export function RunWith({ hand, onOver }: { hand: RunInHand; onOver: (over: Over) => void }) {
  const { stage, held, state } = hand
  const tool = toolOf(held)
  const wrong = tool && stage && hand.next ? againstShortly(tool, stage, hand.set, claimed()) : ''
  const { done, of } = progress(state!.stages)
  const hands = [...new Set(state!.stages.flatMap((stage) => stage.done.map((row) => row.by)))].map(nameOf)
  return (
    <div class="with-row run-with">
      <button type="button" class={wrong ? 'cell is-alert' : 'cell'} disabled={!hand.next} onClick={() => onOver('tool')}>
        <span class="cell-label">{wrong || say('run.tool')}</span> <span class="cell-value">{held.name || say('common.choose')}</span>
      </button>
      <button type="button" class="cell" onClick={() => onOver('progress')}>
        <span class="cell-label">{hands.length ? say('run.progress_by', { names: listed(hands) }) : say('run.progress')}</span>{' '}
        <span class="cell-value">{say('run.done_of', { done, all: of })}</span>
      </button>
    </div>
  )
}
